"""What may be accepted, and by whom: asked when it is decided of and again when it is published."""

from collections.abc import Sequence

from catalog.errors import Conflict
from catalog.services.review_records import ReviewChange, ReviewRecord


def check_two_persons(who: str, approves: bool, changes: Sequence[ReviewChange]) -> str:
    """Why this person may not accept these changes; "" where they may."""
    critical = [change for change in changes if change.change.weighed.critical]
    if not critical:
        return ""
    if not approves:
        return f"{who} may not accept safety-critical changes."
    own = [change for change in critical if who in change.hands]
    if own:
        where = own[0].change.path
        return f"{who} brought in or edited {where}, which is safety-critical, and cannot also accept it."
    return ""


def check_current(record: ReviewRecord) -> None:
    """Raises Conflict where something else is listed by now than what its changes were made against."""
    if record.stale:
        raise Conflict(
            f"{record.code} has moved on since this change was made.",
            cure="Bring it up to what is listed now: both sides are shown, nothing is lost.",
        )
