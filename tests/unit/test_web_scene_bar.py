"""The scene on a page: what the words say, what was put right, and what goes to the steps."""

from werkzeug.datastructures import MultiDict

from catalog.web import wording
from catalog.web.posted import posted
from catalog.web.scene_bar import Cell, scene_bar


def cell(key: str, known: dict[str, str], answers: dict[str, str], said: dict[str, str]) -> Cell:
    return next(one for one in scene_bar(known, answers, said).cells if one.key == key)


def test_what_matters_most_always_has_a_cell_and_silence_is_not_no() -> None:
    shown = scene_bar({}, {}, {})
    assert [one.key for one in shown.cells] == [key for key, _ in wording.SCENE_CELLS]
    assert {one.answer for one in shown.cells} == {"not said"}
    assert "slope=yes" in dict(shown.others)


def test_what_the_words_say_has_a_cell_of_its_own() -> None:
    shown = scene_bar({"slope": "yes"}, {}, {"slope": "yes"})
    assert shown.cells[-1].key == "slope"
    assert "slope=yes" not in dict(shown.others)


def test_doubt_is_shown_as_doubt_while_the_steps_take_it_as_not_known() -> None:
    assert (cell("fire", {}, {}, {"fire": "perhaps"}).said, cell("fire", {}, {}, {"fire": "perhaps"}).answer) == (
        "perhaps",
        "perhaps",
    )


def test_an_answer_over_the_words_is_marked_and_can_be_taken_back() -> None:
    put_right = cell("fire", {"fire": "no"}, {"fire": "no"}, {"fire": "yes"})
    assert (put_right.said, put_right.put_right) == ("no", True)
    assert [choice.value for choice in put_right.choices] == ["", "fire=yes", "fire=no", "fire=unknown"]
    assert [choice.chosen for choice in put_right.choices] == [False, False, True, False]
    # What the words say stands in the first choice, which takes the answer back.
    assert put_right.choices[0].label == f"YES{wording.SCENE_AS_SAID}"


def test_not_known_over_the_words_is_an_answer_too() -> None:
    assert (cell("fire", {}, {"fire": "unknown"}, {"fire": "yes"}).answer) == "not said"
    assert cell("fire", {}, {"fire": "unknown"}, {"fire": "yes"}).put_right


def test_a_form_holds_scene_told_and_letter() -> None:
    form = MultiDict([("said", "van"), ("scene", "fire=yes"), ("scene", ""), ("told", "a"), ("letter", "B")])
    state = posted(form)
    assert (state.scene, state.told, state.letter) == ({"fire": "yes"}, frozenset({"a"}), "B")
    assert posted(MultiDict([("letter", "b2")])).letter == "A"
