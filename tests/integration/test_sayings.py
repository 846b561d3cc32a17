"""What people say, as an edition lists it: reviewable, and told apart from what this program reads by."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalog.app import create_app
from catalog.config import Settings
from catalog.resolve.reading.phrases import rows
from catalog.resolve.reading.sayings import documents, listed
from catalog.services.house import House, open_house
from catalog.services.sayings import list_sayings
from catalog.store import vocabularies
from catalog.store.engine import write
from catalog.store.publication import Publication
from catalog.store.publish import publish


@pytest.fixture
def house(demo_data: Path, tmp_path: Path) -> Iterator[House]:
    folder = tmp_path / "data"
    shutil.copytree(demo_data, folder)
    made = open_house(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))
    yield made
    made.engine.dispose()


def test_every_row_of_the_phrase_table_is_listed() -> None:
    said = {(row.attribute, row.value) for row in listed(documents())}
    for _, meaning in rows():
        if not meaning.attribute.startswith("@"):
            assert any(
                about == meaning.attribute and set(value.split("|")) == set("|".join(meaning.values).split("|"))
                for about, value in said
            ), meaning


def test_the_newest_edition_lists_what_this_program_reads_by(house: House) -> None:
    found = list_sayings(house)
    assert (found.listed_in, found.changed) == (3, ())
    assert len(found.rows) == found.total > 500


def test_words_are_found_in_sayings_and_in_their_sets(house: House) -> None:
    by_saying = list_sayings(house, words="Silver")
    assert any(row.attribute == "colour" and row.value == "silver" for row in by_saying.rows)
    by_set = list_sayings(house, about="tailpipe", words="muffler")
    assert {row.value for row in by_set.rows} == {"yes", "none"}
    assert all(any("muffler" in entry for entries in row.sets.values() for entry in entries) for row in by_set.rows[:1])
    assert not list_sayings(house, words="zorble").rows


def test_tables_an_edition_does_not_list_yet_are_named(house: House) -> None:
    older = {key: table for key, table in vocabularies.vocabulary_documents().items() if key != "sayings-colour"}
    older["sayings-body"] = {"rows": [{"attribute": "body", "value": "van", "say": ["zorble"]}]}
    with write(house.engine) as conn:
        publish(conn, Publication("A. Nother", "as an older program would", vocabularies=older), now_us=1)
    found = list_sayings(house, words="zorble")
    assert found.listed_in == 4
    assert found.changed == ("sayings-body", "sayings-colour")
    assert [(row.attribute, row.value, row.says) for row in found.rows] == [("body", "van", ("zorble",))]
    assert found.total < len(list(listed(documents())))


def test_the_stewards_list_goes_from_page_to_page_keeping_what_was_asked_for(house: House) -> None:
    app = create_app(house.settings)
    client = app.test_client()
    first = client.get("/steward/sayings?words=a&page=1")
    assert first.status_code == 200
    assert 'href="?words=a&amp;page=2#rows">next' in first.text
    assert ">previous<" not in first.text
    second = client.get("/steward/sayings?words=a&page=2")
    assert 'href="?words=a&amp;page=1#rows">previous' in second.text
    shown = [text.count('class="panel in said"') for text in (first.text, second.text)]
    assert shown == [50, 50]
    assert client.get("/steward/sayings?page=x").status_code == 400
    app.extensions["chockbook"].engine.dispose()
