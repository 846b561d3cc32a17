"""What could be had at best: the very law the descriptions were drawn from, over the listed vehicles.

It knows how often each kind of witness errs in which way and who mentions what; only what a name
sounds like it knows by the number of edits. For success alone: of unlisted vehicles it knows nothing.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import Cue, Doubt
from catalog.resolve.lexicon import LEVELS
from catalog.resolve.names import record_levels
from catalog.resolve.simulate import USUAL, Law, Witness, witnesses
from catalog.resolve.simulate.mishearing import heard_shares
from catalog.resolve.simulate.tables import law_table
from catalog.resolve.truth import NO_PORT, Signature
from tests.eval.search_fit import Scores
from tests.eval.search_ground import Query, Simulation

_OTHER = {"left": "right", "right": "left"}
_LEAST = 1e-6
Array = NDArray[np.float64]


class Oracle:
    """Scores by the true law of the usual setting."""

    def __init__(self, simulated: Simulation) -> None:
        self._tables = simulated.ground.tables
        self._law, self._data = Law(simulated.world), law_table()
        self._kinds = witnesses(USUAL)
        self._kept: dict[tuple[str, str, bool, Doubt, str], Array] = {}

    def scores(self, queries: Sequence[Query]) -> Scores:
        made = np.array([self._one(query) for query in queries], dtype=np.float32)
        return Scores(made, np.full(len(queries), -1e6))

    def _one(self, query: Query) -> Array:
        total = np.full((len(self._kinds), self._tables.size), 0.0)
        for cue in query.cues:
            total += self._name(cue) if cue.attribute == "name" else self._seen(cue)
        total += np.log(list(self._kinds.values()))[:, None] + self._unsaid({cue.attribute for cue in query.cues})
        return np.asarray(np.logaddexp.reduce(total, axis=0))

    def _unsaid(self, said: set[str]) -> Array:
        """Of what cannot be plugged in, a port is seldom spoken of: that nobody does says something."""
        made = np.zeros(self._tables.size)
        for attribute in ("port_place", "connector", "door_mechanism", "port_cover"):
            usual, portless = float(self._data["mention"][attribute]), float(self._data["portless_mention"])
            if attribute not in said:
                signatures = self._tables.meta["signatures"][attribute]
                per = [math.log((1 - portless * usual) / (1 - usual)) if s == NO_PORT else 0.0 for s in signatures]
                made += np.array(per)[self._tables.arrays[f"sig_{attribute}"]]
        return made

    def _seen(self, cue: Cue) -> Array:
        """(witnesses, records) of logs; kept by what was said."""
        key = (cue.attribute, cue.values[0], cue.denied, cue.doubt, cue.viewpoint)
        if key not in self._kept:
            signatures = self._tables.meta["signatures"][cue.attribute]
            per = np.array([[self._chance(cue, s, kind) for s in signatures] for kind in self._kinds])
            self._kept[key] = np.log(np.maximum(per, _LEAST))
        return self._kept[key][:, self._tables.arrays[f"sig_{cue.attribute}"]]

    def _chance(self, cue: Cue, truth: Signature, kind: Witness) -> float:
        mentioned = float(self._data["portless_mention"]) if truth == NO_PORT else 1.0
        if cue.attribute == "port_place":
            return mentioned * self._place(cue, truth, kind)
        chances = self._law.chances(cue.attribute, truth, kind)
        if cue.doubt is not Doubt.FIRM and cue.attribute != "colour":
            chances = self._law.hedged(cue.attribute, chances)
        own = chances.get(cue.values[0], 0.0)
        return mentioned * ((1 - own) / max(1, len(chances) - 1) if cue.denied else own)

    def _place(self, cue: Cue, truth: Signature, kind: Witness) -> float:
        if not isinstance(truth, dict):
            pool = [entry for entry in self._tables.meta["signatures"]["port_place"] if isinstance(entry, dict)][:40]
            return float(np.mean([self._place(cue, entry, kind) for entry in pool])) if pool else 1.0
        still = float(self._data["still_mirrored_when_said"])
        if kind.mirrored and cue.viewpoint:
            swapped, straight = (self._of(cue, truth, k) for k in (kind, Witness(False, "", kind.careless)))
            return still * swapped + (1 - still) * straight
        return self._of(cue, truth, kind)

    def _of(self, cue: Cue, truth: dict[str, list[list[str]]], kind: Witness) -> float:
        side, end, level = cue.values[0].split("|")
        wheels = [str(wheel) for wheel in truth["steering"] if str(wheel) in _OTHER]
        if side in ("driver", "passenger"):
            if len(wheels) != 1:
                return _LEAST
            side = wheels[0] if side == "driver" else _OTHER[wheels[0]]
        made = 0.0
        for place in truth["places"]:
            parts = [("side", side), ("end", end), ("level", level)]
            made += math.prod(self._law.place(place, part, kind).get(said, 0.0) for part, said in parts if said)
        return made / len(truth["places"])

    def _name(self, cue: Cue) -> Array:
        levels, _ = record_levels(cue.values[0], self._tables)
        steps = 40.0 * len(cue.values[0])  # about so many slips of one letter
        names = self._tables.meta["names"]
        listed = (levels == 0).any()  # only a listed name is said in place of another
        rows = []
        for kind in self._kinds:
            share = heard_shares(kind.careless)
            per = {"exact": share["exact"], "sound": share["sound"] / 6, "osa1": share["edit"] / steps, "other": 0.0}
            per["osa2"] = share["two_edits"] / steps**2 * 2 + share["sound"] / steps**2
            mistaken = share["another"] / len(names) if listed else _LEAST**2
            rows.append(np.log([per[level] + mistaken for level in LEVELS])[levels])
        return np.array(rows)
