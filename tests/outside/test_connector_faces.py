"""The drawn faces of the couplers against what is published of their contacts, rows and outlines.

Where each value was read stands beside it; the standards themselves were not at hand. What no source at hand told is
from memory, and marked so; `Face.basis` says the same to whoever shows a face.
"""

import pytest

from catalog.draw.connectors import LARGE, SMALL, Contact, face, faces

_TYPE2 = "encyclopedia article on the type 2 connector, copy at twiki.owiki.org"
_TYPE1 = "guide to charge ports, synergycarleasing.co.uk: three large pins, two smaller ones"
_CCS = "encyclopedia article on the combined system, copy at jsmindgo.com: two large DC pins are added below"
_MEGAWATT = "encyclopedia article on the megawatt system, copy at pinocchiopedia.com: 2 DC, 4 communication, 1 PE"

# key: contacts in each row from the top (small, larger), where read.
ROWS = {
    "type2": ([(2, 0), (0, 3), (0, 2)], f"{_TYPE2}: two small above, three in the middle row, two in the bottom row"),
    "gbt_ac": ([(2, 0), (0, 3), (0, 2)], f"{_TYPE2}: GB/T 20234.2 takes connectors of the type 2 style"),
    "ccs2": ([(2, 0), (0, 3), (0, 2), (0, 2)], f"{_TYPE2}; {_CCS}"),
    "type1": ([(0, 2), (2, 0), (0, 1)], f"counts: {_TYPE1}; rows: from memory of SAE J1772"),
    "ccs1": ([(0, 2), (2, 0), (0, 1), (0, 2)], f"as type 1; {_CCS}"),
    "j3400": ([(0, 2), (2, 0), (0, 1)], "from memory of SAE J3400"),
    "chademo": ([(0, 2)], "the DC contacts: from memory of IEC 62196-3 configuration AA"),
    "gbt_dc": ([(0, 2)], "the DC contacts: from memory of GB/T 20234.3"),
}

# key: contacts that carry DC, where read.
DC = {
    "type1": (0, "SAE J1772 summary, doc.surf: AC only"),
    "type2": (0, f"{_TYPE2}: AC, DC on one maker's vehicles only"),
    "ccs1": (2, _CCS),
    "ccs2": (2, _CCS),
    "chademo": (2, "from memory of IEC 62196-3 configuration AA"),
    "gbt_dc": (2, "cnevcharger.com on GB/T 20234.3: DC+ and DC-"),
    "gbt_ac": (0, "the title of GB/T 20234.2: an AC coupler"),
}

EARTHS = {
    "type1": "SAE J1772 summary, doc.surf: PE",
    "type2": f"{_TYPE2}: the centre pin of the middle row",
    "ccs1": "as type 1",
    "ccs2": "as type 2",
    "gbt_ac": "cnevcharger.com on GB/T 20234.2: PE",
    "j3400": "encyclopedia article on J3400, copy at wiki.av1.space: G",
}

SIGNALS = {
    "type1": (2, "SAE J1772 summary, doc.surf: CP, PP"),
    "type2": (2, f"{_TYPE2}: two small contacts for signalling"),
    "gbt_ac": (2, "cnevcharger.com on GB/T 20234.2: CC, CP"),
    "j3400": (2, "encyclopedia article on J3400, copy at wiki.av1.space: CP, PP"),
}

# Those whose contacts a source arranges in words; the others are drawn from memory, or not at all.
PUBLISHED = {"type2", "ccs2", "gbt_ac"}
NOT_AT_HAND = {"mcs", "own"}


def rows(contacts: tuple[Contact, ...]) -> list[tuple[int, int]]:
    """(small, larger) of each row from the top; contacts within half a small one's height share a row."""
    made: list[list[Contact]] = []
    for contact in sorted(contacts, key=lambda one: one.y):
        if made and contact.y - made[-1][-1].y <= SMALL:
            made[-1].append(contact)
        else:
            made.append([contact])
    return [(sum(one.r == SMALL for one in row), sum(one.r > SMALL for one in row)) for row in made]


@pytest.mark.parametrize(("key", "read"), ROWS.items())
def test_rows(key: str, read: tuple[list[tuple[int, int]], str]) -> None:
    assert rows(face(key).contacts) == read[0], read[1]


@pytest.mark.parametrize(("key", "read"), DC.items())
def test_contacts_for_dc(key: str, read: tuple[int, str]) -> None:
    carry = [contact for contact in face(key).contacts if contact.kind == "dc"]
    assert len(carry) == read[0], read[1]
    assert all(contact.r == LARGE for contact in carry)


@pytest.mark.parametrize("key", ["ccs1", "ccs2"])
def test_dc_stands_below_everything_else(key: str) -> None:
    """Two large DC contacts are added below (source of DC above)."""
    contacts = face(key).contacts
    carry = [one.y for one in contacts if one.kind == "dc"]
    assert min(carry) > max(one.y for one in contacts if one.kind != "dc")
    upper = tuple(one for one in contacts if one.kind != "dc")
    assert upper == face({"ccs1": "type1", "ccs2": "type2"}[key]).contacts


@pytest.mark.parametrize(("key", "source"), EARTHS.items())
def test_one_earth_on_the_centre_line(key: str, source: str) -> None:
    (earth,) = (contact for contact in face(key).contacts if contact.kind == "earth")
    assert earth.x == 500, source


def test_the_earth_of_type_2_is_the_middle_of_its_middle_row() -> None:
    (earth,) = (contact for contact in face("type2").contacts if contact.kind == "earth")
    beside = [one.x for one in face("type2").contacts if one.y == earth.y and one is not earth]
    assert len(beside) == 2, _TYPE2
    assert min(beside) < earth.x < max(beside)


@pytest.mark.parametrize(("key", "read"), SIGNALS.items())
def test_signal_contacts_are_the_small_ones(key: str, read: tuple[int, str]) -> None:
    small = [one for one in face(key).contacts if one.r == SMALL]
    assert len(small) == read[0], read[1]
    assert {one.kind for one in small} == {"signal"}


def test_only_the_chinese_ac_port_has_holes() -> None:
    """Its vehicles carry the female side, the opposite of the rest of the world (same copy of the type 2 article)."""
    assert {one.key for one in faces() if one.holes} == {"gbt_ac"}


def test_outlines_in_words() -> None:
    told = {
        "type1": ("Round", "SAE J1772 summary, doc.surf: a diameter of 43.8 mm"),
        "type2": ("flat on top", f"{_TYPE2}: circular, with a flattened top edge"),
        "chademo": ("Round", "chademo.com on the connector: round, 70 mm in diameter"),
        "mcs": ("Triangular", "inkl.com on the megawatt connector: a triangular connection"),
    }
    for key, (word, source) in told.items():
        assert any(word in line for line in face(key).words), (key, source)


def test_the_megawatt_face_is_told_and_not_drawn() -> None:
    """What was read counts its contacts and does not arrange them."""
    one = face("mcs")
    assert not one.contacts
    assert one.unplaced == 2 + 4 + 1, _MEGAWATT
    assert any("Two large DC contacts, an earth, four small ones" in line for line in one.words)


def test_what_a_face_rests_on_is_said() -> None:
    assert {one.key for one in faces() if one.basis == "published"} == PUBLISHED
    assert {one.key for one in faces() if one.basis == ""} == NOT_AT_HAND
    assert {one.key for one in faces()} == set(ROWS) | NOT_AT_HAND
