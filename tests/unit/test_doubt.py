"""Taking a fact of a record back, and putting it in again."""

from dataclasses import replace

import pytest

from catalog.domain.documents import document_from_record
from catalog.domain.doubt import is_hazard, may_be_doubted, put_back, said_at, without
from catalog.domain.record import Record, list_at, list_paths
from schemas.record import check_record
from tests.plan_cases import demo_records


def paths_of(record: Record) -> list[str]:
    items = [f"{name}[{item}]" for name, ids in record.items.items() for item in ids]
    return [
        *record.facts,
        *items,
        *(f"complete.{name}" for name in record.complete),
        *(f"notes.{n.id}" for n in record.notes),
    ]


def test_whatever_the_demo_says_can_be_doubted_and_put_back() -> None:
    tried = 0
    for place, record in enumerate(demo_records().values()):
        for path in paths_of(record):
            assert may_be_doubted(path)
            if not said_at(record, path):
                continue  # a bare item says nothing
            doubted = without(record, path)
            assert not said_at(doubted, path)
            if place < 2 and (path[-1] == "]" or path.startswith("complete.")):
                check_record(document_from_record(doubted))  # the gate takes it; slow, so of the odd ones only
            assert put_back(doubted, path, record) == record
            tried += 1
    assert tried > 1000


def test_nothing_else_changes() -> None:
    record = next(one for one in demo_records().values() if one.items.get("restraints.airbags"))
    path = f"restraints.airbags[{record.items['restraints.airbags'][0]}].place"
    doubted = without(record, path)
    assert dict(doubted.facts) == {own: fact for own, fact in record.facts.items() if own != path}
    assert replace(doubted, facts=record.facts) == record


def test_of_a_hazard_the_bare_item_stays_and_is_read_protectively() -> None:
    record = next(one for one in demo_records().values() if one.items.get("restraints.airbags"))
    item = record.items["restraints.airbags"][0]
    doubted = without(record, f"restraints.airbags[{item}]")
    assert item in doubted.items["restraints.airbags"]
    assert not any(own.startswith(f"restraints.airbags[{item}]") for own in doubted.facts)


def test_an_aid_goes_and_its_list_is_complete_no_longer() -> None:
    record = next(one for one in demo_records().values() if one.items.get("cutoff.methods"))
    item = record.items["cutoff.methods"][0]
    told = replace(record, complete={**record.complete, "cutoff.methods": next(iter(record.facts.values()))})
    doubted = without(told, f"cutoff.methods[{item}]")
    assert item not in doubted.items.get("cutoff.methods", ())
    assert "cutoff.methods" not in doubted.complete
    assert put_back(doubted, f"cutoff.methods[{item}]", told) == told


def test_a_list_that_names_none_is_not_stated_once_that_is_doubted() -> None:
    """An empty list says "none"; without anybody saying so it must not be there."""
    record = next(iter(demo_records().values()))
    fact = next(iter(record.facts.values()))
    told = replace(
        record,
        items={**record.items, "structure.ram": ()},
        complete={**record.complete, "structure.ram": fact},
        facts={own: each for own, each in record.facts.items() if not own.startswith("structure.ram[")},
    )
    doubted = without(told, "complete.structure.ram")
    assert "structure.ram" not in doubted.items
    assert put_back(doubted, "complete.structure.ram", told) == told


@pytest.mark.parametrize(
    "path",
    ["", "identity.make", "ports", "ports[a].door", "ports[]", "nothing.here", "complete.nothing", "notes.", "x[a]"],
)
def test_what_names_no_fact_cannot_be_doubted(path: str) -> None:
    assert not may_be_doubted(path)


def test_what_is_not_stated_cannot_be_taken_back() -> None:
    with pytest.raises(KeyError):
        without(next(iter(demo_records().values())), "ports[zz].place")


def test_which_lists_are_of_hazards() -> None:
    """The aids: whoever counts on one that is not there is hurt by it. Our reading of the specification, no source."""
    aids = {name for name in list_paths() if not is_hazard(list_at(name))}
    assert aids == {
        "looks.badges", "ports", "cutoff.methods", "structure.lift", "structure.strut", "structure.ram", "access.doors",
        "heavy.switches",
    }  # fmt: skip
