"""What asking brings: `python -m tests.eval.questions [--sessions N] [--by-place] [--json FILE]`. Simulated.

Calls about generated vehicles (seed fixed), 12 % of them of families the catalogue does not hold.
Up to three questions are put, each chosen after the answers before it: by this engine; by
information alone; in a fixed order, the one a call-taker would have on a card; at random. All ask
only what may be asked of the caller. Measured is how often the likeliest value of a brief fact is
the vehicle's, weighed as in a brief, over the facts its record states; and how often the likeliest
record is the one. Callers cannot tell 15 % of all questions whichever they are, and the engine is told
so; beside it stands the engine with its own table of who can tell, which is wrong about them. With
`--by-place` that table is right about them (a home game). Intervals are over families of vehicles.
"""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

import numpy as np

from catalog.domain.documents import record_from_document
from catalog.resolve.cue import Cue
from catalog.resolve.evidence import gather
from catalog.resolve.fact_index import indexed_facts
from catalog.resolve.field import Field
from catalog.resolve.parameters import shipped
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.questions.choosing import Asking, askable, next_questions
from catalog.resolve.questions.loss import WEIGHTS
from catalog.resolve.questions.safety import Caller as Place
from catalog.resolve.questions.safety import Scene
from catalog.resolve.questions.table import Question, QuestionSet, expert_questions
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables, tables_of
from seed_demo.generator import families
from tests.eval.gates import Gate, report
from tests.eval.sessions import Caller, Session

SEED, RECORDS, SESSIONS, ROUNDS, UNLISTED, CANNOT = 20270105, 2000, 1500, 3, 0.12, 0.15
_PLACES = (Place.BESIDE, Place.AWAY, Place.UNKNOWN, Place.INSIDE)
OURS, TOLD = "this engine", "this engine, own table"
_CARD = ("name", "propulsion", "port_place", "body", "doors", "tailpipe", "selector", "size", "roof", "front_lamps",
         "rear_lamps", "front_face", "handles")  # fmt: skip


@dataclass(frozen=True, eq=False)
class Call:
    """truth: number of the value of each fact, -1 where the record is silent, -2 where no listed one says so.
    position: of the record, None where it is not listed."""

    session: Session
    scene: Scene
    family: int
    position: int | None
    truth: "np.ndarray[tuple[int], np.dtype[np.intp]]"


@dataclass(frozen=True, slots=True)
class State:
    """How a call stands when a question is to be chosen."""

    result: Posterior
    cues: tuple[Cue, ...]
    asking: Asking


Policy = Callable[[State], Question | None]


def engine(field: Field, known: QuestionSet) -> Policy:
    """The question this engine puts first; none where it stops."""

    def choose(state: State) -> Question | None:
        found = next_questions(state.result, state.cues, field, replace(state.asking, limit=1), known)
        return found.questions[0].question if found.questions else None

    return choose


def by_information(field: Field, known: QuestionSet) -> Policy:
    """The most informative question: nothing weighs, so that no question is worth its cost."""
    return engine(field, replace(known, unit_cost=1e9, least_bits=0.0))


def fixed(known: QuestionSet) -> Policy:
    """The first of the card that may still be put."""

    def choose(state: State) -> Question | None:
        open_ = {each.id: each for each in askable(state.cues, state.asking, known)}
        return next((open_[id_] for id_ in _CARD if id_ in open_), None)

    return choose


def at_random(known: QuestionSet, seed: str) -> Policy:
    """Any that may be put."""
    draw = Random(seed)

    def choose(state: State) -> Question | None:
        open_ = askable(state.cues, state.asking, known)
        return draw.choice(open_) if open_ else None

    return choose


def run(calls: Sequence[Call], policy: Policy, field: Field, known: QuestionSet) -> tuple[Vector, Vector]:
    """(facts, records) right before any question and after each: (calls, ROUNDS + 1)."""
    facts, records = np.zeros((len(calls), ROUNDS + 1)), np.zeros((len(calls), ROUNDS + 1))
    for number, call in enumerate(calls):
        first, answers, asking = call.session.at_first(known), list[Cue](), Asking(call.scene)
        over = False
        for turn in range(ROUNDS + 1):
            cues = (*first, *answers)
            result = posterior(gather(cues, field.tables, field.parameters), field)
            facts[number, turn] = fact_accuracy(result, call, field.tables)
            records[number, turn] = call.position is not None and int(result.order(1)[0]) == call.position
            question = None if over or turn == ROUNDS else policy(State(result, cues, asking))
            over = question is None
            if question is not None:
                answer = call.session.answer(question)
                answers += [answer] if answer is not None else []
                cannot = asking.cannot | ({question.id} if answer is None else set())
                asking = replace(asking, put=asking.put | {question.id}, cannot=cannot)
    return facts, records


def fact_accuracy(result: Posterior, call: Call, tables: Tables) -> float:
    """Weighed share of the facts the vehicle's record states whose likeliest stated value is its own."""
    indexed = indexed_facts(tables)
    shares = indexed.shares(result.records)
    shares[indexed.silent] = -1.0
    best = [int(shares[c.start : c.start + len(c.values)].argmax()) for c in indexed.columns]
    stated = call.truth != -1
    return float(WEIGHTS[stated] @ (np.array(best)[stated] == call.truth[stated])) / float(WEIGHTS[stated].sum())


