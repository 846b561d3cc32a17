"""One family of errors that knows neither HTTP nor the terminal.

Each edge keeps one table from these classes to a status or an exit code
(catalog/api/problems.py, catalog/cli/exits.py). Every error says what is wrong
and, in `cure`, what to do about it.
"""


class ChockbookError(Exception):
    """Base of everything this product raises on purpose.

    message: what is wrong, naming the place. cure: what the reader can do next.
    """

    def __init__(self, message: str, *, cure: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.cure = cure

    def __str__(self) -> str:
        return f"{self.message} {self.cure}".strip()


class BadInput(ChockbookError):
    """The request or file cannot be understood as it stands."""


class NotSignedIn(ChockbookError):
    """Nobody is signed in, or the sign-in has ended; what was asked for needs a person."""


class Forbidden(ChockbookError):
    """Whoever asks may not do this."""


class NotFound(ChockbookError):
    """No such record, edition or page."""


class Conflict(ChockbookError):
    """The change was made against something that has moved on since."""


class Unavailable(ChockbookError):
    """Something this answer needs is not there now; trying later may help."""


class TooOften(ChockbookError):
    """Tried more often than may be just now. seconds: how long to wait."""

    def __init__(self, message: str, *, seconds: int, cure: str = "") -> None:
        super().__init__(message, cure=cure)
        self.seconds = seconds


class IntegrityError(ChockbookError):
    """Stored bytes do not match what was promised about them."""
