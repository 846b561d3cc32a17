"""What may be done with a cue on a page: lists in our own words, posted as the amendments they stand for."""

import json

import pytest

from catalog.errors import BadInput
from catalog.resolve.amending import CORRECTED, UNAMENDED, Given
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.cue import ANOTHER, ATTRIBUTES, Cue, Doubt, Span
from catalog.web import wording
from catalog.web.amend import amendments, choices

SAMPLE = {
    "doors": "4", "years": "2019-2021", "name": "kelvik", "port_place": "left|rear|", "vin": "X90ABCDEFGH",
    "other_place": "|rear_face|low", "rows": "2",
}  # fmt: skip


def view(attribute: str = "body", value: str = "van", **more: object) -> CueView:
    cue = Cue(attribute, (value,), (Span(0, 3),), "van", vehicle=str(more.pop("vehicle", "A")))
    return CueView(cue, "x", True, **more)  # type: ignore[arg-type]


def words(made: CueView) -> list[str]:
    return [choice.label for choice in choices(made)]


def value(made: CueView, label: str) -> str:
    return next(choice.value for choice in choices(made) if choice.label == label)


def test_a_list_leaves_it_as_read_strikes_it_out_or_changes_it_in_our_own_words() -> None:
    labels = words(view())
    assert labels[:2] == ["van (as read)", "strike it out"]
    assert {"pickup", "people carrier", "SUV", "not van", wording.WHOSE["B"]} <= set(labels)
    assert "van" not in labels
    assert [choice.label for choice in choices(view()) if choice.chosen] == ["van (as read)"]


def test_what_is_posted_is_what_it_says() -> None:
    key = ("body", ("van",), False, "A")
    assert amendments([""]) == UNAMENDED
    assert amendments([value(view(), "strike it out")]).struck == (key,)
    assert amendments([value(view(), "pickup")]).cues == (Given(Cue("body", ("pickup",), (), "pickup"), key),)
    [other] = amendments([value(view(), wording.WHOSE["B"])]).cues
    assert (other.cue.vehicle, other.cue.values, other.instead_of) == (ANOTHER, ("van",), key)
    [denied] = amendments([value(view(), "not van")]).cues
    assert denied.cue.denied


def test_a_corrected_cue_shows_its_present_value_and_the_way_back() -> None:
    made = view("body", "pickup", origin=CORRECTED, instead_of=("body", ("van",), False, "A"))
    assert [choice.label for choice in choices(made) if choice.chosen] == ["pickup"]
    assert words(made)[0] == "van (as read)"
    assert choices(made)[0].value == ""


def test_a_struck_cue_shows_that_it_is_struck_out() -> None:
    chosen = [choice.label for choice in choices(view(), struck=True) if choice.chosen]
    assert chosen == ["strike it out"]


def test_places_keep_their_level_and_names_offer_those_that_are_near() -> None:
    assert "right rear quarter low" in words(view("port_place", "left|rear|low"))
    near = (("kelvik", "Kelvik"), ("kelwin", "Kelwin"))
    assert {"Kelvik (as read)", "Kelwin"} <= set(words(view("name", "kelvik", near=near)))
    assert words(view("years", "2019"))[2:6] == ["2017", "2018", "2020", "2021"]


@pytest.mark.parametrize("attribute", ATTRIBUTES)
@pytest.mark.parametrize("vehicle", ["A", "B"])
def test_every_choice_of_every_attribute_can_be_posted(attribute: str, vehicle: str) -> None:
    from catalog.domain.attributes import closed_terms

    made = view(attribute, SAMPLE.get(attribute) or closed_terms(attribute)[0], vehicle=vehicle)
    offered = choices(made)
    assert len(offered) >= 4
    assert len({choice.value for choice in offered}) == len(offered)
    for choice in offered[1:]:
        asked = amendments([choice.value])
        assert len(asked.struck) + len(asked.cues) == 1


@pytest.mark.parametrize(
    "posted",
    ["{", "[]", "7", '{"cue": 5}', '{"struck": {"attribute": "bodi", "values": ["van"]}}', "[" * 100_000, '{"x": 1}'],
)
def test_what_was_not_made_here_is_refused_in_words(posted: str) -> None:
    with pytest.raises(BadInput) as caught:
        amendments([posted])
    assert caught.value.cure


def test_a_doubted_cue_given_to_the_other_vehicle_stays_doubted() -> None:
    made = CueView(Cue("body", ("van",), (), "van", doubt=Doubt.HEDGED), "x", True)
    posted = json.loads(value(made, wording.WHOSE["B"]))
    assert posted["cue"]["doubt"] == "hedged"
