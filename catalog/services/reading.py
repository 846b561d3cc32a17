"""A text to what was understood of it, before anything is weighed. Nothing of the text is stored or logged."""

from dataclasses import dataclass

from catalog.compiled import Compiled
from catalog.errors import BadInput
from catalog.resolve.amending import UNAMENDED, Amendments
from catalog.resolve.answering import understood
from catalog.resolve.answering.asked import NO_ANSWERS, Answers
from catalog.resolve.reading.unread import countable
from catalog.services import asking
from catalog.services.compiling import edition_view
from catalog.services.house import House, field_of
from catalog.services.views import ReadView

LONGEST = 2000


@dataclass(frozen=True, eq=False)
class Understood(understood.Understood):
    """A text as understood against one edition."""

    compiled: Compiled


def read_description(
    house: House, text: str, driving_side: str | None = None, amendments: Amendments = UNAMENDED
) -> ReadView:
    """What was understood of a text. driving_side: None for the site's. Raises BadInput, Unavailable."""
    found = understand(house, text, driving_side, amendments)
    return ReadView(
        edition=edition_view(found.compiled),
        text=found.text,
        cues=found.cues,
        struck=found.struck,
        unread=found.reading.unread,
        masked=found.reading.masked,
        scene=found.reading.scene,
        driving_side=found.driving_side,
        warnings=found.warnings,
    )


def understand(
    house: House,
    text: str,
    driving_side: str | None = None,
    amendments: Amendments = UNAMENDED,
    answers: Answers = NO_ANSWERS,
) -> Understood:
    """Read a text against the current edition, with what somebody said of the reading and what was answered.

    Raises BadInput, Unavailable.
    """
    asking.check(answers)
    side = _checked(text, driving_side or house.settings.driving_side)
    compiled = house.shelf.current()
    made = understood.understood(understood.Told(text, side, amendments, answers), field_of(house, compiled))
    return Understood(made.field, made.text, made.amended, made.evidence, made.driving_side, compiled)


def settle(house: House, text: str, line: str = "") -> None:
    """Count the unread words of a finished description. line: see `Tally.note`. Raises BadInput, Unavailable."""
    found = understand(house, text)
    house.tally.note(text, countable(text, found.reading), line)


def _checked(text: str, side: str) -> str:
    if len(text) > LONGEST:
        raise BadInput(
            f"The description has {len(text)} characters; at most {LONGEST} are read.",
            cure="Send what tells the vehicle apart: shape, charge port, badge.",
        )
    if side not in ("left", "right"):
        raise BadInput(f"driving_side is {side!r}.", cure="Use left or right: the side traffic keeps to.")
    return side
