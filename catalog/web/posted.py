"""What a search form posts: the line, what was done with its cues, what was answered, what is shown of it all.

The page's whole state is what its form fields hold, so it works without a script as well.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from werkzeug.datastructures import MultiDict

from catalog.errors import BadInput
from catalog.resolve.answering.asked import NO_ANSWERS, Answers
from schemas.question_answers import MOST_EXCLUDED

# What one key opens: all possible vehicles, why these, every fact of a brief.
VIEWS = ("all", "why", "facts")
BETWEEN = "="  # a question and its answer, in one field


@dataclass(frozen=True, slots=True)
class Posted:
    """text: the line, without breaks. cues: changes of what was understood, as `amend` writes them. views: of VIEWS.

    scene: field -> yes, no or unknown, where somebody put the words right. told: lines the caller was told.
    letter: of the vehicle in its call.
    """

    text: str
    cues: tuple[str, ...]
    answers: Answers
    views: frozenset[str]
    scene: Mapping[str, str] = field(default_factory=dict)
    told: frozenset[str] = frozenset()
    letter: str = "A"


NOTHING = Posted("", (), NO_ANSWERS, frozenset())


def posted(form: MultiDict[str, str]) -> Posted:
    """Read a form. Raises BadInput for more vehicles ruled out than a call can name."""
    text = said(form)
    kept = any(word.strip() for word in (text, *form.getlist("answer"), form.get("named", "")))
    return Posted(
        text,
        tuple(form.getlist("cue")) if kept else (),
        _answers(form),
        frozenset(view for view in VIEWS if view in form and form.get("less") != view),
        scene_posted(form),
        frozenset(form.getlist("told")),
        _letter(form.get("letter", "")),
    )


def scene_posted(form: MultiDict[str, str]) -> Mapping[str, str]:
    """What was answered of the scene, the last answer to a field counting. The service checks it."""
    pairs = (text.partition(BETWEEN) for text in form.getlist("scene") if text)
    return {key: answer for key, _, answer in pairs}


def _letter(text: str) -> str:
    """A to Z; A where it is none of them."""
    return text if len(text) == 1 and "A" <= text <= "Z" else "A"


def said(form: MultiDict[str, str]) -> str:
    """The line, in one line."""
    return " ".join(form.get("said", "").splitlines())


def _answers(form: MultiDict[str, str]) -> Answers:
    pairs = (text.partition(BETWEEN) for text in form.getlist("answer") if text)
    given = {id_: answer for id_, _, answer in pairs}
    named = form.get("named", "").strip()
    if named:
        given[form.get("asked", "")] = named
    excluded = tuple(dict.fromkeys(code for code in form.getlist("not") if code))
    if len(excluded) > MOST_EXCLUDED:
        raise BadInput(f"{len(excluded)} vehicles are ruled out; at most {MOST_EXCLUDED} can be.", cure="Start again.")
    return Answers(given, excluded, form.get("caller") or None)
