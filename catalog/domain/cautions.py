"""The safety wording every record, brief, page, print and answer carries. One place; edges use it.

Nothing here or elsewhere says safe, dead, zero or off as a fact.
"""

from datetime import datetime

from catalog.domain.places import FRAME_NOTE

DEMO_MARK = "DEMO - INVENTED VEHICLES, NOT FOR OPERATIONS"
DEMO_SHORT = "DEMO"

SUPPORTS = "This supports and does not replace the maker's guide, local procedures and trained judgement."
CONFIRM = "Confirm the vehicle (badge, VIN) before acting."
NOT_STATED = "Not stated never means none."
LIKELY = "A likely match is not a certain one, and the vehicle may not be in this catalogue."

# With every record, brief and answer. FRAME_NOTE goes with every side word.
FULL: tuple[str, ...] = (SUPPORTS, CONFIRM, FRAME_NOTE, NOT_STATED)
# With every list of possible vehicles.
FULL_POSSIBLE: tuple[str, ...] = (LIKELY, *FULL)

CONFIRM_SHORT = "confirm badge"
FRAME_SHORT = "vehicle's left"
# On the radio and on the phone's first screen.
SHORT = f"{CONFIRM_SHORT}; {FRAME_SHORT}"


def edition_words(number: int, published_at: datetime) -> str:
    """ "edition 14, 2026-03-02" (UTC date), beside whatever was taken from it."""
    return f"edition {number}, {published_at.date().isoformat()}"


def edition_short(number: int) -> str:
    """ "data 14", as spoken."""
    return f"data {number}"


def full(number: int, published_at: datetime, *, demo: bool) -> tuple[str, ...]:
    """The whole wording of one answer, in reading order."""
    mark = (DEMO_MARK,) if demo else ()
    return (*mark, f"From {edition_words(number, published_at)}.", *FULL)


def short(number: int, *, demo: bool) -> str:
    """ "DEMO; data 14; confirm badge; vehicle's left"."""
    return "; ".join([*([DEMO_SHORT] if demo else []), edition_short(number), SHORT])
