"""Brief facts over all possible vehicles, in words that never sound surer than they are."""

from collections.abc import Sequence

from catalog.domain.record import shape_of
from catalog.domain.wording import sentence
from catalog.resolve.answering.chances import Chance, chance_of
from catalog.resolve.brief_facts import BriefFact
from catalog.resolve.chance import frequency
from catalog.resolve.fact_chances import FactChance, Verdict, fact_chances
from catalog.resolve.fact_words import NONE_WORDS
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.services.doubts import DoubtView, all_in_tables
from catalog.services.fact_views import SharedFact, ValueView

LABELS = {
    Verdict.SAME: "same on all",
    Verdict.AGREE: "the possible vehicles agree",
    Verdict.DIFFERS: "differs",
    Verdict.NOT_STATED: "not stated",
}
_POSSIBLE = 0.01  # a record less likely than this is not spoken of beside a fact, nor are its values
_SAID_AT_ONCE = 3  # values in the sentence; all of them are in the view


def shared_facts(result: Posterior, field: Field) -> tuple[SharedFact, ...]:
    """Every brief fact, most urgent first."""
    unlisted = chance_of(result.unlisted)
    doubts = _possible_doubts(result, field)
    return tuple([_shared(chance, unlisted, doubts) for chance in fact_chances(result, field.tables)])


def _possible_doubts(result: Posterior, field: Field) -> tuple[DoubtView, ...]:
    """The doubts that stand of records it may well be, newest first."""
    doubts = all_in_tables(field.tables)
    if not doubts:
        return ()
    place_of = {code: place for place, code in enumerate(field.tables.meta["codes"])}
    return tuple(
        doubt for doubt in doubts if doubt.code in place_of and result.records[place_of[doubt.code]] > _POSSIBLE
    )


def concerns(doubt: DoubtView, fact: BriefFact) -> bool:
    """Whether a doubt takes back something a brief fact is made of: the fact, its item, or that these are all."""
    path = shape_of(doubt.path.removeprefix("complete.")).replace("[]", "")  # "ports[a].place" -> "ports.place"
    if fact.inside:
        return path == fact.inside or path in [f"{fact.inside}.{key}" for key in fact.keys]
    return path in fact.keys


def _shared(chance: FactChance, unlisted: Chance, possible: Sequence[DoubtView]) -> SharedFact:
    fact = chance.fact
    doubts = tuple(doubt for doubt in possible if concerns(doubt, fact))
    values = tuple(map(ValueView._make, chance.values))
    return SharedFact(
        key=fact.key,
        label=fact.label,
        weight=fact.weight,
        verdict=chance.verdict.value,
        verdict_label=LABELS[chance.verdict],
        words=chance.words,
        said=". ".join([_said(chance, values), *(f"Of {doubt.code} {doubt.mark}" for doubt in doubts)]),
        values=values,
        lower_bound=chance_of(chance.lower_bound),
        agreement=chance.agreement,
        not_stated=chance_of(chance.not_stated),
        unlisted=unlisted,
        several=bool(fact.inside) or fact.words_apart,
        reading=chance.reading,
        doubts=doubts,
    )


def _said(chance: FactChance, values: Sequence[ValueView]) -> str:
    """ "The possible vehicles agree: fitted. Not stated for about 1 in 10, not in this catalogue fewer than
    1 in 20: treat as fitted"."""
    label = LABELS[chance.verdict].capitalize()
    more = more_words(chance.words) if chance.fact.inside else ""
    match chance.verdict:
        case Verdict.SAME:
            return f"{label}: {chance.words}{more} ({frequency(chance.lower_bound)})"
        case Verdict.AGREE:
            return f"{label}: {chance.words}{more}. {_against(chance)}"
        case Verdict.DIFFERS:
            return f"{label}: {_values(values)}{more}. {_against(chance)}"
        case Verdict.NOT_STATED:
            stated = _values(values)
            return _against(chance) + (f". Stated: {stated}" if stated else "")


def more_words(words: str) -> str:
    """What follows the words of a list: that there may be more, unless a guide states that there is none."""
    return "" if words in NONE_WORDS else "; there may be more"


def _values(values: Sequence[ValueView]) -> str:
    """The likeliest values, and every protective one that is less likely."""
    shown = [v for place, v in enumerate(values) if place < _SAID_AT_ONCE or v.protective]
    left = len(values) - len(shown)
    words = [f"{v.words} ({'not stated, to be assumed' if v.assumed else frequency(v.probability)})" for v in shown]
    return ", ".join(words) + (f" and {left} more" if left else "")


def _against(chance: FactChance) -> str:
    """What is not known, and how it is read."""
    unlisted = f"not in this catalogue {frequency(chance.unlisted)}"
    silent = f"not stated for {frequency(chance.not_stated)}, " if chance.not_stated > 0 else ""
    return sentence(f"{silent}{unlisted}: {chance.reading.removeprefix('not stated: ')}")
