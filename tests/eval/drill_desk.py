"""The desk in a drill: what is typed, what it asks, what it shows; and what of that is wrong."""

import json
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from catalog.domain.protective import protective
from catalog.domain.record import Record
from catalog.domain.spec.nodes import Order
from catalog.domain.wording import value_words
from catalog.resolve.answering.asked import Answers
from catalog.resolve.answering.questions import questions_of
from catalog.resolve.brief_facts import FACTS, BriefFact
from catalog.resolve.chance import said
from catalog.resolve.cue import ASKED
from catalog.resolve.fact_chances import LISTED, FactChance, Verdict, fact_chances
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.rows import Entry, Row, row_of
from catalog.services.briefs import BriefAsked, compose_unstored
from catalog.services.compiling import compile_latest
from catalog.services.house import House
from catalog.services.reading import Understood, understand
from catalog.store.engine import write
from catalog.store.publish import Publication, publish
from seed_demo.cards.__main__ import newest_records
from tests.eval.demo import house_in, prepare
from tests.eval.drill_scripts import Call
from tests.eval.search_facts import said_of

SAFETY = 3  # weight of a fact whose wrong value may kill
FIRST = ("motion.switch_off", "ports.place", "cutoff.methods.place", "structure.no_cut.place")
MOST_ASKED = 3  # questions after the last thing said
SURE = ("nearly sure", "very likely")
EVEN = 0.35  # from here on a vehicle is "about even" or likelier
LETTERS = "ABC"


@dataclass(frozen=True, eq=False)
class Catalogues:
    """whole: the demo. lean: the same without the families of the vehicles that it must not hold."""

    whole: House
    lean: House
    records: Mapping[str, Record]

    @cached_property
    def rows(self) -> Mapping[str, Row]:
        return {code: row_of(Entry(code, record)) for code, record in self.records.items()}

    def of(self, call: Call) -> House:
        return self.whole if call.listed else self.lean


@contextmanager
def catalogues(calls: Sequence[Call]) -> Iterator[Catalogues]:
    """Both, in temporary folders, gone afterwards."""
    records = newest_records()
    with ExitStack() as stack:
        first, second = (Path(stack.enter_context(tempfile.TemporaryDirectory())) for _ in range(2))
        prepare(first)
        shutil.copytree(first, second, dirs_exist_ok=True)
        whole, lean = house_in(first), house_in(second)
        gone = _families([call.code for call in calls if not call.listed], records)
        if gone:
            with write(lean.engine) as conn:
                publish(conn, Publication("drill", "Not held.", withdrawn=dict.fromkeys(gone, "Not held.")), 2**51)
            compile_latest(lean)
        yield Catalogues(whole, lean, records)


def _families(codes: Sequence[str], records: Mapping[str, Record]) -> set[str]:
    """These codes and every record of their platforms and models."""
    kin = {_kin(records[code]) for code in codes}
    return {code for code, record in records.items() if _kin(record) in kin} | set(codes)


def _kin(record: Record) -> str:
    return record.identity.platform or f"{record.identity.make} {record.identity.model}"


@dataclass(frozen=True, eq=False)
class Moment:
    """The desk at one moment of a call. things: how many things were said by then. asked: the question it puts next.
    given: answers by then."""

    call: Call
    things: int
    found: Understood
    result: Posterior
    asked: str | None
    given: Mapping[str, str]

    @cached_property
    def facts(self) -> tuple[FactChance, ...]:
        return fact_chances(self.result, self.found.field.tables)

    @property
    def sure(self) -> bool:
        """A record is shown with "very likely" or more."""
        return said(float(self.result.records.max()))[0] in SURE


def moments(call: Call, where: Catalogues) -> Iterator[Moment]:
    """Every state of the desk, in order: after each thing said, and after each answer."""
    given: dict[str, str] = {}
    for things in range(1, len(call.utterances) + 1):
        for _ in range(2 if things < len(call.utterances) else MOST_ASKED + 1):
            moment = _moment(call, things, given, where.of(call))
            yield moment
            if moment.asked is None:
                break
            given[moment.asked] = call.answers.get(moment.asked, "cannot_tell")


def _moment(call: Call, things: int, given: Mapping[str, str], house: House) -> Moment:
    answers = Answers(dict(given))
    found = understand(house, " ".join(call.utterances[:things]), call.driving_side, answers=answers)
    result = posterior(found.evidence, found.field)
    asked = questions_of(result, found.reading, found.field, answers).questions
    return Moment(call, things, found, result, asked[0].id if asked else None, dict(given))


