"""Accounts, tokens and the trail on paper."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from catalog.cli.paper import Paper, joined, minute
from catalog.domain.numbers import counted
from catalog.domain.trail import TrailEntry
from catalog.services.accounts import AccountView
from catalog.services.clock import moment_of
from catalog.services.tokens import TokenView
from catalog.services.trail import TrailPart, value_words
from catalog.store.rows import StoreFault


def account_lines(accounts: Sequence[AccountView], paper: Paper) -> Iterator[str]:
    """One account an entry."""
    yield counted(len(accounts), "account")
    for one in accounts:
        disabled = f"may not sign in since {_day(one.disabled)}" if one.disabled else ""
        waiting = "no password chosen yet" if one.one_time and not one.disabled else ""
        shown = one.shown if one.shown != one.name else ""
        yield from paper.entry(one.name, joined((str(one.role), shown, disabled, waiting)))


def token_lines(tokens: Sequence[TokenView], paper: Paper) -> Iterator[str]:
    """Those that hold, one an entry, then how many have ended."""
    holding = [token for token in tokens if token.holds]
    for one in holding:
        what = f"for {one.label}: {', '.join(one.rights)}" if one.label else f"signed in ({one.via})"
        yield from paper.entry(one.id, f"{what}; until {minute(one.expires)}")
    yield f"{counted(len(holding), 'token or sign-in holds', 'tokens and sign-ins hold')}."


def trail_lines(part: TrailPart, paper: Paper) -> Iterator[str]:
    """The newest first, then the hash to keep elsewhere."""
    for entry in part.entries:
        yield from paper.entry(f"{entry.seq}  {minute(moment_of(entry.time))}", _said(entry), column=31)
    yield ""
    yield from paper.wrap(f"{len(part.entries)} of {counted(part.total, 'entry', 'entries')}.")
    if part.head:
        yield from paper.wrap(f"Newest hash: {part.head}")


def trail_fault_lines(faults: Iterable[StoreFault], paper: Paper) -> Iterator[str]:
    """What does not hold, or that all does."""
    found = list(faults)
    for fault in found:
        yield from paper.wrap(f"{fault.kind} {fault.key}: {fault.problem}", hang=2)
    yield from paper.wrap(counted(len(found), "fault") if found else "The trail holds.")


def _said(entry: TrailEntry) -> str:
    detail = "; ".join(f"{key} {value_words(value)}" for key, value in sorted(entry.detail.items()))
    who = f"{entry.actor or 'nobody signed in'} ({entry.via})"
    return joined((f"{entry.action} {entry.subject}", detail, who))


def _day(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d}"
