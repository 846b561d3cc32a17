"""What the reading tests share: a small edition's names and a short way to write cues."""

from catalog.domain.folding import fold_name
from catalog.resolve.cue import ASKED, Cue, Reading
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.reading.reader import read

NAMES = (
    ("Velorn", "make"),
    ("Kestrin", "make"),
    ("Tavrin", "model"),
    ("Tavrin X", "variant"),
    ("Brock Moor", "model"),
    ("Quill 4", "model"),
    ("Drift", "model"),
)
LEXICON = Lexicon(Name(fold_name(shown), shown, kind) for shown, kind in NAMES)


def reading(text: str, driving_side: str = "left") -> Reading:
    return read(text, LEXICON, driving_side)


def said(text: str, driving_side: str = "left") -> set[str]:
    """Cues as "attribute=a,b", "attribute!=a" for denied ones; "?", "??" for doubts; "B:" for another vehicle's."""
    return {short(cue) for cue in reading(text, driving_side).cues}


def short(cue: Cue) -> str:
    mark = {"firm": "", "hedged": "?", "guess": "??"}[cue.doubt.value]
    other = "" if cue.vehicle == ASKED else "B:"
    return f"{other}{cue.attribute}{'!=' if cue.denied else '='}{','.join(cue.values)}{mark}"


def unread(text: str) -> list[str]:
    return [text[span.start : span.end] for span in reading(text).unread]
