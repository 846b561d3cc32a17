"""A text to what was understood of it, with what was put right and answered, before anything is weighed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.resolve.amending import Amended, Amendments, Taken, amend, key_of, sent_out
from catalog.resolve.answering import notes
from catalog.resolve.answering.asked import Answers, amendments_by, exclusions
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.cue import Cue, Reading, Span
from catalog.resolve.evidence import Evidence, gather
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label
from catalog.resolve.lexicon import LEVELS, Lexicon
from catalog.resolve.names import lexicon_of
from catalog.resolve.reading.canonical import canonical
from catalog.resolve.reading.reader import read

# What stands for each masked character in what is sent back, so that spans hold.
BLANK = "█"
MOST_NEAR = 8


@dataclass(frozen=True, slots=True)
class Told:
    """What was said. driving_side: left or right, the side traffic keeps to. amendments: of the reading; what is put
    right outright comes after what was answered, and so counts where they are about the same."""

    text: str
    driving_side: str
    amendments: Amendments
    answers: Answers


@dataclass(frozen=True, eq=False)
class Understood:
    """A text as understood against one field. text: with what is masked blanked. evidence: of the cues that rank."""

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
        return tuple(replace(view, ranks=False, note=notes.STRUCK) for view in made)

    @property
    def warnings(self) -> tuple[str, ...]:
        return notes.idle(self.amended.idle)

    def _view(self, taken: Taken) -> CueView:
        cue = taken.cue
        ranking = any(entry.cue.key == cue.key for entry in self.evidence)
        return CueView(
            sent_out(cue),
            cue_label(cue, self.field.tables),
            ranking,
            notes.cue_note(cue, ranking, self.reading),
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


def understood(told: Told, field: Field) -> Understood:
    """Read a text against a field; answers and sides were checked."""
    lexicon = lexicon_of(field.tables)
    reading = _with_blanks(told.text, read(told.text, lexicon, told.driving_side))
    answered = amendments_by(told.answers, reading, lexicon, told.driving_side)
    whole = Amendments((*answered.struck, *told.amendments.struck), (*answered.cues, *told.amendments.cues))
    amended = amend(reading, whole)
    cues = (*amended.reading.cues, *exclusions(told.answers))
    evidence = gather(cues, field.tables, field.parameters)
    return Understood(field, blanked(told.text, reading.masked), amended, evidence, told.driving_side)


def without_personal(text: str) -> str:
    """A text that could not be answered, as it may be sent back all the same."""
    return blanked(text, read(text, Lexicon(), "left").masked)


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
