"""Ask next: what is asked of whom, what it is worth, and what its answer does."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.facts import stated
from catalog.domain.record import Record
from catalog.resolve.amending import UNAMENDED, amend
from catalog.resolve.cue import RANKING, Cue, Doubt, Reading
from catalog.resolve.evidence import gather
from catalog.resolve.explain import bars, tells_apart, why
from catalog.resolve.fact_chances import fact_chances
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label
from catalog.resolve.likelihood import terms_of
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.questions.answers import CANNOT_TELL, answer_cues, answered, not_this
from catalog.resolve.questions.choosing import Asking, Next, Stopped, askable, next_questions, spoken_of
from catalog.resolve.questions.loss import WEIGHTS, losses, stakes
from catalog.resolve.questions.outcomes import outcomes
from catalog.resolve.questions.pointing import points_to
from catalog.resolve.questions.safety import HAZARDS, Caller, Need, Scene, scene_of
from catalog.resolve.questions.standing import standing
from catalog.resolve.questions.table import Question, QuestionSet, expert_questions
from catalog.resolve.questions.worth import weighed
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import FLEET, LEFT_REAR, RIGHT_FRONT, SRC, cue, field, parameters_with, record

KNOWN = expert_questions()
EXACT = 1e-12
# What a caller is never asked for, wherever they are.
NEVER = {Need.ROUND, Need.APPROACH, Need.TOUCH, Need.CROSS}
CALLERS = [caller for caller in Caller if caller is not Caller.CREW]
LOOKS = {"looks.body": "pickup", "looks.roof": "rails", "looks.handles": "pull", "looks.size": "large"}


def looking(make: str, off: str, **changed: str) -> Record:
    """A pickup; changed: attributes of its looks."""
    looks = LOOKS | {f"looks.{key}": value for key, value in changed.items()}
    facts = {path: stated(value, SRC) for path, value in looks.items()}
    return record(make, "Packhorse", facts={**facts, "motion.switch_off": stated(off, SRC)}, ports=[LEFT_REAR])


def weigh(cues: Sequence[Cue], where: Field) -> Posterior:
    return posterior(gather(tuple(cues), where.tables, where.parameters), where)


def ask(
    cues: Sequence[Cue], where: Field, scene: Scene | None = None, put: frozenset[str] = frozenset(), limit: int = 99
) -> Next:
    return next_questions(weigh(cues, where), cues, where, Asking(scene or Scene(Caller.BESIDE), put, limit=limit))


def question(id_: str) -> Question:
    return KNOWN.by_id[id_]


# --- the table


def test_every_answer_is_one_that_records_may_give() -> None:
    assert len(KNOWN.by_id) == len(KNOWN.questions)
    for each in KNOWN.questions:
        assert each.attribute in RANKING
        assert each.needs
        assert each.cost > 0
        assert set(each.cannot_tell) == set(Caller)
        assert all(0 < share < 1 for share in each.cannot_tell.values())
        said = [value for option in each.options for value in option.values]
        assert len(said) == len(set(said)), "no two answers of a question overlap"
        assert len({option.id for option in each.options}) == len(each.options)
        assert CANNOT_TELL not in {option.id for option in each.options}
        if terms_of(each.attribute):
            assert set(said) <= set(terms_of(each.attribute))
    assert {each.id for each in KNOWN.questions if not each.options} == {"name"}


def test_sides_are_asked_for_from_the_drivers_seat() -> None:
    for each in KNOWN.questions:
        sides = any(side in value for o in each.options for value in o.values for side in ("left", "right"))
        assert each.frame == ("from the driver's seat, facing forward" if sides else "")
        assert all(made.viewpoint == ("vehicle" if sides else "") for made in each.cues)


def test_what_a_caller_is_asked_sends_them_nowhere() -> None:
    """By its words, so that a wrong `needs` is found out."""
    sends = ("go ", "walk", "open", "lift", "pull ", "push", "get ", "climb", "cross", "round it", "through a window")
    for each in KNOWN.questions:
        if any(Scene(caller, hazard).allows(each.needs) for caller in CALLERS for hazard in (False, True)):
            assert not any(words in each.ask.lower() for words in sends), each.ask


# --- the safety mask


@given(
    st.sampled_from(CALLERS), st.booleans(), st.sets(st.sampled_from(sorted(KNOWN.by_id))), st.integers(0, len(FLEET))
)
def test_masked_questions_are_never_asked(caller: Caller, hazard: bool, put: set[str], count: int) -> None:
    scene = Scene(caller, hazard)
    open_ = askable((), Asking(scene, frozenset(put)), KNOWN)
    found = ask((), field(*FLEET[:count]), scene, frozenset(put))
    for each in (*open_, *(worth.question for worth in found.questions)):
        assert not each.needs <= NEVER
        assert scene.allows(each.needs)
        if hazard or caller in (Caller.UNKNOWN, Caller.AWAY, Caller.PASSING):
            assert each.needs & {Need.FAR, Need.KNOWN}, "nothing that needs nearness"
    if hazard and caller is Caller.INSIDE:
        assert (open_, found.questions) == ((), ())


def test_inside_is_asked_of_the_cabin_and_only_there() -> None:
    allowed = {caller: {each.id for each in askable((), Asking(Scene(caller)), KNOWN)} for caller in Caller}
    assert [caller for caller in CALLERS if "selector" in allowed[caller]] == [Caller.INSIDE]
    assert "tailpipe" not in allowed[Caller.INSIDE]
    assert {"connector", "cabin_look", "port_round"} <= allowed[Caller.CREW]
    assert "far_side" not in allowed[Caller.CREW]
    assert allowed[Caller.UNKNOWN] == allowed[Caller.AWAY]


@pytest.mark.parametrize("hazard", sorted(HAZARDS))
def test_a_hazard_holds_until_it_is_denied(hazard: str) -> None:
    beside = cue("scene", "caller_beside")
    assert scene_of([beside]) == Scene(Caller.BESIDE, hazard=False)
    assert scene_of([beside, cue("scene", hazard, doubt=Doubt.GUESS)]) == Scene(Caller.BESIDE, hazard=True)
    assert scene_of([beside, cue("scene", hazard, denied=True)]) == Scene(Caller.BESIDE, hazard=False)
    assert scene_of([cue("scene", hazard, denied=True), cue("scene", hazard)]).hazard


def test_where_a_caller_is_is_unknown_until_plainly_said() -> None:
    inside, away = cue("scene", "caller_inside"), cue("scene", "caller_away")
    assert scene_of([inside]).caller is Caller.INSIDE
    assert scene_of([replace(inside, doubt=Doubt.HEDGED)]).caller is Caller.UNKNOWN
    assert scene_of([replace(inside, vehicle="B")]).caller is Caller.UNKNOWN
    assert scene_of([inside, away]).caller is Caller.UNKNOWN
    assert scene_of([inside], Caller.PASSING).caller is Caller.PASSING


# --- worth


MIXED = field(
    looking("Ostrel", "Hold OFF"),
    looking("Kelvik", "Hold OFF", roof="rack"),
    looking("Mirrin", "Turn the key", handles="flush"),
    record("Dorvane", "Quill", propulsion="combustion", facts={"looks.body": stated("hatchback", SRC)}),
    record("Tarnholt", "Ember", facts={}, ports=[RIGHT_FRONT]),
)


@pytest.mark.parametrize("id_", [each.id for each in KNOWN.questions if each.options])
def test_an_answer_weighed_ahead_is_the_cue_weighed_afterwards(id_: str) -> None:
    """One scoring function: the posterior after an answer is the one that its cue gives."""
    said = [cue("doors", "4"), cue("name", "ostrel")]
    stands = standing(weigh(said, MIXED), MIXED, KNOWN)
    found = outcomes(question(id_), stands)
    if found is None:
        assert weigh([*said, question(id_).cues[0]], MIXED).records == pytest.approx(weigh(said, MIXED).records)
        return
    cap, rate = MIXED.parameters.cap, MIXED.unlisted_rate
    for number, answer in enumerate(question(id_).cues):
        shares = stands.shares * found.factor[found.index, number]
        unlisted = stands.unlisted * found.unlisted_factor[number]
        whole = shares.sum() + unlisted
        after = weigh([*said, answer], MIXED)
        prior = MIXED.tables.arrays["prior"]
        assert np.allclose((1 - cap) * shares / whole + cap * (1 - rate) * prior, after.records, atol=EXACT)
        assert math.isclose((1 - cap) * unlisted / whole + cap * rate, after.unlisted, abs_tol=EXACT)


def test_a_side_asked_for_from_the_seat_is_seldom_swapped() -> None:
    """P(right | left) / P(left | left) is that of witnesses who say from where they look: (.02 x .94 + .98 x .02) /
    (.98 x .94 + .02 x .02), the end the same."""
    where = field(record(ports=[LEFT_REAR]), record("Kelvik", "Tiller", ports=[RIGHT_FRONT]))
    found = outcomes(question("port_place"), standing(weigh([], where), where, KNOWN))
    assert found is not None
    left, right = (
        next(n for n, each in enumerate(question("port_place").options) if each.id == id_)
        for id_ in ("left_rear", "right_rear")
    )
    law = found.law[found.index[0]]
    assert law[right] / law[left] == pytest.approx((0.02 * 0.94 + 0.98 * 0.02) / (0.98 * 0.94 + 0.02 * 0.02))


@pytest.mark.parametrize("id_", ["roof", "handles"])
@pytest.mark.parametrize(("said", "listed"), [([cue("name", "zorble")], False), ([cue("body", "pickup")], True)])
def test_an_answer_points_to_the_vehicle_that_is_likeliest_once_it_is_given(
    said: list[Cue], listed: bool, id_: str
) -> None:
    where = replace(MIXED, parameters=parameters_with(cap=0.0))
    pointed = points_to(question(id_), weigh(said, where), where, KNOWN)
    assert len(pointed) == len(question(id_).options)
    # Nothing here states a tailpipe, and a name has no options.
    assert not any(points_to(question(other), weigh(said, where), where, KNOWN) for other in ("tailpipe", "name"))
    for answer, each in zip(question(id_).cues, pointed, strict=True):
        after = weigh([*said, answer], where)
        likeliest = float(after.records.max())
        assert each.chance == pytest.approx(max(likeliest, after.unlisted))
        assert (each.position is not None) is listed
        if each.position is not None:
            assert after.records[each.position] == pytest.approx(likeliest)


@pytest.mark.parametrize("numbers", [range(6), range(20, 28), range(4, 7)])
def test_worth_is_that_of_the_facts_weighed_afterwards(numbers: range) -> None:
    """Against the facts of the whole field after each answer, by the long way (no cap, so that both are exact)."""
    where = field(*(drawn_record(n) for n in numbers), *FLEET[:3], parameters=parameters_with(cap=0.0))
    said = [cue("body", "pickup")]
    before = weigh(said, where)
    stands = standing(before, where, KNOWN)
    found = outcomes(question("propulsion"), stands)
    assert found is not None
    then = stakes(stands).then([found])
    for number, answer in enumerate(question("propulsion").cues):
        after = weigh([*said, answer], where)
        assert np.allclose(then[number, :-1], [c.lower_bound for c in fact_chances(after, where.tables)], atol=EXACT)
        facts = where.tables.arrays["facts"]
        alike = [after.records[(facts == facts[:, [p]]).all(axis=0)].sum() for p in range(where.tables.size)]
        assert math.isclose(then[number, -1], max(*alike, after.unlisted), abs_tol=EXACT)


def test_a_fact_nobody_states_is_lost_whatever_is_answered() -> None:
    where = field(looking("Ostrel", "Hold OFF"), looking("Kelvik", "Hold OFF"))
    stake = stakes(standing(weigh([], where), where, KNOWN))
    now = stake.now()
    assert len(now) == len(WEIGHTS) + 1
    silent = [c.stated == 0 for c in fact_chances(weigh([], where), where.tables)]
    assert any(silent)
    assert not now[:-1][silent].any()
    assert losses(now, 0.0) >= WEIGHTS[silent].sum()


def test_the_question_that_settles_a_fact_comes_before_one_that_only_names() -> None:
    """Two that act alike but for the roof, two that act otherwise by their handles."""
    where = field(
        looking("Ostrel", "Hold OFF"),
        looking("Ostrel", "Hold OFF", roof="rack"),
        looking("Ostrel", "Turn the key", handles="flush"),
        looking("Ostrel", "Turn the key", handles="flush", roof="rack"),
    )
    found = ask([], where)
    assert found.questions[0].question.id == "handles"
    assert [each.question.id for each in found.questions].count("handles") == 1
    worth = {each.question.id: each for each in weighed(weigh([], where), KNOWN.questions, where, Scene(), KNOWN)}
    assert worth["handles"].voi > worth["roof"].voi


def test_on_a_plateau_the_most_informative_question_is_asked() -> None:
    """Every record is to be handled alike, so that no answer settles a fact; the names are left to tell."""
    where = field(*(looking("Ostrel", "Hold OFF", roof=roof) for roof in ("rails", "rack", "glass", "high")))
    free = replace(KNOWN, identity_weight=0.0)
    found = next_questions(weigh([], where), (), where, Asking(Scene(Caller.BESIDE), limit=9), free)
    assert found.questions
    assert all(each.voi <= 0 for each in found.questions)
    assert [each.bits for each in found.questions] == sorted((each.bits for each in found.questions), reverse=True)
    assert found.questions[0].question.id == "roof"


def test_nothing_is_asked_that_changes_nothing() -> None:
    where = field(looking("Ostrel", "Hold OFF"), rate=0.001)
    found = ask([], where)
    assert (found.questions, found.stopped) == ((), Stopped.ENOUGH)


def test_a_caller_who_can_seldom_tell_is_asked_something_else_first() -> None:
    every = weighed(weigh([], MIXED), KNOWN.questions, MIXED, Scene(Caller.BESIDE), KNOWN)
    away = weighed(weigh([], MIXED), KNOWN.questions, MIXED, Scene(Caller.AWAY), KNOWN)
    for near, far in zip(every, away, strict=True):
        assert near.question is far.question
        told = [1 - near.question.cannot_tell[place] for place in (Caller.BESIDE, Caller.AWAY)]
        assert near.bits * told[1] == pytest.approx(far.bits * told[0])


def test_large_fields_are_sampled_and_shares_kept() -> None:
    few = replace(KNOWN, likeliest=2, sampled=3)
    before = weigh([cue("body", "pickup")], MIXED)
    big = field(*FLEET, *(drawn_record(n) for n in range(9)))
    stands = standing(weigh([cue("body", "pickup")], big), big, few)
    assert len(stands.records) == 5
    assert stands.shares.sum() + stands.unlisted == pytest.approx(1)
    assert standing(before, MIXED, few).records.tolist() == list(range(MIXED.tables.size))


# --- asking and answering


@given(st.data())
def test_an_answered_question_never_returns(data: st.DataObject) -> None:
    """Nor one that could not be told, nor another about the same thing."""
    caller = data.draw(st.sampled_from(list(Caller)))
    cues: tuple[Cue, ...] = ()
    answers: dict[str, str] = {}
    for _ in range(KNOWN.most_asked):
        found = ask(cues, MIXED, Scene(caller), frozenset(answers), limit=1)
        if not found.questions:
            break
        put = found.questions[0].question
        assert put.attribute not in {KNOWN.by_id[id_].attribute for id_ in answers}
        choices = [option.id for option in put.options]
        answers[put.id] = data.draw(st.sampled_from([CANNOT_TELL, *choices]))
        cues = answer_cues(answers, KNOWN)
    assert len(answers) <= KNOWN.most_asked
    if len(answers) == KNOWN.most_asked:
        over = ask(cues, MIXED, Scene(caller), frozenset(answers))
        assert (over.questions, over.stopped, over.offer_unlisted) == ((), Stopped.ASKED, True)


@given(st.permutations(range(5)))
def test_the_order_of_cues_and_answers_is_no_matter(order: list[int]) -> None:
    every = [
        cue("body", "pickup"),
        cue("doors", "4", doubt=Doubt.HEDGED),
        question("roof").cues[2],
        question("port_place").cues[0],
        not_this("A00"),
    ]
    one, other = weigh(every, MIXED), weigh([every[place] for place in order], MIXED)
    assert np.array_equal(one.records, other.records)
    assert one.unlisted == other.unlisted
    firsts = [ask(every, MIXED), ask([every[place] for place in order], MIXED)]
    assert [(w.question.id, w.voi) for w in firsts[0].questions] == [
        (w.question.id, w.voi) for w in firsts[1].questions
    ]


def test_what_was_said_is_not_asked_but_a_guess_and_a_denial_are() -> None:
    beside = Scene(Caller.BESIDE)
    for said, asked in (
        (cue("body", "van"), False),
        (cue("body", "van", doubt=Doubt.HEDGED), False),
        (cue("body", "van", doubt=Doubt.GUESS), True),
        (cue("body", "van", denied=True), True),
        (replace(cue("body", "van"), vehicle="B"), True),
    ):
        assert (question("body") in askable([said], Asking(beside), KNOWN)) is asked
    assert spoken_of([cue("scene", "fire")]) == {"scene"}


def test_who_could_not_see_one_end_is_not_asked_about_it_again() -> None:
    put = frozenset({"front_face"})
    ids = {each.id for each in askable((), Asking(Scene(), put, put), KNOWN)}
    assert "front_lamps" not in ids
    assert {"rear_lamps", "tailpipe"} <= ids
    assert "front_lamps" in {each.id for each in askable((), Asking(Scene(), put), KNOWN)}
    assert {each.id for each in KNOWN.questions if each.sees == "back"} == {"tailpipe", "rear_lamps"}


def test_an_answer_takes_the_place_of_a_guess() -> None:
    guess, second = (cue("body", body, doubt=Doubt.GUESS, at=at) for body, at in (("van", 0), ("lorry", 9)))
    denied, other = cue("body", "bus", denied=True), replace(cue("body", "van", doubt=Doubt.GUESS), vehicle="B")
    (answer,) = answer_cues({"body": "pickup", "roof": CANNOT_TELL}, KNOWN)
    reading = Reading((guess, second, denied, other), ())
    amended = amend(reading, answered(reading.cues, [answer]))
    assert {taken.cue.values: taken.instead_of for taken in amended.taken} == {
        ("pickup",): guess, ("bus",): None, ("van",): None,
    }  # fmt: skip
    assert amended.struck == (second,)
    assert amended.idle == 0
    plain = amend(Reading((), ()), answered((), [answer]))
    assert [taken.cue for taken in plain.taken] == [answer]
    assert answered([guess], ()) == UNAMENDED


def test_answers_unknown_to_the_table_are_refused() -> None:
    for answers in ({"colour": "red"}, {"body": "red"}, {"name": "Ostrel"}):
        with pytest.raises(KeyError):
            answer_cues(answers, KNOWN)


# --- not this vehicle


def test_not_this_vehicle_speaks_against_one_record_and_is_no_certainty() -> None:
    said = [cue("body", "pickup")]
    before, after = weigh(said, MIXED), weigh([*said, not_this("A00")], MIXED)
    assert 0 < after.records[0] < before.records[0] / 4
    assert (after.records[1:] > before.records[1:]).all()
    assert after.unlisted > before.unlisted
    assert after.records.sum() + after.unlisted == pytest.approx(1)
    others = after.records[1:] - MIXED.parameters.cap * 0.88 / 5
    kept = before.records[1:] - MIXED.parameters.cap * 0.88 / 5
    assert np.allclose(others / others.sum(), kept / kept.sum())


def test_not_this_vehicle_alone_ranks_nothing_and_unknown_codes_say_nothing() -> None:
    assert not tells_apart(weigh([not_this("A00")], MIXED))
    assert tells_apart(weigh([not_this("A00"), cue("body", "van")], MIXED))
    assert gather((not_this("ZZZ"),), MIXED.tables, MIXED.parameters) == ()
    pointed = replace(not_this("A00"), denied=False)
    assert gather((pointed,), MIXED.tables, MIXED.parameters) == ()


def test_not_this_vehicle_is_explained() -> None:
    result = weigh([not_this("A00"), cue("body", "pickup")], MIXED)
    assert cue_label(not_this("A00"), MIXED.tables) == "not this vehicle: Ostrel Packhorse"
    assert "against: not this vehicle" in why(0, result, MIXED)
    assert "not this vehicle" not in why(1, result, MIXED)
    total = math.log2(result.records[0] / ((1 - MIXED.unlisted_rate) / MIXED.tables.size))
    assert sum(bar.bits for bar in bars(0, result, MIXED)) == pytest.approx(total)


def test_an_empty_catalogue_asks_nothing() -> None:
    assert ask([], field()) == Next((), Stopped.ENOUGH, True)


def test_nothing_safe_is_said_as_such() -> None:
    found = ask([], MIXED, Scene(Caller.INSIDE, hazard=True))
    assert (found.questions, found.stopped) == ((), Stopped.NOTHING_SAFE)


def test_sets_are_compared_by_identity() -> None:
    assert isinstance(KNOWN, QuestionSet)
    assert KNOWN.origin == "expert"
