"""Police vehicle codes as dispatchers type them, read into our own vocabulary.

Colour codes: the 27 of the NCIC vehicle colour list, as published by the Washington State Justice
Information Network (Judicial/NCIC code tables). Which colour of ours each stands for is our
choice: shades lose their shade, chrome and stainless steel are "chrome". MUL (multicoloured) names
no colour, so it stays unread and in view.
Body codes 2D, 3D, 4D, BU, CV: NIEM's enumeration of NCIC vehicle styles; 4D covers a saloon or a
four-door pickup. PK and VN: common practice, no source.
"""

import pytest

from catalog.domain.vocabulary import COLOUR
from tests.unit.reading_cases import said, unread

COLOURS = {
    "BGE": "beige", "BLK": "black", "BLU": "blue", "BRO": "brown", "BRZ": "bronze", "COM": "chrome",
    "CPR": "copper", "CRM": "cream", "DBL": "blue", "DGR": "green", "GLD": "gold", "GRN": "green",
    "GRY": "grey", "LAV": "purple", "LBL": "blue", "LGR": "green", "MAR": "maroon", "ONG": "orange",
    "PLE": "purple", "PNK": "pink", "RED": "red", "SIL": "silver", "TAN": "tan", "TRQ": "turquoise",
    "WHI": "white", "YEL": "yellow", "MUL": None,
}  # fmt: skip


def test_all_twenty_seven_are_here_and_name_colours_of_ours() -> None:
    assert len(COLOURS) == 27
    assert {colour for colour in COLOURS.values() if colour} <= set(COLOUR.keys)


@pytest.mark.parametrize("code", [code for code, colour in COLOURS.items() if colour])
def test_colour_code(code: str) -> None:
    assert f"colour={COLOURS[code]}" in said(f"VEH 1 {code} VN")


def test_many_colours_is_no_colour() -> None:
    assert said("MUL VN") == {"body=van"}
    assert unread("MUL VN") == ["MUL"]


@pytest.mark.parametrize("text", ["bro come quickly", "com port", "the mar", "ong", "ple", "lav"])
def test_codes_that_are_words_count_in_capitals_only(text: str) -> None:
    assert not any(cue.startswith("colour") for cue in said(text))


@pytest.mark.parametrize(
    ("code", "cues"),
    [
        ("WHI 2D", {"colour=white", "doors=2"}),
        ("WHI 3D", {"colour=white", "doors=3"}),
        ("WHI 4D", {"colour=white", "doors=4", "body=pickup,saloon?"}),
        ("WHI PK 4D", {"colour=white", "doors=4", "body=pickup"}),
        ("BLK CV", {"colour=black", "body=convertible"}),
        ("YEL BU", {"colour=yellow", "body=bus"}),
        ("SIL VN", {"colour=silver", "body=van"}),
    ],
)
def test_body_code(code: str, cues: set[str]) -> None:
    assert said(code) == cues
