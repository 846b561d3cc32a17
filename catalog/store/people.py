"""Accounts, the tokens that act for them, and tries to sign in."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, delete, func, insert, select, update

from catalog.store.tables_people import accounts, sign_in_attempts, tokens


@dataclass(frozen=True, slots=True)
class StoredAccount:
    """A row of `accounts`."""

    name: str
    shown: str
    role: str
    password: str
    one_time: bool
    password_us: int
    epoch: int
    created_us: int
    disabled_us: int | None = None


@dataclass(frozen=True, slots=True)
class StoredToken:
    """A row of `tokens`. rights: parted by spaces."""

    id: str
    account: str
    via: str
    digest: str
    label: str
    rights: str
    epoch: int
    created_us: int
    expires_us: int
    revoked_us: int | None = None


def account(conn: Connection, name: str) -> StoredAccount | None:
    row = conn.execute(select(accounts).where(accounts.c.name == name)).first()
    return None if row is None else StoredAccount(**row._mapping)


def account_to_change(conn: Connection, name: str) -> StoredAccount | None:
    """The same, inside `engine.write`: nobody else changes it before this transaction ends."""
    row = conn.execute(select(accounts).where(accounts.c.name == name).with_for_update()).first()
    return None if row is None else StoredAccount(**row._mapping)


def all_accounts(conn: Connection) -> list[StoredAccount]:
    """By name."""
    return [StoredAccount(**row._mapping) for row in conn.execute(select(accounts).order_by(accounts.c.name))]


def enabled(conn: Connection, role: str) -> int:
    """How many accounts of a role may sign in."""
    found = select(func.count()).select_from(accounts)
    return int(conn.execute(found.where(accounts.c.role == role, accounts.c.disabled_us.is_(None))).scalar_one())


def add_account(conn: Connection, new: StoredAccount) -> None:
    conn.execute(insert(accounts), asdict(new))


def change_account(conn: Connection, name: str, **values: Any) -> None:
    """Set columns of an account."""
    conn.execute(update(accounts).where(accounts.c.name == name).values(**values))


def add_token(conn: Connection, new: StoredToken) -> None:
    conn.execute(insert(tokens), asdict(new))


def token_by_digest(conn: Connection, digest: str) -> tuple[StoredToken, StoredAccount] | None:
    """The token of a secret, with its account."""
    return _with_account(conn, tokens.c.digest == digest)


def token_by_id(conn: Connection, id_: str) -> tuple[StoredToken, StoredAccount] | None:
    return _with_account(conn, tokens.c.id == id_)


def tokens_of(conn: Connection, name: str) -> Iterator[StoredToken]:
    """An account's, the newest first."""
    found = select(tokens).where(tokens.c.account == name).order_by(tokens.c.created_us.desc(), tokens.c.id)
    for row in conn.execute(found):
        yield StoredToken(**row._mapping)


def revoke(conn: Connection, now_us: int, *, id_: str = "", name: str = "") -> int:
    """End what still holds: one by its id, or all of an account. How many."""
    wanted = tokens.c.id == id_ if id_ else tokens.c.account == name
    holding = update(tokens).where(wanted, tokens.c.revoked_us.is_(None), tokens.c.expires_us > now_us)
    return conn.execute(holding.values(revoked_us=now_us)).rowcount


def forget_tokens(conn: Connection, before_us: int) -> None:
    """Remove those that ended before then."""
    conn.execute(delete(tokens).where(tokens.c.expires_us < before_us))


def note_attempt(conn: Connection, account_hash: str, address_hash: str, now_us: int, *, good: bool) -> None:
    row = {"account": account_hash, "address": address_hash, "time_us": now_us, "good": good}
    conn.execute(insert(sign_in_attempts), row)


def forget_attempts(conn: Connection, before_us: int) -> None:
    conn.execute(delete(sign_in_attempts).where(sign_in_attempts.c.time_us < before_us))


def forget_failures(conn: Connection, account_hash: str, address_hash: str) -> None:
    """Those of an account from an address."""
    conn.execute(delete(sign_in_attempts).where(~sign_in_attempts.c.good, *_whose(account_hash, address_hash)))


def failures(conn: Connection, since_us: int, *, account_hash: str = "", address_hash: str = "") -> list[int]:
    """Times of failed tries since then, the newest first, of an account, of an address or of one from the other."""
    where = [~sign_in_attempts.c.good, sign_in_attempts.c.time_us >= since_us, *_whose(account_hash, address_hash)]
    found = select(sign_in_attempts.c.time_us).where(*where).order_by(sign_in_attempts.c.time_us.desc())
    return list(conn.execute(found).scalars())


def last_good(conn: Connection, account_hash: str, address_hash: str) -> int | None:
    """When the account was last signed in to from the address."""
    where = [sign_in_attempts.c.good, *_whose(account_hash, address_hash)]
    found: int | None = conn.execute(select(func.max(sign_in_attempts.c.time_us)).where(*where)).scalar()
    return found


def _whose(account_hash: str, address_hash: str) -> list[ColumnElement[bool]]:
    made: list[ColumnElement[bool]] = []
    if account_hash:
        made.append(sign_in_attempts.c.account == account_hash)
    if address_hash:
        made.append(sign_in_attempts.c.address == address_hash)
    return made


def _with_account(conn: Connection, wanted: ColumnElement[bool]) -> tuple[StoredToken, StoredAccount] | None:
    row = conn.execute(select(tokens).where(wanted)).first()
    if row is None:
        return None
    token = StoredToken(**row._mapping)
    owner = account(conn, token.account)
    return None if owner is None else (token, owner)
