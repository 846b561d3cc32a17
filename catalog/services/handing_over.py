"""The hand-over slip of a brief, for tow and yard: from the record, the steps ticked and what was typed."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace

from catalog.domain.roles import Right
from catalog.errors import BadInput
from catalog.plan.brief import compose
from catalog.plan.brief.hand_over import TICKS, HandOver, Temperature, Tick, slip, typed_fields
from catalog.plan.steps import Step
from catalog.services.acting import Actor, require
from catalog.services.brief_acts import asked_again, needed, words
from catalog.services.brief_composing import BriefAsked, Ground, composed_on, ground_of
from catalog.services.brief_kept import composed_of
from catalog.services.brief_views import BriefView
from catalog.services.briefs import Follows, keep, there
from catalog.services.house import House
from catalog.store.engine import read
from catalog.store.tables_briefs import SLIP

__all__ = ["TICKS", "SlipAsked", "Temperature", "Tick", "slip_form", "typed_fields", "write_slip"]

LONGEST = 400
LONGEST_TIME = 40
MOST_TEMPERATURES = 24


@dataclass(frozen=True, slots=True)
class SlipAsked:
    """ticks: of the brief's steps. typed: key of `typed_fields` -> text. key: as for a brief."""

    ticks: tuple[Tick, ...] = ()
    typed: Mapping[str, str] = field(default_factory=dict)
    temperatures: tuple[Temperature, ...] = ()
    key: str = ""


def write_slip(house: House, actor: Actor | None, id_: str, given: SlipAsked) -> BriefView:
    """Compose the slip of a brief and keep it, with a link. What nobody said reads so.

    Raises NotSignedIn, Forbidden, BadInput, NotFound, Conflict, Unavailable.
    """
    by = require(actor, Right.BRIEF)
    kept, ground = _ground(house, id_, given.key)
    said = _checked(given, ground.found.several.plan.steps)
    try:
        sections = slip(HandOver(ground.input, said.ticks, said.typed, said.temperatures))
    except ValueError as error:
        raise BadInput(
            f"That slip cannot be: {error}.", cure="See what may be typed, and the keys of the steps."
        ) from error
    bare = replace(compose(ground.input), breaths=(), sheet=(), caller=(), points=(), left_out=(), full=sections)
    more = asdict(replace(said, key=""))
    return keep(house, by, ground.asked, composed_on(ground, bare), Follows(kept, SLIP, more))


def slip_form(house: House, actor: Actor | None, id_: str) -> tuple[Step, ...]:
    """The steps that can be ticked on a brief's slip. Raises as `write_slip`."""
    require(actor, Right.BRIEF)
    return _ground(house, id_, "")[1].found.several.plan.steps


def _ground(house: House, id_: str, key: str) -> tuple[str, Ground]:
    with read(house.engine) as conn:
        kept = there(conn, id_)
        earlier = composed_of(kept.document)
    if kept.kind == SLIP:
        raise BadInput(f"{kept.id} is a slip itself.", cure="Give the id of the brief it belongs to.")
    asked = replace(asked_again(earlier, BriefAsked(key=key)), letter=kept.letter, incident=kept.incident)
    return kept.id, ground_of(house, asked)


def _checked(given: SlipAsked, steps: tuple[Step, ...]) -> SlipAsked:
    known = {step.key for step in steps}
    strange = sorted({tick.key for tick in given.ticks} - known)
    if strange:
        raise BadInput(f"The brief has no step {', '.join(strange)}.", cure=f"Its steps: {', '.join(sorted(known))}.")
    if len(given.temperatures) > MOST_TEMPERATURES:
        raise BadInput("There are too many temperatures.", cure=f"Give at most {MOST_TEMPERATURES}.")
    return replace(
        given,
        ticks=tuple(replace(tick, at=words("at", tick.at, LONGEST_TIME)) for tick in given.ticks),
        typed={key: words(key, text, LONGEST) for key, text in given.typed.items()},
        temperatures=tuple(
            Temperature(
                words("at", one.at, LONGEST_TIME),
                needed("words", words("words", one.words, LONGEST), "Say the temperature and where."),
            )
            for one in given.temperatures
        ),
    )