@dataclass(slots=True)
class Marks:
    """What one call came to. until: things said until the facts were right to the end; None: never.

    shown, wrong: facts of weight 3 that are the same on all at the end, and those that are not so on the vehicle.
    missing: protective values that stand nowhere. mixed: things of another vehicle weighed for ours. taken: what the
    brief at the end says of another vehicle than ours.
    sure: shown as a record with "very likely" or more at the end; ever: at any moment.
    """

    call: Call
    until: int | None
    shown: int = 0
    wrong: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    mixed: list[str] = field(default_factory=list)
    taken: list[str] = field(default_factory=list)
    sure: bool = False
    ever: bool = False


def marks(call: Call, where: Catalogues) -> Marks:
    """Type one call and mark it."""
    row = where.rows[call.code]
    seen = list(moments(call, where))
    made = Marks(call, _until(seen, row), sure=seen[-1].sure, ever=any(moment.sure for moment in seen))
    for chance in seen[-1].facts:
        true = json.loads(row.facts[FACTS.index(chance.fact)])
        if chance.fact.weight == SAFETY and chance.verdict is Verdict.SAME and true is not None:
            made.shown += 1
            if said_of(chance) != true:
                made.wrong.append(chance.fact.key)
    for moment in seen:
        made.missing += [key for key in missing(moment, where.records) if key not in made.missing]
        made.mixed += [thing for thing in mixed(moment) if thing not in made.mixed]
    made.taken += taken(seen[-1], where)
    return made


def _until(seen: Sequence[Moment], row: Row) -> int | None:
    """Things said from which on the four first facts are right to the end of the call."""
    right = [all(_right(chance, row) for chance in moment.facts if chance.fact.key in FIRST) for moment in seen]
    if not right[-1]:
        return None
    first = max((place + 1 for place, good in enumerate(right) if not good), default=0)
    return seen[first].things


def _right(chance: FactChance, row: Row) -> bool:
    true = json.loads(row.facts[FACTS.index(chance.fact)])
    return true is None or (chance.top is not None and said_of(chance) == true)


def missing(moment: Moment, records: Mapping[str, Record]) -> Iterator[str]:
    """Facts beside which the most protective value of the vehicles that it may be is not shown.

    Worked out from the records and the specification alone, not from the tables the desk is made of.
    """
    codes = moment.found.field.tables.meta["codes"]
    possible = [records[code] for code, share in zip(codes, moment.result.records, strict=True) if share > LISTED]
    for chance in moment.facts:
        if chance.verdict is not Verdict.SAME and len(chance.fact.attrs) == 1 and possible:
            words = {value.words for value in chance.values}
            for wanted in _protective_words(chance.fact, possible):
                if not any(wanted in each for each in words):
                    yield f"{chance.fact.key}: {wanted}"


def _protective_words(fact: BriefFact, possible: Sequence[Record]) -> Iterator[str]:
    attr = fact.attrs[0]
    if attr.order not in (Order.ONE, Order.MOST, Order.LEAST):
        return
    told = [record.fact(path) for record in possible for path in _paths(fact, record)]
    if told:
        best = protective(attr, told)
        yield from (value_words(attr, value) for value in best.values)


def _paths(fact: BriefFact, record: Record) -> list[str]:
    if not fact.inside:
        return [fact.keys[0]]
    return [f"{fact.inside}[{item}].{fact.keys[0]}" for item in record.items.get(fact.inside, ())]


def mixed(moment: Moment) -> Iterator[str]:
    """What only the other vehicle shows, and is weighed for ours."""
    for entry in moment.found.evidence:
        cue = entry.cue
        theirs = moment.call.other.get(cue.attribute, ())
        if cue.vehicle == ASKED and not cue.denied and cue.spans and set(cue.values) & set(theirs):
            yield f"{cue.attribute} {', '.join(cue.values)}"


def taken(moment: Moment, where: Catalogues) -> Iterator[str]:
    """What a brief composed now says of another vehicle: its letter, or a record that looks as only that one does."""
    call, letter = moment.call, LETTERS[len(moment.call.id) % len(LETTERS)]
    given = Answers(dict(moment.given))
    asked = BriefAsked(" ".join(call.utterances[: moment.things]), letter=letter, answers=given)
    brief = compose_unstored(where.of(call), asked).composed.brief
    if f"Vehicle {letter}." not in brief.radio_text:
        yield f"the letter {letter} is not said"
    likeliest = int(moment.result.records.argmax())
    if float(moment.result.records[likeliest]) >= EVEN:
        code = moment.found.field.tables.meta["codes"][likeliest]
        shown = set(where.records[code].fact("looks.body").values())
        if code != call.code and shown & set(call.other.get("body", ())):
            yield code
