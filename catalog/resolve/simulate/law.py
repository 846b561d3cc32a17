"""P(said | true) of each attribute but the name, for each kind of witness: the law descriptions are drawn from."""

from collections.abc import Mapping
from typing import Any

from catalog.domain.attributes import DOORS, terms_of
from catalog.resolve.simulate.setting import USUAL, Setting, Witness
from catalog.resolve.simulate.subject import World
from catalog.resolve.simulate.tables import law_table
from catalog.resolve.truth import NO_PORT, Signature

Chances = dict[str, float]
NEWEST = 2026
SEEN = ("body", "size", "doors", "propulsion", "years", "connector", "door_mechanism", "port_cover", "selector",
        "front_face", "front_lamps", "rear_lamps", "tailpipe", "roof", "handles", "colour", "fuel")  # fmt: skip
_SWAP = {"left": "right", "right": "left"}


class Law:
    """The law over one world; what it was asked for is kept."""

    def __init__(self, world: World, setting: Setting = USUAL) -> None:
        self._world, self._setting = world, setting
        self._table: Mapping[str, Any] = law_table()
        self._kept: dict[tuple[str, str, Witness], Chances] = {}
        self._pooled: dict[str, Chances] = {}

    def chances(self, attribute: str, truth: Signature, witness: Witness) -> Chances:
        """P(value said), of witnesses who mention it; what nobody states is anybody's."""
        key = (attribute, str(truth), witness)
        if key not in self._kept:
            self._kept[key] = self._made(attribute, truth, witness)
        return self._kept[key]

    def hedged(self, attribute: str, chances: Chances) -> Chances:
        """The same of a witness who is not sure."""
        share = float(self._table["hedged_share"])
        return _mixed(chances, self.pooled(attribute), share)

    def pooled(self, attribute: str) -> Chances:
        """P(value said) of no vehicle in particular; anything, where no record states anything."""
        if attribute not in self._pooled:
            terms = () if self._world.pools[attribute] else _terms(attribute)
            made: Chances = dict.fromkeys(terms, 1 / max(1, len(terms)))
            for truth, share in self._world.pools[attribute]:
                for value, chance in self._plain(attribute, truth).items():
                    made[value] = made.get(value, 0.0) + share * chance
            self._pooled[attribute] = made
        return self._pooled[attribute]

    def _made(self, attribute: str, truth: Signature, witness: Witness) -> Chances:
        made = self._plain(attribute, truth)
        usual = self._table["stereotypes"].get(witness.stereotype, {}).get(attribute)
        if usual is not None:
            made = _mixed(made, {usual: 1.0}, float(self._table["stereotype_weight"]))
        if witness.careless and attribute != "years":
            terms = _terms(attribute)
            even = dict.fromkeys(terms, 1 / len(terms))
            made = _mixed(made, even, 1 - float(self._table["careless_keeps"]))
        return made

    def _plain(self, attribute: str, truth: Signature) -> Chances:
        if attribute == "colour":
            return self._colour(truth)
        if truth is None or truth == NO_PORT:
            return self.pooled(attribute)
        if attribute == "years":
            return self._years(truth)
        known = [str(value) for value in truth if str(value) in _terms(attribute)]
        if not known:
            return dict.fromkeys(_terms(attribute), 1 / len(_terms(attribute)))
        return _mean([self._row(attribute, value) for value in known])

    def _row(self, attribute: str, true: str) -> Chances:
        terms = [term for term in _terms(attribute) if term != true]
        right = float(self._table["right"][attribute]) * self._setting.right
        alike = self._table["alike"][attribute].get(true, [])
        near = float(self._table["near_share"]) * self._setting.near if alike else 0.0
        made = dict.fromkeys(terms, (1 - right) * (1 - near) / len(terms))
        for term in alike:
            made[term] += (1 - right) * near / len(alike)
        made[true] = right
        return made

    def _colour(self, truth: Signature) -> Chances:
        """Most vehicles come in any colour."""
        if truth:
            return _mean([self._row("colour", value) for value in truth])
        shares: Mapping[str, int] = self._table["colours"]
        total = sum(shares.values())
        return {colour: share / total for colour, share in shares.items()}

    def _years(self, truth: Signature) -> Chances:
        first, last = truth
        until = max(first, NEWEST if last is None else last)
        made: Chances = {}
        for year in range(first, until + 1):
            for off, chance in self._table["year_off"].items():
                said = str(year + int(off))
                made[said] = made.get(said, 0.0) + chance / (until - first + 1)
        return made

    def place(self, place: list[str], part: str, witness: Witness) -> Chances:
        """P(side, end or level said) of one port's place."""
        true = place[("side", "end", "level").index(part)]
        made: Chances = dict(self._table[part][true])
        if part == "side" and witness.mirrored:
            made = {_SWAP.get(side, side): chance for side, chance in made.items()}
        if witness.careless:
            words = sorted({word for row in self._table[part].values() for word in row})
            made = _mixed(made, dict.fromkeys(words, 1 / len(words)), 1 - float(self._table["careless_keeps"]))
        return made


def _terms(attribute: str) -> tuple[str, ...]:
    return DOORS if attribute == "doors" else terms_of(attribute)


def _mixed(first: Chances, second: Chances, share: float) -> Chances:
    """share: of the second."""
    return {
        value: (1 - share) * first.get(value, 0.0) + share * second.get(value, 0.0)
        for value in sorted(first.keys() | second.keys())
    }


def _mean(rows: list[Chances]) -> Chances:
    made: Chances = {}
    for row in rows:
        for value, chance in row.items():
            made[value] = made.get(value, 0.0) + chance / len(rows)
    return made
