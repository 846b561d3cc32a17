"""Exit codes, and how errors read: what is wrong, what to do, never a traceback."""

import errno
import socket
from pathlib import Path

import click
import pytest

from catalog import errors
from catalog.cli import exits
from catalog.cli.main import chockbook, run
from catalog.cli.server import address_of, is_loopback, listen


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (errors.BadInput("x"), 2),
        (errors.NotFound("x"), 3),
        (errors.Unavailable("x"), 4),
        (errors.Conflict("x"), 5),
        (errors.IntegrityError("x"), 1),
    ],
)
def test_each_error_has_its_exit_code(error: errors.ChockbookError, status: int) -> None:
    assert exits.status_of(error) == status


def test_every_error_class_is_in_the_table() -> None:
    kinds = {kind for kind, _ in exits._TABLE}
    assert set(errors.ChockbookError.__subclasses__()) <= kinds


def test_every_exit_code_is_in_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--help"]) == 0
    text = capsys.readouterr().out
    for code, meaning in exits.MEANINGS:
        assert f"{code:2}  {meaning}" in text


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """A command that raises whatever `fail` holds."""

    @click.command()
    def fail() -> None:
        raise broken_with[0]

    monkeypatch.setitem(chockbook.commands, "fail", fail)
    return monkeypatch


broken_with: list[BaseException] = []


@pytest.mark.usefixtures("broken")
@pytest.mark.parametrize(
    ("error", "status", "said"),
    [
        (
            errors.NotFound("There is no edition 9.", cure="The newest is 3."),
            3,
            "There is no edition 9.\nThe newest is 3.",
        ),
        (PermissionError(errno.EACCES, "Permission denied", "/data"), 4, "Permission denied: /data"),
        (ZeroDivisionError("division by zero"), 70, "Chockbook itself failed: ZeroDivisionError: division by zero"),
        (KeyboardInterrupt(), 130, ""),
    ],
)
def test_an_error_says_what_is_wrong_and_what_to_do(
    error: BaseException, status: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    broken_with[:] = [error]
    assert run(["fail"]) == status
    out, err = capsys.readouterr()
    assert said in err
    assert "Traceback" not in out + err
    assert out == ""


@pytest.mark.parametrize("arguments", [["nonsense"], ["resolve"], ["record", "x", "--edition", "0"], ["export"]])
def test_a_command_that_cannot_be_understood_exits_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments) == 2
    assert "Usage:" in capsys.readouterr().err


def test_a_bad_setting_names_its_variable(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setenv("CHOCKBOOK_DRIVING_SIDE", "middle")
    assert run(["edition", "list"]) == 2
    assert "CHOCKBOOK_DRIVING_SIDE is 'middle'" in capsys.readouterr().err


def test_an_empty_data_folder_says_how_to_fill_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(tmp_path / "none"))
    assert run(["edition", "list"]) == 4
    assert "chockbook demo --no-serve" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.4", "10.0.0.1", "example.org", ""])
def test_addresses_that_others_reach_are_known(host: str) -> None:
    assert not is_loopback(host)


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.8.8", "::1", "localhost"])
def test_addresses_of_this_machine_are_known(host: str) -> None:
    assert is_loopback(host)


def test_a_port_in_use_is_a_conflict_and_a_free_one_is_named() -> None:
    with listen("127.0.0.1", 0) as taken:
        port = taken.getsockname()[1]
        assert address_of(taken) == f"http://127.0.0.1:{port}"
        with pytest.raises(errors.Conflict, match=f"port {port} cannot be listened on"):
            listen("127.0.0.1", port)
    with socket.socket() as after:
        after.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        after.bind(("127.0.0.1", port))
