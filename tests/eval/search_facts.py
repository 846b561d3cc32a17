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
    """known: safety facts that are known of the vehicles described. shown: of those, the ones shown as the same on all.
    wrong: of those. descriptions, misled: descriptions with any fact shown so, and with any wrong one."""

    known: int = 0
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
        known = shown = wrong = 0
        for place, chance in enumerate(fact_chances(result, field.tables)):
            if FACTS[place].weight < SAFETY:
                continue
            true = json.loads(query.simulated.subject.facts[place])
            known += true is not None
            if true is not None and chance.verdict is Verdict.SAME:
                shown += 1
                wrong += said_of(chance) != true
        whom = ["all", *(["unlisted"] if query.target < 0 else []), *_mirrored(query)]
        for who in whom:
            entry = made[who]
            entry.known += known
            entry.shown += shown
            entry.wrong += wrong
            entry.descriptions += shown > 0
            entry.misled += wrong > 0
    return made


def _mirrored(query: Query) -> list[str]:
    assert query.simulated is not None
    return ["mirrored"] if query.simulated.witness.mirrored else []


def said_of(chance: FactChance) -> list[object]:
    """The likeliest stated value, as rows have it."""
    assert chance.top is not None, "what is the same on all is stated"
    return [chance.column.stored[number] for number in chance.column.values[chance.top] or ()]
