"""Accounts, sign-ins, tokens and the trail at the terminal."""

import io
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import click
import pytest

from catalog.cli.acting import acting
from catalog.cli.commands.serve import _check_others
from catalog.cli.main import chockbook as group
from catalog.cli.main import run
from catalog.cli.terminal import Terminal
from catalog.domain.roles import Role
from catalog.errors import BadInput, NotSignedIn
from catalog.services.demo_people import make_people, renew_people
from catalog.services.house import House
from catalog.store.migrate import upgrade
from seed_demo.people import PEOPLE
from tests.people import PASSWORD, somebody

NEW = "another-kettle-of-plums"


@dataclass(frozen=True, slots=True)
class Ended:
    status: int
    out: str
    err: str


Run = Callable[..., Ended]


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture
def house(data: Path) -> House:
    terminal = Terminal()
    upgrade(terminal.house.engine)
    return terminal.house


@pytest.fixture
def type_(data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*arguments: str, stdin: str = "") -> Ended:
        monkeypatch.setattr("sys.stdin", io.StringIO(stdin))
        status = run(arguments)
        return Ended(status, *capsys.readouterr())

    return typed


def test_from_nothing_to_a_steward_who_acts(type_: Run, data: Path) -> None:
    first = type_("account", "add", "A.Dorn", "--role", "administrator")
    assert first.status == 0
    password = first.out.splitlines()[-1]
    assert password not in first.err
    assert "shown this once" in first.err
    assert type_("account", "add", "b.dorn", "--role", "administrator").status == 6  # only the first needs no name
    assert type_("account", "add", "tam.orrell", "--role", "steward", "--as", "a.dorn").status == 6
    assert type_("sign-in", "a.dorn", "--password-stdin", stdin=f"{password}\n{NEW}\n").status == 0
    kept = data / "signed-in" / "a.dorn.token"
    assert kept.stat().st_mode & 0o777 == 0o600
    assert kept.parent.stat().st_mode & 0o777 == 0o700
    added = type_("account", "add", "tam.orrell", "--role", "steward", "--as", "a.dorn")
    assert added.status == 0
    assert type_("account", "role", "tam.orrell", "approver", "--as", "a.dorn").out == "tam.orrell is approver now.\n"
    assert type_("account", "disable", "tam.orrell", "--as", "A.DORN").status == 0
    assert type_("account", "enable", "tam.orrell", "--as", "a.dorn").status == 0
    listed = json.loads(type_("account", "list", "--json", "--as", "a.dorn").out)
    assert [(one["name"], one["role"]) for one in listed["accounts"]] == [
        ("a.dorn", "administrator"), ("tam.orrell", "approver"),
    ]  # fmt: skip
    assert "tam.orrell" in type_("account", "list", "--as", "a.dorn").out
    again = type_("account", "password", "tam.orrell", "--as", "a.dorn")
    assert again.out.splitlines()[-1] not in (added.out.splitlines()[-1], "")
    trail = type_("trail", "--as", "a.dorn").out
    for word in ("account add a.dorn", "first yes", "account role tam.orrell", "sign in a.dorn", "a.dorn (terminal)"):
        assert word in trail
    assert type_("trail", "--verify").status == 0
    assert type_("sign-out", "a.dorn").status == 0
    assert not kept.exists()
    assert type_("account", "list", "--as", "a.dorn").status == 6


def test_every_command_that_takes_a_name_refuses_without_proof(house: House, type_: Run) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    for words in (
        ("account", "list"), ("account", "add", "x.y", "--role", "reader"), ("account", "role", "a.dorn", "reader"),
        ("account", "disable", "a.dorn"), ("account", "enable", "a.dorn"), ("account", "password", "a.dorn"),
        ("token", "list"), ("token", "make", "--for", "x", "--right", "read"), ("token", "revoke", "x"), ("trail",),
        ("trail", "--json"),
    ):  # fmt: skip
        assert type_(*words).status == 6, words
        assert type_(*words, "--as", "a.dorn").status == 6, words
        assert type_(*words, "--as", "../../etc/passwd").status == 6, words


def test_a_kept_sign_in_of_another_is_no_proof(house: House, type_: Run, data: Path) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    somebody(house, "tam.orrell", Role.STEWARD)
    assert type_("sign-in", "tam.orrell", "--password-stdin", stdin=f"{PASSWORD}\n").status == 0
    kept = data / "signed-in"
    (kept / "tam.orrell.token").rename(kept / "a.dorn.token")
    ended = type_("account", "list", "--as", "a.dorn")
    assert ended.status == 6
    assert "not a.dorn's" in ended.err


