"""What was understood: pieces give the text back, underlines say how each cue was taken."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.pieces import kind_of
from catalog.resolve.cue import Cue, Doubt, Span
from catalog.web.heard import Heard
from catalog.web.heard import heard as heard_of
from tests.unit.test_web_answers import answer

TEXT = "silver 🚒 pickup maybe, steaming, xyzzy"


def heard(text: str, cues: Sequence[CueView], unread: Sequence[Span], **more: Any) -> Heard:
    return heard_of(replace(answer([], 0.5), text=text, cues=tuple(cues), unread=tuple(unread), **more))


def cue(attribute: str, at: tuple[int, int], label: str, *, ranks: bool = True, doubt: Doubt = Doubt.FIRM) -> CueView:
    return CueView(Cue(attribute, ("x",), (Span(*at),), TEXT[at[0] : at[1]], doubt=doubt), label, ranks)


CUES = (
    cue("scene", (23, 31), "scene vapour", ranks=False),
    cue("body", (9, 15), "perhaps body pickup", doubt=Doubt.HEDGED),
    cue("colour", (0, 6), "colour silver", ranks=False),
)


def test_pieces_carry_the_underline_of_their_cue_in_reading_order() -> None:
    shown = heard(TEXT, CUES, (Span(33, 38),))
    marked = [(piece.text, piece.kind) for piece in shown.pieces if piece.kind]
    assert marked == [("silver", "unused"), ("pickup", "hedged"), ("steaming", "scene")]
    assert [(m.heading, m.value) for m in shown.meanings] == [
        ("colour", "silver"),
        ("body", "perhaps pickup"),
        ("scene", "vapour"),
    ]
    assert shown.unread == ("xyzzy",)


def test_leaders_hang_from_the_first_letter_of_their_cue() -> None:
    shown = heard(TEXT, CUES, ())
    assert [(piece.text, piece.meanings) for piece in shown.pieces if piece.meanings] == [
        ("silver", (0,)),
        ("pickup", (1,)),
        ("steaming", (2,)),
    ]


def test_a_firm_ranking_cue_is_a_look_and_a_denial_goes_with_the_value() -> None:
    denied = cue("body", (9, 15), "not body van")
    assert kind_of(denied) == "looks"
    assert heard(TEXT, (denied,), ()).meanings[0].value == "not van"


def test_names_are_headed_by_what_they_name() -> None:
    meaning = heard(TEXT, (cue("name", (9, 15), "make near Ondru"),), ()).meanings[0]
    assert (meaning.heading, meaning.value) == ("make", "near Ondru")


def test_two_cues_on_the_same_words_share_a_piece() -> None:
    pair = (cue("body", (9, 15), "body pickup"), cue("propulsion", (9, 15), "propulsion battery electric"))
    piece = next(p for p in heard(TEXT, pair, ()).pieces if p.kind)
    assert piece.meanings == (0, 1)


@given(st.text(max_size=40), st.lists(st.tuples(st.integers(0, 45), st.integers(0, 45)), max_size=8))
def test_pieces_joined_are_the_text_whatever_the_spans(text: str, spans: list[tuple[int, int]]) -> None:
    cues = [
        CueView(Cue("body", ("van",), (Span(min(a, b), max(a, b)),), text[min(a, b) : max(a, b)]), "body van", True)
        for a, b in spans
    ]
    shown = heard(text, cues, ())
    assert "".join(piece.text for piece in shown.pieces) == text
    assert len(shown.meanings) == len(cues)


def test_what_is_masked_is_a_piece_of_its_own_and_what_is_struck_out_has_its_mark() -> None:
    struck = (CueView(Cue("body", ("pickup",), (Span(9, 15),), "pickup"), "body pickup", False),)
    shown = heard(TEXT, (CUES[2],), (), struck=struck, masked=(Span(33, 38),))
    assert [(piece.text, piece.kind) for piece in shown.pieces if piece.kind] == [
        ("silver", "unused"), ("pickup", "struck"), ("xyzzy", "masked"),
    ]  # fmt: skip
    assert shown.masked == (5,)
    assert [(m.value, m.state) for m in shown.meanings] == [("silver", ""), ("pickup", "struck")]


def test_the_other_vehicle_is_kept_apart_and_the_scene_is_proposed_in_one_order() -> None:
    bus = CueView(Cue("body", ("bus",), (Span(9, 15),), "pickup", vehicle="B"), "other vehicle body bus", False)
    shown = heard(TEXT, (CUES[0], bus), (), scene={"trapped": "perhaps", "fire": "no"})
    assert [(m.heading, m.value) for m in shown.others] == [("body", "bus")]
    assert [m.heading for m in shown.own] == ["scene"]
    assert shown.scene == (("on fire", "no"), ("somebody trapped", "perhaps"))
