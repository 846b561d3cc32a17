"""What to look for, and where one must be to see it.

A caller who is away is never sent nearer: for them only what can be seen from where they stand
counts. Opening a flap and looking inside are for crews.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from catalog.resolve.questions.table import expert_questions


class Observer(StrEnum):
    """Who looks. CALLER: stays where they are. CREW: at the vehicle, chocked and approached by procedure."""

    CALLER = "caller"
    CREW = "crew"


class Stance(StrEnum):
    """Where one must be. Values are said on screen."""

    AWAY = "from where you stand"
    ROUND = "walking round it"
    OPEN = "at the open port flap"
    WINDOW = "through a window"


SAFE_FOR = {Observer.CALLER: frozenset({Stance.AWAY}), Observer.CREW: frozenset(Stance)}


@dataclass(frozen=True, slots=True)
class Sight:
    """attribute: of the search tables, or "name" for what the badge reads. ask: in the caller's words."""

    attribute: str
    ask: str
    stance: Stance
    cost: float


# Questions of `questions.table` by where one must be; their words and costs are said there.
_FROM: Mapping[Stance, tuple[str, ...]] = {
    Stance.AWAY: ("body", "roof", "doors", "name", "front_face", "front_lamps", "rear_lamps", "handles", "tailpipe",
                  "size"),
    Stance.ROUND: ("port_round", "port_cover"),
    Stance.WINDOW: ("cabin_look",),
    Stance.OPEN: ("door_mechanism", "connector"),
}  # fmt: skip


def _sight(id_: str, stance: Stance) -> Sight:
    question = expert_questions().by_id[id_]
    return Sight(question.attribute, question.ask, stance, question.cost)


SIGHTS = tuple(_sight(id_, stance) for stance, ids in _FROM.items() for id_ in ids)

# What makes two vehicles look alike: all that is seen without a name and without going near.
LOOKS = tuple(sight.attribute for sight in SIGHTS if sight.stance is Stance.AWAY and sight.attribute != "name")
