"""A text to what was understood of it, before anything is weighed. Nothing of the text is stored or logged."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.compiled import Compiled
from catalog.errors import BadInput
from catalog.resolve.amending import UNAMENDED, Amended, Amendments, Taken, amend, key_of, sent_out
from catalog.resolve.cue import Cue, Reading, Span
from catalog.resolve.evidence import Evidence, gather
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label
from catalog.resolve.lexicon import LEVELS, Lexicon
from catalog.resolve.names import lexicon_of
from catalog.resolve.reading.canonical import canonical
from catalog.resolve.reading.reader import read
from catalog.resolve.reading.unread import countable
from catalog.services import asking, wording
from catalog.services.asking import NO_ANSWERS, Answers
from catalog.services.compiling import edition_view
from catalog.services.house import House, field_of
from catalog.services.views import CueView, ReadView

LONGEST = 2000
# What stands for each masked character in what is sent back, so that spans hold.
BLANK = "█"
MOST_NEAR = 8


@dataclass(frozen=True, eq=False)
class Understood:
    """A text as understood against one edition. text: with what is masked blanked. evidence: of the cues that rank."""

    compiled: Compiled
    field: Field
    text: str
    amended: Amended
    evidence: tuple[Evidence, ...]
    driving_side: str

    @property
    def reading(self) -> Reading:
        return self.amended.reading

    @property
    def cues(self) -> tuple[CueView, ...]:
        """Every cue that counts, as shown."""
        return tuple(self._view(taken) for taken in self.amended.taken)

    @property
    def struck(self) -> tuple[CueView, ...]:
        """What was read and is left out, as shown."""
        made = (self._view(Taken(cue)) for cue in self.amended.struck)
        return tuple(replace(view, ranks=False, note=wording.STRUCK) for view in made)

    @property
    def warnings(self) -> tuple[str, ...]:
        return wording.idle(self.amended.idle)

    def _view(self, taken: Taken) -> CueView:
        cue = taken.cue
        ranking = any(entry.cue.key == cue.key for entry in self.evidence)
        return CueView(
            sent_out(cue),
            cue_label(cue, self.field.tables),
            ranking,
            wording.cue_note(cue, ranking, self.reading),
            canonical(sent_out(cue)),
            taken.origin,
            None if taken.instead_of is None else key_of(taken.instead_of),
            self._near(taken.instead_of or cue),
        )

    def _near(self, cue: Cue) -> tuple[tuple[str, str], ...]:
        """Listed names like one that was heard, the nearest first."""
        if cue.attribute != "name":
            return ()
        lexicon = lexicon_of(self.field.tables)
        levels = lexicon.levels(cue.values[0])
        nearest = sorted(levels, key=lambda name: (LEVELS.index(levels[name]), name))[:MOST_NEAR]
        return tuple((name, lexicon.exact(name)[0].shown) for name in nearest)


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
    field = field_of(house, compiled)
    lexicon = lexicon_of(field.tables)
    reading = _with_blanks(text, read(text, lexicon, side))
    told = asking.amendments(answers, reading, lexicon, side)
    # What is put right outright comes after what was answered, and so counts where they are about the same.
    whole = Amendments((*told.struck, *amendments.struck), (*told.cues, *amendments.cues))
    amended = amend(reading, whole)
    cues = (*amended.reading.cues, *asking.exclusions(answers))
    evidence = gather(cues, field.tables, field.parameters)
    return Understood(compiled, field, blanked(text, reading.masked), amended, evidence, side)


def without_personal(text: str) -> str:
    """A text that could not be answered, as it may be sent back all the same."""
    return blanked(text, read(text, Lexicon(), "left").masked)


def settle(house: House, text: str, line: str = "") -> None:
    """Count the unread words of a finished description. line: see `Tally.note`. Raises BadInput, Unavailable."""
    found = understand(house, text)
    house.tally.note(text, countable(text, found.reading), line)


def blanked(text: str, masked: Sequence[Span]) -> str:
    """The text with each masked character blanked; as long as before."""
    chars = list(text)
    for span in masked:
        chars[span.start : span.end] = BLANK * (span.end - span.start)
    return "".join(chars)


def _with_blanks(text: str, reading: Reading) -> Reading:
    """What was blanked once and is sent again stays masked, and is no unread word."""
    if BLANK not in text:
        return reading
    blanks = [at for at, char in enumerate(text) if char == BLANK]
    runs: list[Span] = []
    for at in blanks:
        if runs and runs[-1].end == at:
            runs[-1] = Span(runs[-1].start, at + 1)
        else:
            runs.append(Span(at, at + 1))
    unread = tuple(span for span in reading.unread if BLANK not in text[span.start : span.end])
    masked = sorted({*reading.masked, *runs}, key=lambda span: (span.start, span.end))
    return replace(reading, unread=unread, masked=tuple(masked))


def _checked(text: str, side: str) -> str:
    if len(text) > LONGEST:
        raise BadInput(
            f"The description has {len(text)} characters; at most {LONGEST} are read.",
            cure="Send what tells the vehicle apart: shape, charge port, badge.",
        )
    if side not in ("left", "right"):
        raise BadInput(f"driving_side is {side!r}.", cure="Use left or right: the side traffic keeps to.")
    return side
