"""What a cue may say: every value the reader makes can be sent back, and nothing else passes."""

import json
from pathlib import Path

import pytest

from catalog.domain.attributes import ATTRIBUTES, closed_terms, form_of, value_of
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.reading.reader import read

READINGS = Path(__file__).parents[1] / "eval" / "readings"
LEXICON = Lexicon((Name("kelvik", "Kelvik", "make"), Name("melox", "Melo-X", "model")))


@pytest.mark.parametrize("attribute", ATTRIBUTES)
def test_every_attribute_has_terms_or_a_form_that_its_own_terms_pass(attribute: str) -> None:
    assert form_of(attribute)
    assert all(value_of(attribute, term) == term for term in closed_terms(attribute))
    assert value_of(attribute, "||") is None


def test_whatever_is_read_can_be_sent_back() -> None:
    lines = [json.loads(line) for line in (READINGS / "hurried.jsonl").read_text("utf-8").splitlines() if line.strip()]
    texts = [line["text"] for line in lines if line["part"] == "development"]
    texts += ["vin X9QABCDEFGH123456", "badge starts with B, ends in O", "2019 to 2021, melo x, plate AB12 CDE"]
    cues = [cue for text in texts for cue in read(text, LEXICON, "left").cues]
    assert len({cue.attribute for cue in cues}) > 12
    assert [cue for cue in cues if tuple(value_of(cue.attribute, value) for value in cue.values) != cue.values] == []


@pytest.mark.parametrize(
    ("attribute", "written", "value"),
    [
        ("name", "  Mélo-X ", "melo x"),
        ("name", "B*", "b*"),
        ("name", "*", None),
        ("name", "x" * 61, None),
        ("vin", "x9q abc defgh1", "X90ABCDEFGH1"),
        ("vin", "X9Q*", "X90*"),
        ("vin", "X9B", None),
        ("vin", "*4421", "*4421"),
        ("years", "2019-2021", "2019-2021"),
        ("years", "2021-2019", None),
        ("years", "19", None),
        ("years", "٢٠١٩", None),
        ("port_place", "left|rear|", "left|rear|"),
        ("port_place", "near|rear|", None),
        ("port_place", "left|rear", None),
        ("doors", "5", "5"),
        ("doors", "9", None),
        ("body", "Pickup", None),
    ],
)
def test_values_of_a_form_are_written_one_way(attribute: str, written: str, value: str | None) -> None:
    assert value_of(attribute, written) == value
