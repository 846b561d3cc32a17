"""Slowing down who guesses passwords, without locking anybody out for good.

Failed tries are counted over a quarter of an hour: of one account from one address, of one address over all accounts,
of one account from all addresses. From a limit on, each is answered by a wait that doubles up to a quarter of an hour;
tries during a wait are refused unread and do not lengthen it. The third count does not hold at an address from which
the account was signed in to this month, so a stranger cannot keep somebody out of it. Names and addresses are kept as
hashes under the host's own key: what is typed as a name may be a password. Names without an account count the same.
"""

import hashlib
import hmac
import ipaddress
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from catalog.errors import TooOften
from catalog.services.clock import DAY, SECOND
from catalog.services.keys import key_of
from catalog.store import people

WINDOW = 15 * 60 * SECOND
SHORTEST, LONGEST = 15 * SECOND, 15 * 60 * SECOND
PAIR, ADDRESS, ACCOUNT = 5, 30, 20  # failures before the first wait
REMEMBERED = 30 * DAY


@dataclass(frozen=True, slots=True)
class Trier:
    """Who tries, as hashes."""

    account: str
    address: str


def trier(data: Path, name: str, address: str) -> Trier:
    """address: as the connection has it; of an IPv6 one its network of 64 bits. Raises Unavailable."""
    key = key_of(data, "sign-in.key")
    return Trier(_hashed(key, f"account {name}"), _hashed(key, f"address {_network(address)}"))


def check(conn: Connection, who: Trier, now: int) -> None:
    """Raises TooOften, with how long to wait."""
    since = now - WINDOW
    counts = [
        (people.failures(conn, since, account_hash=who.account, address_hash=who.address), PAIR),
        (people.failures(conn, since, address_hash=who.address), ADDRESS),
    ]
    known = people.last_good(conn, who.account, who.address)
    if known is None or known < now - REMEMBERED:
        counts.append((people.failures(conn, since, account_hash=who.account), ACCOUNT))
    until = max(_until(times, limit) for times, limit in counts)
    if until > now:
        seconds = -(-(until - now) // SECOND)
        raise TooOften(
            "Too many tries to sign in have failed.", seconds=seconds, cure=f"Wait {_words(seconds)}, then try again."
        )


def count(conn: Connection, who: Trier, now: int, *, good: bool) -> None:
    """Keep a try, and forget old ones. After a good one, that account's failures from that address count no more."""
    people.forget_attempts(conn, now - REMEMBERED)
    if good:
        people.forget_failures(conn, who.account, who.address)
    people.note_attempt(conn, who.account, who.address, now, good=good)


def _until(times: list[int], limit: int) -> int:
    """times: of failures, the newest first."""
    if len(times) < limit:
        return 0
    doubled = min(len(times) - limit, 10)
    return times[0] + min(LONGEST, SHORTEST << doubled)


def _words(seconds: int) -> str:
    return f"{seconds} seconds" if seconds < 90 else f"{-(-seconds // 60)} minutes"


def _network(address: str) -> str:
    try:
        parsed = ipaddress.ip_address(address)
    except ValueError:
        return address
    if isinstance(parsed, ipaddress.IPv6Address) and parsed.ipv4_mapped is None:
        return str(ipaddress.ip_network((parsed, 64), strict=False))
    return str(parsed)


def _hashed(key: bytes, text: str) -> str:
    return hmac.new(key, text.encode("utf-8", "replace"), hashlib.sha256).hexdigest()
