"""What a search form posts: the line, what was done with its cues, what was answered, what is shown of it all.

The page's whole state is what its form fields hold, so it works without a script as well.
"""

from dataclasses import dataclass

from werkzeug.datastructures import MultiDict

from catalog.errors import BadInput
from catalog.services.asking import NO_ANSWERS, Answers
from schemas.question_answers import MOST_EXCLUDED

# What one key opens: all possible vehicles, why these, every fact of a brief.
VIEWS = ("all", "why", "facts")
BETWEEN = "="  # a question and its answer, in one field


@dataclass(frozen=True, slots=True)
class Posted:
    """text: the line, without breaks. cues: changes of what was understood, as `amend` writes them. views: of VIEWS."""

    text: str
    cues: tuple[str, ...]
    answers: Answers
    views: frozenset[str]


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
    )


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