def prepared(count: int, cannot: float | None = CANNOT) -> tuple[Field, list[Call]]:
    """The catalogue and the calls, the same for the same arguments."""
    draw = Random(f"questions/{SEED}")
    listed: list[Row] = []
    rows: list[tuple[int, bool, Row]] = []
    for number, family in enumerate(families(RECORDS, SEED)):
        known = draw.random() >= UNLISTED
        made = [row_of(Entry(code, record_from_document(document))) for code, document in family.records]
        rows += [(number, known, row) for row in made]
        listed += made if known else []
    tables = tables_of(listed)
    codes = {code: position for position, code in enumerate(tables.meta["codes"])}
    values = _numbers(listed, tables)
    calls = []
    for number in range(count):
        family_number, known, row = draw.choice(rows)
        truth = np.array([-1 if t == "null" else values[f].get(t, -2) for f, t in enumerate(row.facts)], dtype=np.intp)
        scene = Scene(draw.choices(_PLACES, (4, 3, 2, 1))[0])
        session = Session(row, listed, f"questions/{SEED}/{number}", Caller(scene.caller, cannot))
        calls.append(Call(session, scene, family_number, codes[row.code] if known else None, truth))
    return Field(tables, shipped(), UNLISTED), calls


def _numbers(rows: Sequence[Row], tables: Tables) -> list[dict[str, int]]:
    """The number of each value of each fact."""
    ordered = sorted(rows, key=lambda row: row.code)
    facts = np.asarray(tables.arrays["facts"])
    return [
        {row.facts[place]: int(facts[place, position]) for position, row in enumerate(ordered)}
        for place in range(len(facts))
    ]


def interval(difference: Vector, calls: Sequence[Call], draws: int = 2000) -> tuple[float, float]:
    """95 % of the mean, resampled by family of vehicles."""
    families_ = np.unique([call.family for call in calls], return_inverse=True)[1]
    sums, counts = np.bincount(families_, weights=difference), np.bincount(families_)
    picked = np.random.default_rng(SEED).integers(0, len(counts), (draws, len(counts)))
    means = sums[picked].sum(axis=1) / counts[picked].sum(axis=1)
    return float(np.percentile(means, 2.5)), float(np.percentile(means, 97.5))


def told_of(known: QuestionSet, cannot: float) -> QuestionSet:
    """The questions, everybody being able to tell as often."""
    everywhere = dict.fromkeys(Place, cannot)
    return replace(known, questions=tuple(replace(each, cannot_tell=everywhere) for each in known.questions))


def measured(calls: Sequence[Call], field: Field, cannot: float | None = CANNOT) -> list[Gate]:
    """Print the table; the gates `questions_*` are the lower ends of the intervals."""
    own = expert_questions()
    known = own if cannot is None else told_of(own, cannot)
    policies: dict[str, Policy] = {
        OURS: engine(field, known),
        "information alone": by_information(field, known),
        "fixed order": fixed(known),
        "random": at_random(known, f"questions/{SEED}/random"),
    }
    if known is not own:
        policies[TOLD] = engine(field, own)
    found = {name: run(calls, policy, field, known) for name, policy in policies.items()}
    print(f"{'':20}" + "".join(f"{f'facts {turn}':>9}" for turn in range(ROUNDS + 1)) + f"{'record 3':>10}")
    for name, (facts, records) in found.items():
        print(f"{name:20}" + "".join(f"{facts[:, t].mean():9.3f}" for t in range(ROUNDS + 1)), end="")
        print(f"{records[[c.position is not None for c in calls], ROUNDS].mean():10.3f}")
    print("\nfacts right, more than in the other (95 %)")
    gates = []
    for other in ("information alone", "fixed order", "random"):
        for ours in (OURS, TOLD) if TOLD in found else (OURS,):
            for turn in (1, ROUNDS):
                difference = found[ours][0][:, turn] - found[other][0][:, turn]
                low, high = interval(difference, calls)
                print(f"{f'{ours} - {other}, {turn}':48}{difference.mean():+.4f} ({low:+.4f} to {high:+.4f})")
                if ours == OURS and other != "information alone":
                    gates.append(Gate(f"questions_{other.split()[0]}_{turn}, lower end", low, 0.0))
    return gates


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.questions", description=__doc__)
    parser.add_argument("--sessions", type=int, default=SESSIONS)
    parser.add_argument("--by-place", action="store_true", help="callers who can tell as the questions' table says")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    cannot = None if options.by_place else CANNOT
    field, calls = prepared(options.sessions, cannot)
    listed = sum(call.position is not None for call in calls)
    print(f"{len(calls)} simulated calls, {listed} of listed vehicles, {field.tables.size} records\n")
    return report("eval.questions", measured(calls, field, cannot), options.json)


if __name__ == "__main__":
    raise SystemExit(main())
