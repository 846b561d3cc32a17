"""Ask next and what the crew can count on, as a page shows them, and how a form posts them."""

from dataclasses import replace

import pytest
from werkzeug.datastructures import MultiDict

from catalog.errors import BadInput
from catalog.resolve.answering.asked import Answers
from catalog.resolve.answering.chances import chance_of
from catalog.resolve.answering.question_views import OptionView, QuestionsView, QuestionView
from catalog.resolve.answering.question_words import WHOM, points_to
from catalog.resolve.fact_chances import Verdict
from catalog.resolve.fact_words import NONE_STATED
from catalog.resolve.questions.table import expert_questions
from catalog.services.fact_views import SharedFact, ValueView
from catalog.services.views import RecordSummary
from catalog.web import wording
from catalog.web.asked import CANNOT_TELL_KEY, KEYS, asking, told
from catalog.web.counted import CUT_PLACES, FactLine, counted
from catalog.web.posted import posted

QUESTION = QuestionView(
    "roof",
    "What is the roof like?",
    "",
    (OptionView("flat", "flat", "roof", ("flat",)), OptionView("round", "round", "roof", ("round",))),
    "cannot_tell",
    "may settle: 12 V and 48 V sources",
    0.1,
    1.0,
)


def test_each_answer_has_a_key_and_cannot_tell_its_own() -> None:
    shown = asking(QuestionsView((QUESTION,), "away", "Stay.", "", "", ""))
    assert [(b.key, b.value) for b in shown.buttons] == [("1", "roof=flat"), ("2", "roof=round")]
    assert shown.cannot_tell
    assert (shown.cannot_tell.key, shown.cannot_tell.value) == (CANNOT_TELL_KEY, "roof=cannot_tell")
    assert shown.why == "May settle: 12 V and 48 V sources"
    assert shown.whom == WHOM["away"]


def test_an_answer_points_to_a_vehicle_only_where_one_is_about_even_or_likelier() -> None:
    assert points_to(0.7, "Ostrel Packhorse") == "likely: Ostrel Packhorse"
    assert points_to(0.4, None) == "about even: not in this catalogue"
    assert points_to(0.34, "Ostrel Packhorse") == ""


def test_there_is_a_key_for_every_answer_of_every_question() -> None:
    assert len(set(KEYS)) == len(KEYS)
    assert CANNOT_TELL_KEY not in KEYS
    assert all(len(question.options) <= len(KEYS) for question in expert_questions().questions)


def test_why_nothing_is_asked_and_what_to_do_instead_are_said() -> None:
    shown = asking(QuestionsView((), "unknown", "Stay.", "asked", "Enough.", "Treat it as not in this catalogue."))
    assert (shown.ask, shown.buttons, shown.cannot_tell) == ("", (), None)
    assert (shown.said, shown.offer) == ("Enough.", "Treat it as not in this catalogue.")


def test_an_answer_can_be_struck_out_or_changed_and_a_vehicle_ruled_out_taken_back() -> None:
    shape, gone = told(Answers({"body": "van"}), (RecordSummary("QPW-TF3", "Kelvik", "van, 2022"),))
    assert (shape.heading, shape.value, shape.counts) == ("body", "a van, no windows behind", True)
    assert [choice.value for choice in shape.choices][:2] == ["body=van", "body=cannot_tell"]
    assert "body=bus" in [choice.value for choice in shape.choices]
    assert [choice.label for choice in shape.choices if choice.chosen] == [shape.value]
    assert (gone.field, gone.value) == ("not", "Kelvik, van, 2022")
    assert [choice.value for choice in gone.choices] == ["QPW-TF3", ""]


def test_what_could_not_be_told_is_shown_and_does_not_count() -> None:
    (shape,) = told(Answers({"body": "cannot_tell"}), ())
    assert (shape.value, shape.counts) == (wording.CANNOT_TELL, False)
    assert shape.choices[0].chosen


def test_a_name_that_was_given_comes_back_without_a_number_said_with_it() -> None:
    (name,) = told(Answers({"name": "brantock, ring 07700 900123"}), ())
    assert "900123" not in str(name)
    assert "brantock" in name.value


def test_a_form_is_read_as_it_stands() -> None:
    form = MultiDict(
        [("said", "white\nvan"), ("cue", "x"), ("answer", "body=van"), ("answer", ""), ("asked", "name"),
         ("named", " Kelvik = 2 "), ("not", "QPW-TF3"), ("not", ""), ("caller", "beside"), ("all", "1"), ("why", "1"),
         ("less", "why")]
    )  # fmt: skip
    state = posted(form)
    assert (state.text, state.cues, sorted(state.views)) == ("white van", ("x",), ["all"])
    assert state.answers == Answers({"body": "van", "name": "Kelvik = 2"}, ("QPW-TF3",), "beside")


def test_an_empty_line_keeps_no_change_of_what_was_read() -> None:
    assert posted(MultiDict([("said", " "), ("cue", "x")])).cues == ()
    assert posted(MultiDict([("said", ""), ("cue", "x"), ("answer", "body=van")])).cues == ("x",)


def test_more_vehicles_ruled_out_than_a_call_can_name_are_refused() -> None:
    with pytest.raises(BadInput):
        posted(MultiDict([("not", f"C{number}") for number in range(51)]))


