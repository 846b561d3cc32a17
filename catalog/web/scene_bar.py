"""The scene on a page: a cell for each field that matters most or is known, each with the list of its answers.

A cell holds "" while the words decide, or "fire=yes", "fire=no", "fire=unknown" once somebody put it right.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.services.scenes import FIELD_WORDS
from catalog.web import wording
from catalog.web.amend import Choice
from catalog.web.posted import BETWEEN

_ANSWERS = ("yes", "no", "unknown")


@dataclass(frozen=True, slots=True)
class Cell:
    """One field. said: yes or no as the steps take it; perhaps or unknown where they take it as not known.

    put_right: somebody answered it over the words.
    """

    key: str
    label: str
    said: str
    put_right: bool
    choices: tuple[Choice, ...]

    @property
    def answer(self) -> str:
        return wording.SCENE_ANSWER[self.said]


@dataclass(frozen=True, slots=True)
class SceneBar:
    """cells: in order. others: fields that have no cell yet, (value to post, words)."""

    cells: tuple[Cell, ...]
    others: tuple[tuple[str, str], ...]


def scene_bar(known: Mapping[str, str], answers: Mapping[str, str], said: Mapping[str, str]) -> SceneBar:
    """known: field -> yes or no, as the steps take it. answers: what was put right. said: by the words alone."""
    first = [key for key, _ in wording.SCENE_CELLS]
    shown = [
        *first,
        *(key for key in FIELD_WORDS if key not in first and (key in known or key in answers or key in said)),
    ]
    cells = tuple(_cell(key, known.get(key), answers.get(key), said.get(key, "unknown")) for key in shown)
    others = tuple(
        (f"{key}{BETWEEN}yes", words["yes"])
        for key, words in FIELD_WORDS.items()
        if key not in shown and key not in wording.SCENE_NOT_OFFERED
    )
    return SceneBar(cells, others)


def _cell(key: str, now: str | None, answer: str | None, said: str) -> Cell:
    as_said = Choice("", f"{wording.SCENE_ANSWER[said]}{wording.SCENE_AS_SAID}", chosen=answer is None)
    choices = tuple(
        Choice(f"{key}{BETWEEN}{value}", wording.SCENE_ANSWER[value], chosen=answer == value) for value in _ANSWERS
    )
    label = dict(wording.SCENE_CELLS).get(key) or FIELD_WORDS[key]["yes"]
    shown = now or answer or (said if said == "perhaps" else "unknown")
    return Cell(key, label, shown, answer is not None, (as_said, *choices))
