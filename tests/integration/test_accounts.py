"""Accounts, sign-ins, tokens and throttling as services, on both databases."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from catalog.config import Settings
from catalog.domain.roles import RIGHTS, Right, Role
from catalog.errors import BadInput, Conflict, Forbidden, NotFound, NotSignedIn, TooOften
from catalog.services import accounts, passwords, signing, throttling, tokens
from catalog.services.acting import Actor, actor_of
from catalog.services.clock import DAY, SECOND, now_us
from catalog.services.house import House, open_house
from catalog.services.signing import PAGE, TERMINAL, TOKEN, Tried, page_actor, secret_actor, sign_in
from catalog.services.trail import TrailAsked, read_trail
from catalog.store import people
from catalog.store.engine import read, write
from tests.people import PASSWORD, somebody

NEW = "another-kettle-of-plums"


@pytest.fixture
def house(database_url: str, tmp_path: Path) -> Iterator[House]:
    made = open_house(Settings(tmp_path / "data", database_url))
    yield made
    made.engine.dispose()


@pytest.fixture
def admin(house: House) -> Actor:
    return somebody(house, "a.dorn", Role.ADMINISTRATOR)


def tried(name: str, password: str = PASSWORD, address: str = "192.0.2.1", via: str = PAGE) -> Tried:
    return Tried(name, password, address, via)


def everything(house: House) -> str:
    """Every value of every row that is kept of people."""
    found = []
    with read(house.engine) as conn:
        for table in ("accounts", "tokens", "sign_in_attempts", "trail"):
            for row in conn.execute(text(f"SELECT * FROM {table}")):
                found += [value.decode() if isinstance(value, bytes) else str(value) for value in row]
    return "\n".join(found)


def test_the_first_account_is_an_administrators_and_only_once(house: House) -> None:
    with pytest.raises(NotSignedIn, match="first account is an administrator's"):
        accounts.add_first_administrator(house, accounts.NewAccount("tam", Role.STEWARD))
    assert not accounts.has_administrator(house)
    added = accounts.add_first_administrator(house, accounts.NewAccount("A.Dorn ", Role.ADMINISTRATOR))
    assert added.account.name == "a.dorn"
    assert added.password
    assert accounts.has_administrator(house)
    with pytest.raises(NotSignedIn, match="an administrator already"):
        accounts.add_first_administrator(house, accounts.NewAccount("b.dorn", Role.ADMINISTRATOR))


@pytest.mark.parametrize(
    "name", ["", "x", "-ab", "ab-", "a b", "a/b", "../etc", "a" * 41, "\u0430dmin", "a\u0301b", "ab\n", "a@b", "é1"]
)
def test_names_that_could_be_taken_for_others_are_refused(house: House, admin: Actor, name: str) -> None:
    if name == "ab\n":  # trimmed as typed at a terminal
        assert accounts.add_account(house, admin, accounts.NewAccount(name, Role.READER)).account.name == "ab"
        return
    with pytest.raises(BadInput, match="cannot be an account's name"):
        accounts.add_account(house, admin, accounts.NewAccount(name, Role.READER))


def test_a_name_is_never_given_twice(house: House, admin: Actor) -> None:
    accounts.add_account(house, admin, accounts.NewAccount("tam.orrell", Role.READER))
    accounts.disable(house, admin, "tam.orrell")
    with pytest.raises(Conflict):
        accounts.add_account(house, admin, accounts.NewAccount("TAM.orrell", Role.APPROVER))


@pytest.mark.parametrize("role", list(Role))
def test_only_administrators_look_after_accounts(house: House, admin: Actor, role: Role) -> None:
    by = admin if role is Role.ADMINISTRATOR else somebody(house, "some.body", role)
    accounts.add_account(house, admin, accounts.NewAccount("other", Role.READER))
    may = Right.ADMINISTER in RIGHTS[role]
    acts: tuple[Callable[[Actor | None], object], ...] = (
        lambda who: accounts.list_accounts(house, who),
        lambda who: accounts.add_account(house, who, accounts.NewAccount("new.one", Role.READER)),
        lambda who: accounts.set_role(house, who, "other", Role.STEWARD),
        lambda who: accounts.disable(house, who, "other"),
        lambda who: accounts.enable(house, who, "other"),
        lambda who: accounts.reset_password(house, who, "other"),
        lambda who: tokens.list_tokens(house, who, "other"),
    )
    for act in acts:
        with pytest.raises(NotSignedIn):
            act(None)
        if may:
            act(by)
        else:
            with pytest.raises(Forbidden):
                act(by)


@pytest.mark.parametrize("role", list(Role))
def test_the_trail_is_read_by_administrators_and_approvers(house: House, role: Role) -> None:
    by = somebody(house, "some.body", role)
    if role in (Role.ADMINISTRATOR, Role.APPROVER):
        assert read_trail(house, by, TrailAsked()).total == 0
    else:
        with pytest.raises(Forbidden):
            read_trail(house, by, TrailAsked())


def test_nobody_takes_their_own_rights_away(house: House, admin: Actor) -> None:
    with pytest.raises(Forbidden, match="own account"):
        accounts.disable(house, admin, admin.name)
    with pytest.raises(Forbidden, match="own account"):
        accounts.set_role(house, admin, admin.name, Role.APPROVER)


def test_a_one_time_password_opens_nothing_but_a_new_one(house: House, admin: Actor) -> None:
    made = accounts.add_account(house, admin, accounts.NewAccount("tam.orrell", Role.STEWARD))
    assert "-" in made.password
    signed = sign_in(house, tried("tam.orrell", made.password))
    assert signed.must_choose
    actor = page_actor(house, signed.id)
    assert actor is not None
    assert actor.rights == frozenset()
    for weak in ("short", "aaaaaaaaaaaaaaaa", "tam.orrell12", made.password):
        with pytest.raises(BadInput):
            accounts.change_password(house, tried("tam.orrell", made.password), weak)
    accounts.change_password(house, tried("tam.orrell", made.password), NEW)
    assert page_actor(house, signed.id) is None  # a sign-in ends with its password
    assert not sign_in(house, tried("tam.orrell", NEW)).must_choose
    with pytest.raises(NotSignedIn):
        sign_in(house, tried("tam.orrell", made.password))


def test_a_one_time_password_ends_after_a_week(house: House, admin: Actor, monkeypatch: pytest.MonkeyPatch) -> None:
    made = accounts.add_account(house, admin, accounts.NewAccount("tam.orrell", Role.STEWARD))
    later = now_us() + signing.ONE_TIME_DAYS * DAY + SECOND
    monkeypatch.setattr(signing, "now_us", lambda: later)
    with pytest.raises(NotSignedIn, match="has ended"):
        sign_in(house, tried("tam.orrell", made.password))
    with pytest.raises(NotSignedIn, match="do not go together"):  # not told to who does not know it
        sign_in(house, tried("tam.orrell", "wrong"))


@pytest.mark.parametrize("via", [PAGE, TERMINAL])
def test_a_sign_in_ends_when_it_should(house: House, admin: Actor, via: str, monkeypatch: pytest.MonkeyPatch) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)

    def fresh() -> signing.SignIn:
        return sign_in(house, tried("tam.orrell", via=via))

    def holds(signed: signing.SignIn) -> bool:
        if via == PAGE:
            return page_actor(house, signed.id) is not None
        try:
            return secret_actor(house, signed.secret).name == "tam.orrell"
        except NotSignedIn:
            return False

    signed, other = fresh(), fresh()
    assert holds(signed)
    signing.sign_out(house, signed.id)
    assert not holds(signed)
    assert holds(other)
    accounts.sign_out_everywhere(house, actor_of("tam.orrell", Role.STEWARD, via))
    assert not holds(other)
    signed = fresh()
    accounts.disable(house, admin, "tam.orrell")
    assert not holds(signed)
    with pytest.raises(NotSignedIn):
        fresh()
    accounts.enable(house, admin, "tam.orrell")
    assert not holds(signed)
    signed = fresh()
    with monkeypatch.context() as patch:
        patch.setattr(signing, "now_us", lambda: now_us() + signing.LONGEST[via] - 2 * SECOND)
        assert holds(signed)
        patch.setattr(signing, "now_us", lambda: now_us() + signing.LONGEST[via] + SECOND)
        assert not holds(signed)
    accounts.reset_password(house, admin, "tam.orrell")
    assert not holds(signed)


def test_a_role_counts_at_once(house: House, admin: Actor) -> None:
    somebody(house, "tam.orrell", Role.APPROVER)
    signed = sign_in(house, tried("tam.orrell"))
    accounts.set_role(house, admin, "tam.orrell", Role.READER)
    actor = page_actor(house, signed.id)
    assert actor is not None
    assert actor.rights == RIGHTS[Role.READER]


def test_a_page_sign_in_is_no_token_and_a_token_is_no_page(house: House) -> None:
    by = somebody(house, "tam.orrell", Role.STEWARD)
    page, terminal = (sign_in(house, tried("tam.orrell", via=via)) for via in (PAGE, TERMINAL))
    with pytest.raises(NotSignedIn, match="not known"):
        secret_actor(house, page.secret)
    assert page_actor(house, terminal.id) is None
    view, secret = tokens.make_token(house, by, tokens.TokenAsked("feed", {Right.READ}, 3))
    assert page_actor(house, view.id) is None
    with pytest.raises(NotSignedIn, match="not known"):
        secret_actor(house, secret, (TERMINAL,))
    for wrong in ("", secret[:-1], f"{secret}x", view.id, "chockbook_"):
        with pytest.raises(NotSignedIn):
            secret_actor(house, wrong)


def test_a_token_does_what_it_is_for_and_no_more(house: House, admin: Actor, monkeypatch: pytest.MonkeyPatch) -> None:
    by = somebody(house, "tam.orrell", Role.STEWARD)
    view, secret = tokens.make_token(house, by, tokens.TokenAsked("feed", {Right.READ, Right.UPDATE}, 3))
    assert secret_actor(house, secret).rights == {Right.READ, Right.UPDATE}
    assert secret_actor(house, secret).via == TOKEN
    accounts.set_role(house, admin, "tam.orrell", Role.READER)  # a token never does more than its account may now
    assert secret_actor(house, secret).rights == {Right.READ}
    accounts.change_password(house, tried("tam.orrell"), NEW)  # a program goes on
    assert secret_actor(house, secret)
    with monkeypatch.context() as patch:
        patch.setattr(signing, "now_us", lambda: now_us() + 3 * DAY + SECOND)
        with pytest.raises(NotSignedIn, match="has ended"):
            secret_actor(house, secret)
    tokens.revoke_token(house, admin, view.id)
    with pytest.raises(NotSignedIn, match="has ended"):
        secret_actor(house, secret)


def test_tokens_are_made_in_person_within_ones_rights(house: House) -> None:
    by = somebody(house, "tam.orrell", Role.STEWARD)
    asked = tokens.TokenAsked
    for wrong, error in (
        (asked("feed", {Right.APPROVE}, 3), Forbidden),
        (asked("feed", {Right.READ, Right.ADMINISTER}, 3), Forbidden),
        (asked("feed", (), 3), BadInput),
        (asked(" ", {Right.READ}, 3), BadInput),
        (asked("a\x07b", {Right.READ}, 3), BadInput),
        (asked("feed", {Right.READ}, 0), BadInput),
        (asked("feed", {Right.READ}, 367), BadInput),
    ):
        with pytest.raises(error):
            tokens.make_token(house, by, wrong)
    program = actor_of("tam.orrell", Role.STEWARD, TOKEN)
    for act in (
        lambda: tokens.make_token(house, program, asked("feed", {Right.READ}, 3)),
        lambda: tokens.list_tokens(house, program),
        lambda: tokens.revoke_token(house, program, "x"),
        lambda: accounts.sign_out_everywhere(house, program),
    ):
        with pytest.raises(Forbidden):
            act()


def test_tokens_of_others_are_not_there_for_whoever_asks(house: House) -> None:
    by, other = somebody(house, "tam.orrell", Role.STEWARD), somebody(house, "ned.brill", Role.APPROVER)
    view, _ = tokens.make_token(house, by, tokens.TokenAsked("feed", {Right.READ}, 3))
    assert [token.id for token in tokens.list_tokens(house, by)] == [view.id]
    with pytest.raises(Forbidden):
        tokens.list_tokens(house, other, "tam.orrell")
    with pytest.raises(NotFound) as theirs:
        tokens.revoke_token(house, other, view.id)
    with pytest.raises(NotFound) as nobodys:
        tokens.revoke_token(house, other, "0" * 16)
    assert theirs.value.message.replace(view.id, "") == nobodys.value.message.replace("0" * 16, "")


def test_no_secret_is_kept_and_no_name_that_was_mistyped(house: House, admin: Actor) -> None:
    made = accounts.add_account(house, admin, accounts.NewAccount("tam.orrell", Role.STEWARD))
    signed = sign_in(house, tried("tam.orrell", made.password, via=TERMINAL))
    _, secret = tokens.make_token(house, admin, tokens.TokenAsked("feed", {Right.READ}, 3))
    with pytest.raises(NotSignedIn):
        sign_in(house, tried("my-own-password-as-a-name", "x", address="203.0.113.77"))
    kept = everything(house)
    for word in (made.password, signed.secret, secret, "my-own-password", "203.0.113", "192.0.2.1"):
        assert word not in kept
    assert "$argon2id$" in kept


def test_a_wrong_password_and_a_wrong_name_read_alike_and_cost_one_hash_each(
    house: House, admin: Actor, monkeypatch: pytest.MonkeyPatch
) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    somebody(house, "gone.away", Role.STEWARD)
    accounts.disable(house, admin, "gone.away")
    costs: list[str] = []
    said: set[str] = set()
    plain = passwords.fits

    def counted(encoded: str, password: str) -> bool:
        costs.append(encoded[:30])
        return plain(encoded, password)

    monkeypatch.setattr(passwords, "fits", counted)
    for name in ("tam.orrell", "no.body", "gone.away"):
        with pytest.raises(NotSignedIn) as refused:
            sign_in(house, tried(name, "wrong"))
        said.add(str(refused.value))
    assert len(said) == 1
    assert len(costs) == 3
    assert len(set(costs)) == 1  # the same kind of hash with the same parameters


def failing(house: House, name: str, address: str, times: int) -> None:
    for _ in range(times):
        with pytest.raises(NotSignedIn):
            sign_in(house, tried(name, "wrong", address=address))


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hashing is another test's matter."""
    monkeypatch.setattr(passwords, "fits", lambda encoded, said: said == PASSWORD)


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("name", ["tam.orrell", "no.body"])
def test_guessing_from_one_address_is_slowed_down_and_ends(
    house: House, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    failing(house, name, "192.0.2.1", throttling.PAIR)
    with pytest.raises(TooOften) as first:
        sign_in(house, tried(name))  # even with the right password
    assert 0 < first.value.seconds <= 15
    with pytest.raises(TooOften):
        sign_in(house, tried(name))
    if name == "tam.orrell":
        assert sign_in(house, tried(name, address="192.0.2.2"))  # not from elsewhere
    # The wait ends, and tries during it did not make it longer.
    monkeypatch.setattr(signing, "now_us", lambda: now_us() + 16 * SECOND)
    failing(house, name, "192.0.2.1", 1)
    with pytest.raises(TooOften) as second:
        sign_in(house, tried(name))
    assert 15 < second.value.seconds <= 46
    monkeypatch.setattr(signing, "now_us", lambda: now_us() + throttling.WINDOW + 60 * SECOND)
    if name == "tam.orrell":
        assert sign_in(house, tried(name))


@pytest.mark.usefixtures("quick")
def test_one_address_cannot_try_all_accounts(house: House) -> None:
    for number in range(throttling.ADDRESS):
        failing(house, f"name.{number}", "2001:db8:1:2::1", 1)
    with pytest.raises(TooOften):  # another address of the same network is the same guesser
        sign_in(house, tried("name.x", "wrong", address="2001:db8:1:2:ffff::9"))
    failing(house, "name.x", "2001:db8:1:3::1", 1)


@pytest.mark.usefixtures("quick")
def test_many_addresses_cannot_guess_one_account_nor_keep_its_owner_out(house: House) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    assert sign_in(house, tried("tam.orrell", address="192.0.2.9"))
    for number in range(throttling.ACCOUNT):
        failing(house, "tam.orrell", f"198.51.100.{number}", 1)
    with pytest.raises(TooOften):
        sign_in(house, tried("tam.orrell", "wrong", address="203.0.113.1"))
    assert sign_in(house, tried("tam.orrell", address="192.0.2.9"))


@pytest.mark.usefixtures("quick")
def test_a_good_sign_in_wipes_earlier_slips(house: House) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    for _ in range(3):
        failing(house, "tam.orrell", "192.0.2.1", throttling.PAIR - 1)
        assert sign_in(house, tried("tam.orrell"))


@pytest.mark.usefixtures("quick")
def test_guessing_the_present_password_is_slowed_down_too(house: House) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    for _ in range(throttling.PAIR):
        with pytest.raises(NotSignedIn):
            accounts.change_password(house, tried("tam.orrell", "wrong"), NEW)
    with pytest.raises(TooOften):
        accounts.change_password(house, tried("tam.orrell"), NEW)


def test_a_hash_of_other_parameters_is_renewed_at_sign_in(house: House) -> None:
    from argon2 import PasswordHasher

    somebody(house, "tam.orrell", Role.STEWARD)
    with write(house.engine) as conn:
        people.change_account(conn, "tam.orrell", password=PasswordHasher(1, 8 * 1024, 1).hash(PASSWORD))
    sign_in(house, tried("tam.orrell"))
    with read(house.engine) as conn:
        account = people.account(conn, "tam.orrell")
    assert account is not None
    assert not passwords.outdated(account.password)
    assert sign_in(house, tried("tam.orrell"))


def test_an_account_is_never_removed_even_by_hand(house: House, admin: Actor) -> None:
    for statement in (
        "DELETE FROM accounts",
        "INSERT OR REPLACE INTO accounts SELECT * FROM accounts"
        if house.engine.dialect.name == "sqlite"
        else "TRUNCATE accounts CASCADE",
    ):
        with pytest.raises(Exception, match="never removed"), write(house.engine) as conn:
            conn.exec_driver_sql(statement)
    assert accounts.list_accounts(house, admin)
