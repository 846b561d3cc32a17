"""What to look for, what it costs, and where one must be to see it.

Costs are expert guesses in arbitrary units: 1 is a glance from where one stands. A caller who is
away is never sent nearer: for them only what can be seen from where they stand counts. Opening a
flap and looking inside are for crews.
"""

from dataclasses import dataclass
from enum import StrEnum


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


SIGHTS: tuple[Sight, ...] = (
    Sight("body", "What shape is it?", Stance.AWAY, 1.0),
    Sight("roof", "What is the roof like?", Stance.AWAY, 1.0),
    Sight("doors", "How many doors has it?", Stance.AWAY, 1.0),
    Sight("name", "What does the badge read, as far as you can see it from there?", Stance.AWAY, 1.2),
    Sight("front_face", "If you can see its front from there: what is it like?", Stance.AWAY, 1.2),
    Sight("front_lamps", "If you can see its front from there: what shape are the lamps?", Stance.AWAY, 1.3),
    Sight("rear_lamps", "If you can see its back from there: what shape are the lamps?", Stance.AWAY, 1.3),
    Sight("handles", "What are the door handles like?", Stance.AWAY, 1.4),
    Sight("tailpipe", "If you can see its back from there: is there a tailpipe?", Stance.AWAY, 1.5),
    Sight("size", "How big is it: small, medium, large?", Stance.AWAY, 1.6),
    Sight("port_place", "Where is the charge port flap?", Stance.ROUND, 2.0),
    Sight("port_cover", "What covers the charge port?", Stance.ROUND, 2.2),
    Sight("selector", "What is the gear selector like?", Stance.WINDOW, 3.0),
    Sight("door_mechanism", "How does the port's door open?", Stance.OPEN, 4.0),
    Sight("connector", "What does the socket look like?", Stance.OPEN, 4.0),
)

# What makes two vehicles look alike: all that is seen without a name and without going near.
LOOKS = tuple(sight.attribute for sight in SIGHTS if sight.stance is Stance.AWAY and sight.attribute != "name")