def fact(verdict: Verdict, *values: ValueView, key: str = "restraints.wait", weight: int = 3) -> SharedFact:
    words = values[0].words if values else "not stated"
    half, little = chance_of(0.5), chance_of(0.1)
    return SharedFact(
        key, "12 V wait", weight, verdict.value, "", words, "", values, half, 0.5, little, little, False,
        "not stated: treat as live",
    )  # fmt: skip


def value(words: str, share: float = 0.2, *, protective: bool = False, assumed: bool = False) -> ValueView:
    return ValueView(words, share, protective, assumed)


def only(shared: SharedFact) -> FactLine:
    made = counted((shared,), every=True)
    assert made
    ((line,),) = (heading.facts for heading in made.headings)
    return line


def test_headings_stand_from_the_surest_to_what_is_not_stated_and_empty_ones_stay_away() -> None:
    found = [fact(verdict, value("x")) for verdict in (Verdict.NOT_STATED, Verdict.DIFFERS, Verdict.SAME)]
    made = counted(found, every=False)
    assert made
    assert [heading.kind for heading in made.headings] == ["same_on_all", "differs", "not_stated"]
    assert counted((), every=True) is None


def test_what_may_kill_is_shown_at_once_and_the_rest_is_one_key_away() -> None:
    found = [fact(Verdict.SAME, value("x")), fact(Verdict.SAME, value("y"), weight=1)]
    some, whole = counted(found, every=False), counted(found, every=True)
    assert some
    assert whole
    assert (len(some.headings[0].facts), some.hidden) == (1, 1)
    assert (len(whole.headings[0].facts), whole.hidden) == (2, 0)


def test_a_long_list_is_folded_but_never_what_protects_most() -> None:
    long = [value(str(number)) for number in range(6)] + [value("10 min", 0.001, protective=True)]
    line = only(fact(Verdict.DIFFERS, *long))
    assert [each.words for each in line.shown] == ["0", "1", "2", "10 min"]
    assert [each.protects for each in line.shown] == [False, False, False, True]
    assert [each.words for each in line.folded] == ["3", "4", "5"]
    assert line.label == "12 V wait"
    assert (line.against, line.reading) == ("Not stated for about 1 in 10, or not in this catalogue", "treat as live")


@pytest.mark.parametrize("verdict", [Verdict.DIFFERS, Verdict.AGREE])
def test_every_place_to_cut_is_listed_with_what_to_do_first(verdict: Verdict) -> None:
    places = [value(f"cut loop: place {number}", 0.02) for number in range(30)]
    line = only(fact(verdict, *places, key=CUT_PLACES))
    assert {each.words for each in line.shown} | set(line.words) >= {each.words for each in places}
    assert (line.folded, line.first) == ((), wording.CUT_FIRST)


@pytest.mark.parametrize("key", ["ports.place", "ports.standard", "motion.coupled.refuses_drive"])
@pytest.mark.parametrize("verdict", list(Verdict))
def test_no_charge_port_is_offered_without_its_condition(verdict: Verdict, key: str) -> None:
    found = (fact(verdict, value("yes", 0.97), key=key),)
    for danger, expected in ((False, "Only if no fire, smoke or water"), (True, "Leave the charge port alone")):
        made = counted(found, every=False, danger=danger)
        assert made
        assert made.headings[0].facts[0].first.startswith(expected)


def test_of_a_list_there_may_be_more_unless_a_guide_states_that_there_is_none() -> None:
    some, none = (replace(fact(Verdict.SAME, value(words)), several=True) for words in ("petrol", NONE_STATED))
    assert only(some).words == ("petrol; there may be more",)
    assert only(none).words == (NONE_STATED,)


def test_places_that_are_the_same_on_all_stand_a_line_each() -> None:
    cut = replace(fact(Verdict.SAME, value("fuse: left; cut loop: right"), key=CUT_PLACES), several=True)
    assert only(cut).words == ("fuse: left", "cut loop: right", "there may be more")
    one = replace(fact(Verdict.SAME, value("left rear"), key="ports.place"), several=True)
    assert only(one).words == ("left rear; there may be more",)


def test_silence_about_part_of_what_is_the_same_on_all_says_how_to_take_it() -> None:
    assert only(fact(Verdict.SAME, value("4 min"))).reading == ""
    part = only(fact(Verdict.SAME, value("4 min; another: not stated")))
    assert (part.against, part.reading) == (wording.AGAINST_PART, "treat as live")


def test_agreement_always_says_what_speaks_against_it() -> None:
    line = only(fact(Verdict.AGREE, value("yes", 0.7), value("no", 0.01, protective=True), value("perhaps", 0.02)))
    assert line.words == ("yes",)
    assert [each.words for each in line.shown] == ["no"]
    assert [each.words for each in line.folded] == ["perhaps"]
    assert line.reading


def test_a_value_nobody_states_says_that_it_is_assumed() -> None:
    line = only(fact(Verdict.DIFFERS, value("a", 0.5), value("b", 0.0, protective=True, assumed=True)))
    assert line.shown[1].frequency == wording.ASSUMED
    silent = replace(fact(Verdict.DIFFERS, value("a")), not_stated=chance_of(0.0))
    assert only(silent).against == wording.AGAINST_UNLISTED
