"""Composing a brief: from a description, cues or codes and a scene to what is said, and what decided it.

Needs no database: the same is composed while it is away.
"""

import hashlib
import hmac
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace

from catalog import __version__
from catalog.domain.cautions import edition_words
from catalog.domain.record import shapes
from catalog.errors import BadInput
from catalog.plan.brief import Agreed, Brief, BriefInput, BriefVehicle, Data, Sure, brief_plan, compose
from catalog.plan.brief.model import LETTERS
from catalog.plan.scene import DATA
from catalog.plan.table import Table
from catalog.resolve.amending import UNAMENDED, Amendments
from catalog.resolve.answering.asked import NO_ANSWERS, Answers, exclusions
from catalog.resolve.answering.chances import chance_of
from catalog.resolve.brief_facts import FACTS
from catalog.resolve.names import lexicon_of
from catalog.services.brief_kept import AboutVehicle, BriefEdition, Composed
from catalog.services.house import House
from catalog.services.noticing import Noticed
from catalog.services.outcomes import kept_cues, packed_cue
from catalog.services.resolving import Description, weigh
from catalog.services.weighing import Planned, StepsAsked, Way, planned

_WORDS = ("brief.json", "caller.json", "scene.json")  # beside the table of steps


@dataclass(frozen=True, slots=True)
class BriefAsked:
    """What a brief is asked for with. codes: vehicles it may be, as somebody named them; with none, the text and the
    cues are weighed; with neither, it is for any vehicle.

    letter: of the vehicle in its incident. incident: "" for one of its own. key: random, of whoever asks, so that the
    same request sent again gives the same brief; "" for none. scene, carried, caller: as for the steps.
    """

    text: str = ""
    codes: tuple[str, ...] = ()
    scene: Mapping[str, str] = field(default_factory=dict)
    letter: str = "A"
    incident: str = ""
    key: str = ""
    amendments: Amendments = UNAMENDED
    answers: Answers = NO_ANSWERS
    carried: tuple[str, ...] | None = None
    caller: str | None = None


def compose_asked(house: House, asked: BriefAsked) -> Composed:
    """Compose without storing. Nothing of the text is kept. Raises BadInput, NotFound, Unavailable."""
    ground = ground_of(house, asked)
    return composed_on(ground, compose(ground.input))


@dataclass(frozen=True, eq=False)
class Ground:
    """What a brief is composed on. noticed: notes what is read of the records, also while it is composed."""

    asked: BriefAsked
    found: Planned
    noticed: Noticed
    input: BriefInput


def ground_of(house: House, asked: BriefAsked) -> Ground:
    """Read, weigh and plan what a brief is to say. Raises BadInput, NotFound, Unavailable."""
    if len(asked.letter) != 1 or asked.letter not in LETTERS:
        raise BadInput(f"{asked.letter!r} is no letter of a vehicle.", cure="Use one of A to Z.")
    noticed = Noticed()
    weighed = weigh(house, Description(asked.text, amendments=asked.amendments, answers=asked.answers))
    steps = StepsAsked(codes=asked.codes, scene=asked.scene, carried=asked.carried, caller=asked.caller)
    found = planned(house, steps, weighed, Way(noticed.watch, brief_plan))
    return Ground(asked, found, noticed, brief_input(house, asked, found))


def brief_input(house: House, asked: BriefAsked, found: Planned) -> BriefInput:
    """What a brief is composed from, of what was read, weighed and planned as briefs are."""
    compiled, meta = found.compiled, found.field.tables.meta
    return BriefInput(
        letter=asked.letter,
        data=Data(compiled.number, edition_words(compiled.number, compiled.published_at), house.settings.demo),
        plan=found.several,
        vehicles=tuple(
            BriefVehicle(
                each.code, meta["titles"][at], meta["subtitles"][at], each.record, _sure(asked, each.probability)
            )
            for at, each in found.possible.items()
        ),
        scene=found.scene,
        unlisted=_sure(asked, found.unlisted) if found.possible else Sure(),
        agreed=_agreed(found, asked),
        table=found.table,
    )


def composed_on(ground: Ground, brief: Brief) -> Composed:
    """A brief with what it is from."""
    found, asked, said = ground.found, ground.asked, ground.found.weighed.found
    compiled = found.compiled
    cues = (*said.reading.cues, *exclusions(asked.answers))
    return Composed(
        edition=BriefEdition(compiled.number, compiled.hash, compiled.published_at),
        brief=brief,
        vehicles=tuple(
            AboutVehicle(one.code, compiled.revision(one.code)[0], one.title, one.subtitle, one.sure)
            for one in ground.input.vehicles
        ),
        unlisted=ground.input.unlisted,
        scene=found.scene,
        codes=tuple(each.code for each in found.possible.values()) if asked.codes else (),
        cues=tuple(packed_cue(cue) for cue in kept_cues(cues, lexicon_of(found.field.tables))),
        shapes=tuple(sorted({*ground.noticed.shapes, *_read_besides(ground)})),
        rules=rules_hash(found.table),
        notice=found.notice,
    )


def rules_hash(table: Table) -> str:
    """SHA-256 over everything that decides what is said of a record: this site's steps and wording included."""
    digest = hashlib.sha256(__version__.encode())
    digest.update(json.dumps(asdict(table), sort_keys=True, default=repr).encode())
    for name in _WORDS:
        digest.update((DATA / name).read_bytes())
    return digest.hexdigest()


def body_mac(asked: BriefAsked, more: object = None) -> str:
    """HMAC of a request under its own key: tells the same request from another, and nothing to who lacks the key.

    more: what else was asked, as JSON takes it.
    """
    whole = json.dumps([asdict(replace(asked, key="")), more], sort_keys=True)
    return hmac.new(asked.key.encode(), whole.encode(), hashlib.sha256).hexdigest()


def _agreed(found: Planned, asked: BriefAsked) -> tuple[Agreed, ...]:
    """What holds for all of several; one that was named has its record."""
    if not found.possible or len(asked.codes) == 1:
        return ()
    return tuple(Agreed(fact.label, fact.verdict_label, fact.said) for fact in found.weighed.facts)


def _sure(asked: BriefAsked, share: float) -> Sure:
    chance = chance_of(share)
    return Sure() if asked.codes else Sure(chance.word, chance.frequency)


def _read_besides(ground: Ground) -> Iterator[str]:
    """Facts that were read from the compiled tables, not from the records."""
    if ground.input.agreed:
        for fact in FACTS:
            yield from (f"{fact.inside}[].{key}" if fact.inside else key for key in fact.keys)
            yield from (f"{fact.inside}[]",) if fact.inside else ()
    if any(branch.sight for branch in ground.input.plan.branches):
        yield from (path for path in shapes() if path.startswith("looks."))
