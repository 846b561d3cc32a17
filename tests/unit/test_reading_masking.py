"""What is masked: numbers to ring, plates, e-mail, people, addresses; and what only looks like it."""

import pytest

from tests.unit.reading_cases import reading, said


def masked(text: str) -> list[str]:
    return [text[span.start : span.end] for span in reading(text).masked]


@pytest.mark.parametrize(
    ("text", "hidden"),
    [
        ("Mr White said it's a red van", ["Mr White"]),
        ("my name is Dave Smith, white van", ["Dave Smith"]),
        ("my name is dave smith and there's a white van", ["dave smith"]),
        ("my dad's name is Bob White", ["Bob White"]),
        ("driver called Sharon is trapped", ["Sharon"]),
        ("this is Sarah speaking", ["Sarah"]),
        ("speaking to Dave, blue hatch", ["Dave"]),
        ("contact Jean on 07700 900456", ["Jean", "07700 900456"]),
        ("caller is Mrs Jane Green, red hatch", ["Mrs Jane Green"]),
        ("PC Brown on scene. brown saloon", ["PC Brown"]),
        ("Watch Manager Idris Halloway, a red van", ["Manager Idris Halloway"]),
        ("Ralph Penniman here. it tipped over", ["Ralph Penniman"]),
        ("Denise Carver said she'd left her pickup", ["Denise Carver"]),
        ("Tango Four from Control, white van", []),
        ("VEH WHI PK REG KP19 ZZA DRIVER MR BLACK", ["KP19 ZZA", "MR BLACK"]),
    ],
)
def test_people(text: str, hidden: list[str]) -> None:
    assert masked(text) == hidden


@pytest.mark.parametrize(
    ("text", "hidden"),
    [
        ("ring me on 07700 900123, silver estate", ["07700 900123"]),
        ("+44 7700 900123", ["+44 7700 900123"]),
        ("(020) 7946-0123", ["(020) 7946-0123"]),
        ("555-0123", ["555-0123"]),
        ("phone is oh seven seven double oh nine double oh one two three white van", None),
        ("reg AB21 CDE blue hatch", ["AB21 CDE"]),
        ("reg ABC 123, white ute", ["ABC 123"]),
        ("plate is alpha bravo two one charlie delta echo", ["alpha bravo two one charlie delta echo"]),
        ("dave@example.com", ["dave@example.com"]),
        ("smoke pouring out. 61 Mulga Tce Wirrabilla, may spread", ["61 Mulga Tce Wirrabilla"]),
        ("outside 48 Larkspur Ave, Dunmore OH. red van", ["48 Larkspur Ave, Dunmore OH"]),
        ("in the canal by 6 Lockside Row, Hawkeridge. a van", ["6 Lockside Row, Hawkeridge"]),
        ("at 8, Rue des Saules, Montbrac", ["8, Rue des Saules, Montbrac"]),
        ("What's the plate? Uh, 8TRW551. A red van", ["8TRW551"]),
        ("dave at example dot com, red van", ["dave at example dot com"]),
        ("I'm at 14 Green Street, Halden. white van", ["14 Green Street, Halden"]),
        ("14 green street, red van", ["14 green street"]),
    ],
)
def test_numbers_and_addresses(text: str, hidden: list[str] | None) -> None:
    wanted = ["oh seven seven double oh nine double oh one two three"] if hidden is None else hidden
    assert masked(text) == wanted


@pytest.mark.parametrize(
    "text",
    [
        "21 plate, CCS2, port left rear",
        "5 door estate",
        "4 Door Estate",
        "White Van Left Rear",
        "a van called Vandrel",
        "badge says Zorvex",
        "on Green Street",
        "2019 to 2021",
        "vin DEMKL2V4XRA000123",
        "this is a white van",
        "2 way street",
        "HH76H762 reads the paper",
    ],
)
def test_what_only_looks_like_it(text: str) -> None:
    assert masked(text) == []


def test_what_is_masked_is_neither_a_cue_nor_unread() -> None:
    text = "Mrs White of 14 Green Street, reg BL21 ACK, rings about a silver van"
    assert said(text) == {"colour=silver", "body=van"}
    hidden = {at for span in reading(text).masked for at in range(span.start, span.end)}
    shown = [*reading(text).unread, *(span for cue in reading(text).cues for span in cue.spans)]
    assert not any(at in hidden for span in shown for at in range(span.start, span.end))


def test_a_mask_takes_nothing_from_what_stands_right_beside_it() -> None:
    text = "e@di+HH76H762"  # found by fuzzing
    assert masked(text) == ["e@di"]
    assert said(text) == {"vin=HH76H762*?"}
