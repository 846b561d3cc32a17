"""What was answered so far, as amendments of a reading.

Nothing is kept between requests: whoever asks sends every answer again, "can't tell" included, so
that it is not asked twice.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from catalog.domain import codes
from catalog.resolve.amending import Amendments
from catalog.resolve.cue import Cue, Reading
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.questions.answers import CANNOT_TELL, answer_cues, answered, not_this
from catalog.resolve.questions.table import expert_questions
from catalog.resolve.reading.reader import read


@dataclass(frozen=True, slots=True)
class Answers:
    """given: question id -> option id, "cannot_tell", or a name in the caller's words. excluded: codes of "not
    this vehicle", in any spelling. caller: where who answers is, one of CALLERS; None: as the text says."""

    given: Mapping[str, str] = field(default_factory=dict)
    excluded: tuple[str, ...] = ()
    caller: str | None = None


NO_ANSWERS = Answers()


def amendments_by(answers: Answers, reading: Reading, lexicon: Lexicon, driving_side: str) -> Amendments:
    """What the answers, once checked, make of a reading."""
    known = expert_questions()
    named = {id_: answer for id_, answer in answers.given.items() if not known.by_id[id_].options}
    chosen = {id_: answer for id_, answer in answers.given.items() if id_ not in named}
    names = [cue for name in named.values() if name != CANNOT_TELL for cue in _name_cues(name, lexicon, driving_side)]
    return answered(reading.cues, (*answer_cues(chosen, known), *names))


def _name_cues(name: str, lexicon: Lexicon, driving_side: str) -> list[Cue]:
    """The names in an answer; none in "no idea"."""
    found = read(f"badge reads {name}", lexicon, driving_side)
    return [replace(cue, spans=()) for cue in found.cues if cue.attribute == "name"]


def exclusions(answers: Answers) -> tuple[Cue, ...]:
    """The cues of "not this vehicle"."""
    return tuple(not_this(code) for code in sorted({codes.parse(code) or code for code in answers.excluded}))