def test_a_token_in_the_environment_acts_within_what_it_is_for(
    house: House, type_: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    type_("sign-in", "a.dorn", "--password-stdin", stdin=f"{PASSWORD}\n")
    made = type_("token", "make", "--for", "nightly", "--right", "read", "--days", "2", "--as", "a.dorn")
    secret = made.out.strip()
    assert secret not in made.err
    assert "for nightly: read" in type_("token", "list", "--as", "a.dorn").out
    monkeypatch.setenv("CHOCKBOOK_TOKEN", secret)
    assert type_("account", "list").status == 6  # it is for reading only
    assert type_("token", "make", "--for", "more", "--right", "read").status == 6
    assert acting(Terminal(), None).name == "a.dorn"
    id_ = made.err.split()[1].rstrip(",")
    assert type_("token", "revoke", id_, "--as", "a.dorn").status == 0
    with pytest.raises(NotSignedIn):
        acting(Terminal(), None)


def test_a_wrong_password_is_one_exit_status_and_guessing_another(house: House, type_: Run) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    statuses = [type_("sign-in", "a.dorn", "--password-stdin", stdin="wrong\n").status for _ in range(6)]
    assert statuses == [6, 6, 6, 6, 6, 4]
    assert type_("sign-in", "a.dorn", "--password-stdin").status == 2


def test_ones_own_password_is_changed_knowing_the_present_one(house: House, type_: Run) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    change = ("account", "password", "a.dorn", "--own", "--password-stdin")
    assert type_(*change, stdin=f"wrong\n{NEW}\n").status == 6
    assert type_(*change, stdin=f"{PASSWORD}\nshort\n").status == 2
    assert type_(*change, stdin=f"{PASSWORD}\n{NEW}\n").status == 0
    assert type_("sign-in", "a.dorn", "--password-stdin", stdin=f"{NEW}\n").status == 0


def test_no_command_takes_a_password_as_an_argument() -> None:
    def parameters(command: click.Command) -> list[click.Parameter]:
        inner = command.commands.values() if isinstance(command, click.Group) else ()
        return [*command.params, *(one for each in inner for one in parameters(each))]

    named = [one for one in parameters(group) if "password" in (one.name or "")]
    assert named
    assert all(isinstance(one, click.Option) and one.is_flag for one in named)


def test_the_trail_is_written_out_one_entry_a_line_and_checked(house: House, type_: Run) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    type_("sign-in", "a.dorn", "--password-stdin", stdin=f"{PASSWORD}\n")
    lines = type_("trail", "--json", "--as", "a.dorn").out.splitlines()
    entries = [json.loads(line) for line in lines]
    assert [entry["action"] for entry in entries] == ["sign in", "export"]
    assert type_("trail", "--verify", "--expect", entries[0]["hash"]).status == 0
    assert type_("trail", "--verify", "--expect", "ab" * 32).status == 1
    assert type_("trail", "--expect", "ab").status == 2
    assert type_("trail", "--day", "nonsense", "--as", "a.dorn").status == 2


def test_others_are_served_once_there_is_an_administrator(
    house: House, type_: Run, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    ended = type_("serve", "--host", "0.0.0.0")
    assert ended.status == 2
    assert "no administrator yet" in ended.err
    somebody(house, "tam.orrell", Role.APPROVER)
    with pytest.raises(BadInput):
        _check_others(Terminal(), "192.0.2.1")
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    _check_others(Terminal(), "192.0.2.1")
    assert "without HTTPS" in capsys.readouterr().err
    monkeypatch.setenv("CHOCKBOOK_HTTPS", "yes")
    _check_others(Terminal(), "192.0.2.1")
    assert capsys.readouterr().err == ""


def test_the_demos_people_are_made_once_with_passwords_for_one_use(house: House, type_: Run) -> None:
    first = make_people(house, PEOPLE)
    assert {one.role for one in first} == set(Role)
    assert len({one.password for one in first}) == len(Role)
    assert make_people(house, PEOPLE) == ()
    for one in first:
        ended = type_("sign-in", one.name, "--password-stdin", stdin=f"{one.password}\n{NEW}-{one.name}\n")
        assert ended.status == 0, one
    renewed = type_("demo", "--passwords")
    assert renewed.status == 0
    for one in first:
        assert one.name in renewed.out
        assert one.password not in renewed.out
        assert type_("sign-in", one.name, "--password-stdin", stdin=f"{NEW}-{one.name}\n").status == 6


def test_nobody_gets_passwords_for_the_asking_outside_the_demo(
    house: House, type_: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_people(house, PEOPLE)
    monkeypatch.setenv("CHOCKBOOK_DEMO", "no")
    ended = type_("demo", "--passwords")
    assert ended.status == 5
    assert ended.out == ""


def test_only_the_demos_own_accounts_are_renewed(house: House) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    assert make_people(house, PEOPLE) == ()
    assert renew_people(house, PEOPLE) == ()


def test_the_demo_prints_them_at_its_first_set_up_only(type_: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("catalog.services.seeding.prepare_demo", lambda house, demo, progress: upgrade(house.engine))
    first = type_("demo", "--no-serve")
    assert all(person.name in first.out for person in PEOPLE)
    assert "chockbook demo --passwords" in " ".join(first.out.split())
    second = type_("demo", "--no-serve")
    assert not any(person.name in second.out for person in PEOPLE)
