"""How often a fact shown as the same on all is wrong for the vehicle that was described."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.brief_facts import FACTS
from catalog.resolve.evidence import gather
from catalog.resolve.fact_chances import FactChance, Verdict, fact_chances
from catalog.resolve.field import Field
from catalog.resolve.posterior import posterior
from tests.eval.search_ground import Query

SAFETY = 3  # weight of a fact whose wrong value may kill
WHO = ("all", "unlisted", "mirrored")


@dataclass(slots=True)
class Shown:
    """shown: safety facts that were shown as the same on all of vehicles for which they are known. wrong: of those.
    descriptions, misled: descriptions with any such fact, and with any wrong one."""

    shown: int = 0
    wrong: int = 0
    descriptions: int = 0
    misled: int = 0


def same_on_all(queries: Sequence[Query], field: Field) -> dict[str, Shown]:
    """Counts for everybody, for vehicles not listed, for witnesses who swap sides."""
    made = {who: Shown() for who in WHO}
    for query in queries:
        assert query.simulated is not None
        result = posterior(gather(query.cues, field.tables, field.parameters), field)
        shown = wrong = 0
        for place, chance in enumerate(fact_chances(result, field.tables)):
            if FACTS[place].weight < SAFETY or chance.verdict is not Verdict.SAME:
                continue
            true = json.loads(query.simulated.subject.facts[place])
            if true is not None:
                shown += 1
                wrong += _said(chance) != true
        whom = ["all", *(["unlisted"] if query.target < 0 else []), *_mirrored(query)]
        for who in whom if shown else ():
            entry = made[who]
            entry.shown += shown
            entry.wrong += wrong
            entry.descriptions += 1
            entry.misled += wrong > 0
    return made


def _mirrored(query: Query) -> list[str]:
    assert query.simulated is not None
    return ["mirrored"] if query.simulated.witness.mirrored else []


def _said(chance: FactChance) -> list[object]:
    """The likeliest stated value, as rows have it."""
    assert chance.top is not None, "what is the same on all is stated"
    return [chance.column.stored[number] for number in chance.column.values[chance.top] or ()]
