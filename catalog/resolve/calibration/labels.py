"""Descriptions whose vehicle is known: what was said, and what it was."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from catalog.resolve.calibration.keys import hash_of
from catalog.resolve.cue import Cue
from catalog.resolve.names import lexicon_of
from catalog.resolve.reading.reader import read
from catalog.resolve.rows import Row
from catalog.resolve.simulate import USUAL, Simulator, World, subject_of, text_of
from catalog.resolve.tables import Tables

COUNT = 300
_SEED = 20261125
# An unlisted vehicle is made of others; so many are enough to make it of.
_POOL = 600


@dataclass(frozen=True, slots=True)
class Label:
    """cues: of the vehicle asked about. code: its record; "" where it is in no record. denied: all that is known is
    that it was not this record."""

    cues: tuple[Cue, ...]
    code: str
    denied: bool = False


def labels_hash(labels: Sequence[Label]) -> str:
    """Over what was said and what it was."""
    return hash_of([[[*cue.key, str(cue.doubt)] for cue in one.cues] + [one.code, one.denied] for one in labels])


def placed(labels: Sequence[Label], tables: Tables) -> list[tuple[Label, int]]:
    """Each with the position of its record; -1, as of a vehicle not listed, where this edition does not list it.
    Denials of such are left out."""
    places = {code: place for place, code in enumerate(tables.meta["codes"])}
    found = ((label, places.get(label.code, -1)) for label in labels)
    return [(label, place) for label, place in found if place >= 0 or not label.denied]


def simulated_labels(
    row: Callable[[str], Row], tables: Tables, unlisted_rate: float, count: int = COUNT
) -> tuple[Label, ...]:
    """Raw text about an edition's vehicles by simulated witnesses, read by the reader of today; the same every time.

    row: by code. Vehicles come as often as the prior says, those not listed as often as assumed. What nothing was
    understood of is left out: it is answered with no vehicle.
    """
    codes = tables.meta["codes"]
    draw = Random(_SEED)  # noqa: S311  repeatable on purpose
    asked = draw.choices(range(len(codes)), np.asarray(tables.arrays["prior"]).tolist(), k=count)
    pool = draw.sample(range(len(codes)), min(_POOL, len(codes)))
    subjects = {place: subject_of(row(codes[place])) for place in sorted({*asked, *pool})}
    world = World(tuple(subjects.values()))
    simulator = Simulator(world, replace(USUAL, unlisted=unlisted_rate), _SEED)
    lexicon = lexicon_of(tables)
    made = []
    for number, place in enumerate(asked):
        said = simulator.of(subjects[place], number)
        cues = read(text_of(said, _SEED, number), lexicon, "left").own
        made.append(Label(tuple(replace(cue, spans=(), heard="") for cue in cues), said.subject.code or ""))
    return tuple(label for label in made if label.cues)
