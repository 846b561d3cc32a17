"""What a described vehicle turned out to be, as the pages ask for it and as it comes back.

One form for all: its cues are those of the answer, and each button says outcome, proof and code. The id is that of
the form and the button together, so a button pressed twice is one outcome, and two buttons are two.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain.numbers import whole_number
from catalog.domain.roles import RIGHTS, Right
from catalog.errors import BadInput
from catalog.resolve.answering.scale import FIRST
from catalog.resolve.cue import Cue
from catalog.services.amending import cue_of
from catalog.services.outcomes import CONFIRMED, NOT_LISTED, NOT_THIS, Outcome, fresh_id, may_be_kept, outcome_of
from catalog.services.views import Answer
from catalog.services.watch_list import RANKS, WatchAsked
from catalog.web.acting import seen
from schemas.outcomes import load_outcome
from schemas.review_requests import load_watch

_MOST = 10


@dataclass(frozen=True, slots=True)
class Found:
    """A vehicle it may have been. value of a button: "confirmed:badge:CODE"."""

    code: str
    title: str
    subtitle: str

    @property
    def badge(self) -> str:
        return f"{CONFIRMED}:badge:{self.code}"

    @property
    def vin(self) -> str:
        return f"{CONFIRMED}:vin:{self.code}"

    @property
    def not_this(self) -> str:
        return f"{NOT_THIS}:badge:{self.code}"


@dataclass(frozen=True, slots=True)
class OutcomeForm:
    """cues: JSON; said: the same in words. not_listed: value of its button.

    watch: whoever is signed in may put it on the watch list.
    """

    id: str
    edition: int
    cues: str
    vehicles: tuple[Found, ...]
    said: tuple[str, ...] = ()
    watch: bool = False
    not_listed: str = f"{NOT_LISTED}:badge:"
    ranks: range = RANKS


def outcome_form(answer: Answer | None, *, show_all: bool) -> OutcomeForm | None:
    """The form of an answer, for the vehicles that the page shows; none where nothing said can rank."""
    if answer is None or not answer.candidates:
        return None
    kept = [view for view in answer.cues if may_be_kept(view.cue)]
    if not kept:
        return None
    told = json.dumps([_told(view.cue) for view in kept], ensure_ascii=False, separators=(",", ":"))
    vehicles = tuple(Found(c.code, c.title, c.subtitle) for c in answer.candidates[: _MOST if show_all else FIRST])
    said = tuple(view.wording or view.label for view in kept)
    return OutcomeForm(fresh_id(), answer.edition.number, told, vehicles, said, may_watch())


def _told(cue: Cue) -> dict[str, object]:
    attribute, values, denied, vehicle = cue.key
    told = {"attribute": attribute, "values": list(values), "denied": denied, "vehicle": vehicle}
    return {**told, "doubt": str(cue.doubt)}


def posted_outcome(form: Mapping[str, str]) -> Outcome:
    """The outcome a form was posted with. Raises BadInput."""
    pressed = form.get("outcome", "")
    parts = pressed.split(":")
    if len(parts) != 3:
        raise BadInput("It is not said what the vehicle was.", cure="Press one of the buttons beside it.")
    outcome, proof, code = parts
    id_ = hashlib.sha256(f"{form.get('id', '')} {pressed}".encode()).hexdigest()[:32] if form.get("id") else ""
    given = {"id": id_, "outcome": outcome, "proof": proof, "code": code}
    given |= {"edition": _loaded(form.get("edition", "")), "cues": _loaded(form.get("cues", ""))}
    return outcome_of(load_outcome(given))


def posted_watch(form: Mapping[str, str]) -> WatchAsked:
    """What a steward wants to be found: a text, or the cues of an answer. Raises BadInput."""
    rank = whole_number(form.get("rank", ""))
    if rank is None:
        raise BadInput("It is not said among how many first it must be found.", cure="Use the buttons of the page.")
    code = form.get("other", "").strip() or form.get("code", "")
    if not code:
        raise BadInput("It is not said which record it must find.", cure="Choose one, or give a record's code.")
    given = {"text": form.get("text", ""), "code": code, "rank": rank, "name": form.get("name", "")}
    if "cues" in form:
        given["cues"] = _loaded(form["cues"])
    told = load_watch(given)
    cues = tuple(map(cue_of, told["cues"]))
    return WatchAsked(told["code"], told["text"], cues, told["rank"], told["name"])


def may_watch() -> bool:
    """Whether who is signed in may put a description on the watch list."""
    visitor = seen()
    return visitor is not None and Right.UPDATE in RIGHTS[visitor.role]


def _loaded(text: str) -> Any:
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None
