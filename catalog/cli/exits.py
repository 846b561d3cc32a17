"""Exit codes, and how an error reads on the terminal: what is wrong, then what to do."""

from catalog.errors import (
    BadInput,
    ChockbookError,
    Conflict,
    Forbidden,
    IntegrityError,
    NotFound,
    NotSignedIn,
    TooOften,
    Unavailable,
)

FINE = 0
WRONG = 1
NOT_UNDERSTOOD = 2
NOT_FOUND = 3
UNAVAILABLE = 4
CONFLICT = 5
NOT_ALLOWED = 6
OUR_FAULT = 70  # EX_SOFTWARE of sysexits.h
STOPPED = 130  # as shells report an interrupt

# The first class that fits decides.
_TABLE: tuple[tuple[type[ChockbookError], int], ...] = (
    (BadInput, NOT_UNDERSTOOD),
    (NotFound, NOT_FOUND),
    (Unavailable, UNAVAILABLE),
    (TooOften, UNAVAILABLE),
    (Conflict, CONFLICT),
    (NotSignedIn, NOT_ALLOWED),
    (Forbidden, NOT_ALLOWED),
    (IntegrityError, WRONG),
    (ChockbookError, WRONG),
)

MEANINGS = (
    (FINE, "fine"),
    (WRONG, "something is wrong with the data"),
    (NOT_UNDERSTOOD, "the command could not be understood"),
    (NOT_FOUND, "no such record or edition"),
    (UNAVAILABLE, "something it needs is not there now"),
    (CONFLICT, "it has moved on since, or is in use"),
    (NOT_ALLOWED, "whoever asks may not do this"),
    (OUR_FAULT, "Chockbook itself failed"),
)


def status_of(error: ChockbookError) -> int:
    """The exit code of an error."""
    return next(code for kind, code in _TABLE if isinstance(error, kind))


def error_lines(error: ChockbookError) -> tuple[str, ...]:
    """What is wrong, then what to do (when there is something to do)."""
    return tuple(filter(None, (error.message, error.cure)))
