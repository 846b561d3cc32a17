"""The commands against a prepared demo catalogue, as a person would type them."""

import io
import json
import re
import shutil
import sqlite3
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

import seed_demo
from catalog.cli.main import run
from catalog.config import Settings
from catalog.domain.cautions import DEMO_MARK, FULL
from catalog.domain.roles import Role
from catalog.services.house import open_house
from tests.people import somebody, token_of

SAID = "white pickup, port left rear"


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended."""

    status: int
    out: str
    err: str

    @property
    def words(self) -> str:
        """The output as one run of words, so that wrapping does not matter."""
        return re.sub(r"\s+", " ", self.out)


Chockbook = Callable[..., Ended]


@pytest.fixture
def chockbook(demo_data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Chockbook:
    """Run a command on the demo catalogue; `data=` on another folder."""

    def type_(*arguments: str, data: Path = demo_data) -> Ended:
        monkeypatch.setenv("CHOCKBOOK_DATA", str(data))
        status = run(arguments)
        return Ended(status, *capsys.readouterr())

    return type_


@pytest.fixture
def own_data(demo_data: Path, tmp_path: Path) -> Path:
    """A copy of the demo catalogue that may be written to."""
    return Path(shutil.copytree(demo_data, tmp_path / "data"))


@pytest.fixture(scope="module")
def demo() -> seed_demo.Demo:
    return seed_demo.load()


@pytest.fixture(scope="module")
def code(demo: seed_demo.Demo) -> str:
    """A record that is in every edition."""
    gone = {code for edition in demo.editions for code in edition.withdrawn}
    return min(set(demo.editions[0].records) - gone)


def test_resolve_gives_a_page_with_mark_edition_vehicles_and_cautions(chockbook: Chockbook) -> None:
    ended = chockbook("resolve", SAID)
    assert ended.status == 0
    assert ended.err == ""
    lines = ended.out.splitlines()
    assert lines[0] == DEMO_MARK
    assert re.fullmatch(r"edition \d+, \d{4}-\d\d-\d\d", lines[1])
    assert "Possible vehicles" in ended.out
    assert " 0  Not in this catalogue" in ended.out
    assert all(caution in ended.words for caution in FULL)
    assert "%" not in ended.out
    assert max(map(len, lines)) <= 80


def test_resolve_as_json_holds_the_agreed_keys_and_adds_up(chockbook: Chockbook) -> None:
    answer = json.loads(chockbook("resolve", SAID, "--json").out)
    assert {"edition", "cues", "unread", "candidates", "others", "unlisted"} <= answer.keys()
    for candidate in answer["candidates"]:
        assert {"code", "title", "probability", "word", "why"} <= candidate.keys()
        assert 0 < candidate["probability"] < 1
    assert {"probability", "band"} <= answer["unlisted"].keys()
    listed = sum(candidate["probability"] for candidate in answer["candidates"])
    assert listed + answer["others"] + answer["unlisted"]["probability"] == pytest.approx(1, abs=1e-9)
    assert DEMO_MARK in answer["cautions"]


def test_explaining_adds_bits_facts_and_what_looks_alike(chockbook: Chockbook) -> None:
    ended = chockbook("resolve", "--explain", "electric pickup, port left rear")
    assert ended.status == 0
    for words in ("in bits against the average vehicle", "These look alike, together", "Differs: plan for the most"):
        assert words in ended.words
    assert "not in this catalogue" in ended.words
    assert max(map(len, ended.out.splitlines())) <= 80
    answer = json.loads(chockbook("resolve", "--explain", "--json", SAID).out)
    assert {"facts", "groups"} <= answer.keys()
    assert all(candidate["bits"] for candidate in answer["candidates"])


def test_lookalikes_for_a_caller_and_for_a_crew(chockbook: Chockbook, code: str) -> None:
    page = chockbook("lookalikes", code)
    assert page.status == 0
    assert page.out.startswith(DEMO_MARK)
    assert all(caution in page.words for caution in FULL)
    answer = json.loads(chockbook("lookalikes", code, "--crew", "--limit", "2", "--json").out)
    assert (answer["code"], answer["observer"]) == (code, "crew")
    assert chockbook("lookalikes", "AAA-AAA").status != 0


def test_questions_are_put_and_answered_on_the_terminal(chockbook: Chockbook, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("Garvandine\nx\n99\n1\n0\n"))
    ended = chockbook("resolve", "--ask", "--caller", "away", "white pickup")
    assert ended.status == 0
    assert "What make is it" in ended.words
    assert "(may settle: " in ended.words
    assert ended.words.count("Give a number from 0 to") == 2
    assert ended.out.count("\n   0  can't tell") == 3
    assert "Enough was asked for one call." in ended.words
    assert "If none of these fits, treat it as not in this catalogue" in ended.words
    assert "“Garvandine” make Garvandine" in ended.words
    assert ended.words.index("Enough was asked") < ended.words.index("Possible vehicles")


def test_an_empty_answer_ends_the_asking(chockbook: Chockbook, monkeypatch: pytest.MonkeyPatch) -> None:
    for typed in ("\n", ""):
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        ended = chockbook("resolve", "--ask", "white pickup")
        assert (ended.status, ended.out.count("> ")) == (0, 1)
        assert "Possible vehicles" in ended.out


def test_asking_needs_standard_input_for_the_answers(chockbook: Chockbook) -> None:
    for arguments in (("--ask", "--json", "van"), ("--ask", "-")):
        assert "--ask reads answers from standard input" in chockbook("resolve", *arguments).err


def test_explaining_says_what_to_ask_next(chockbook: Chockbook) -> None:
    ended = chockbook("resolve", "--explain", "--caller", "away", "white pickup")
    assert "Ask next" in ended.out
    assert "do not send them nearer" in ended.words
    assert "can't tell [name]" in ended.words


def test_not_this_vehicle_on_the_terminal(chockbook: Chockbook) -> None:
    first = json.loads(chockbook("resolve", "--json", SAID).out)["candidates"][0]["code"]
    ended = chockbook("resolve", "--not-this", first, SAID)
    assert f"[{first}]: far less likely, not ruled out" in ended.words
    assert "is not a record code" in chockbook("resolve", "--not-this", "7", SAID).err


def test_a_limit_beyond_the_catalogue_means_all(chockbook: Chockbook) -> None:
    every = json.loads(chockbook("resolve", SAID, "--json", "--limit", "100000").out)
    assert every["others_count"] == 0
    assert len(every["candidates"]) > 10
    one = json.loads(chockbook("resolve", SAID, "--json", "--limit", "1").out)
    assert [entry["code"] for entry in one["candidates"]] == [every["candidates"][0]["code"]]
    assert one["others_count"] == len(every["candidates"]) - 1


def test_the_page_shows_as_many_as_asked_for(chockbook: Chockbook) -> None:
    shown = [line for line in chockbook("resolve", SAID, "--limit", "7").out.splitlines() if re.match(r" \d  ", line)]
    assert [line[1] for line in shown] == ["1", "2", "3", "4", "5", "6", "7", "0"]


def test_left_and_right_change_the_answer(chockbook: Chockbook) -> None:
    left = json.loads(chockbook("resolve", "pickup, port left rear", "--json").out)
    right = json.loads(chockbook("resolve", "pickup, port right rear", "--json").out)
    assert left["candidates"][0]["code"] != right["candidates"][0]["code"]


def test_the_driving_side_decides_nearside(chockbook: Chockbook) -> None:
    said = ("resolve", "pickup, port nearside rear", "--json", "--driving-side")
    left, right = json.loads(chockbook(*said, "left").out), json.loads(chockbook(*said, "right").out)
    assert (left["driving_side"], right["driving_side"]) == ("left", "right")
    assert left["candidates"][0]["code"] != right["candidates"][0]["code"]


def test_words_need_no_quotes_and_can_come_from_standard_input(
    chockbook: Chockbook, monkeypatch: pytest.MonkeyPatch
) -> None:
    quoted = chockbook("resolve", SAID).out
    assert "Possible vehicles" in quoted
    assert chockbook("resolve", *SAID.split()).out == quoted
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{SAID}\n"))
    assert chockbook("resolve", "-").out == quoted


def test_nothing_understood_lists_nothing_and_says_what_to_say(chockbook: Chockbook) -> None:
    ended = chockbook("resolve", "blorp zzkrt")
    assert ended.status == 0
    assert "Possible vehicles" not in ended.out
    assert "Say the shape" in ended.words


def test_too_long_a_description_is_refused(chockbook: Chockbook) -> None:
    ended = chockbook("resolve", "pickup " * 400)
    assert ended.status == 2
    assert "at most 2000" in ended.err


def test_a_record_is_found_by_any_spelling_of_its_code(chockbook: Chockbook, code: str) -> None:
    page = chockbook("record", code)
    assert page.status == 0
    assert page.out.splitlines()[0] == DEMO_MARK
    assert "Charge port: only if no fire, smoke or water" in page.out
    assert chockbook("record", code.lower().replace("-", "")).out == page.out
    assert max(map(len, page.out.splitlines())) <= 80


def test_a_record_in_the_order_of_the_guide_template(chockbook: Chockbook, code: str) -> None:
    page = chockbook("record", code, "--order", "iso17840-3")
    headings = [line for line in page.out.splitlines() if re.match(r"[1-9] [A-Z]", line)]
    assert [heading[0] for heading in headings] == list("123456789")
    assert "Charge port: only if no fire, smoke or water" in page.out
    assert chockbook("record", code, "--order", "mine").status == 2


def test_a_record_as_json_writes_every_state_out(chockbook: Chockbook, code: str) -> None:
    made = json.loads(chockbook("record", code, "--json").out)
    keys = list(made)
    assert keys[0] == "code"
    assert keys.index("edition") < keys.index("revision") < keys.index("identity") < keys.index("looks")
    assert "ports" in made
    states = set(re.findall(r'"state": "(\w+)"', json.dumps(made)))
    assert {"stated", "not_stated"} <= states
    assert DEMO_MARK in made["cautions"]


def test_every_record_of_every_edition_can_be_printed(chockbook: Chockbook, demo: seed_demo.Demo) -> None:
    """Of each edition what it changed and one in five of the others; of the first one in five."""
    listed: set[str] = set()
    for edition in demo.editions:
        listed |= set(edition.records)
        for one in sorted({*sorted(listed)[::5], *(edition.records if edition.number > 1 else ())}):
            ended = chockbook("record", one, "--edition", str(edition.number))
            assert ended.status == 0, (one, ended.err)
            assert ("DO NOT USE" in ended.out) == any(
                one in gone.withdrawn for gone in demo.editions if gone.number <= edition.number
            )


def test_what_is_not_there_is_not_found(chockbook: Chockbook, code: str) -> None:
    for arguments in (("record", "AAAAAA"), ("record", code, "--edition", "99"), ("edition", "changes", "1", "99")):
        ended = chockbook(*arguments)
        assert ended.status == 3, arguments
        assert len(ended.err.splitlines()) == 2, "what is wrong, then what to do"
        assert ended.out == ""


def test_find_marks_the_words(chockbook: Chockbook) -> None:
    page = chockbook("find", "water", "pack", "--limit", "3")
    assert page.status == 0
    assert re.search(r"\*(water|pack)\*", page.out, re.IGNORECASE)
    found = json.loads(chockbook("find", "water", "--json").out)
    assert found["total"] >= len(found["hits"]) > 0
    nothing = chockbook("find", "zzkrt")
    assert nothing.status == 0
    assert "Nothing in notes or guides holds" in nothing.words


def test_editions_are_listed_newest_first(chockbook: Chockbook, demo: seed_demo.Demo) -> None:
    page = chockbook("edition", "list").out
    numbers = re.findall(r"^edition (\d+)  ", page, re.MULTILINE)
    assert numbers == [str(edition.number) for edition in reversed(demo.editions)]
    listed = json.loads(chockbook("edition", "list", "--json").out)["editions"]
    assert [entry["number"] for entry in listed] == [int(number) for number in numbers]


def test_changes_between_editions_say_before_and_after(chockbook: Chockbook) -> None:
    page = chockbook("edition", "changes", "1", "2").out
    assert "From edition 1 to edition 2" in page
    assert re.search(r"^ {4}was  ", page, re.MULTILINE)
    assert re.search(r"^ {4}now  ", page, re.MULTILINE)
    back = chockbook("edition", "changes", "2", "1").out
    assert "From edition 2 to edition 1" in back


@pytest.fixture
def exporting(own_data: Path, chockbook: Chockbook, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ended]:
    """Run the export command as a steward's program on a copy of the demo catalogue."""
    house = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(own_data)}))
    somebody(house, "tam.orrell", Role.STEWARD)
    monkeypatch.setenv("CHOCKBOOK_TOKEN", token_of(house, "tam.orrell", Role.STEWARD))
    house.engine.dispose()
    return lambda *arguments: chockbook("export", *arguments, data=own_data)


def test_export_is_a_person_s(chockbook: Chockbook) -> None:
    ended = chockbook("export", "--output", "-")
    assert ended.status == 6
    assert ended.out == ""
    assert "in whose name" in ended.err


def test_export_writes_one_document_a_line_and_replaces_the_file_only_when_done(
    exporting: Callable[..., Ended], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tmp_path = tmp_path / "out"
    tmp_path.mkdir()
    target = tmp_path / "all.jsonl"
    target.write_text("what was there before", "utf-8")
    ended = exporting("--output", str(target))
    assert ended.status == 0
    assert ended.out == ""
    documents = [json.loads(line) for line in target.read_text("utf-8").splitlines()]
    assert {document["kind"] for document in documents} >= {"record", "source"}
    assert f"{len(documents)} documents" in ended.err
    assert exporting("--output", "-").out == target.read_text("utf-8")

    def broken(*_: object, **__: object) -> object:
        yield documents[0]
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("catalog.services.exporting.export_records", broken)
    before = target.read_bytes()
    ended = exporting("--output", str(target))
    assert ended.status == 4
    assert "No space left on device" in ended.err
    assert target.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["all.jsonl"]


def test_export_as_a_workbook_and_as_a_folder_of_csv(exporting: Callable[..., Ended], tmp_path: Path) -> None:
    book, folder = tmp_path / "all.xlsx", tmp_path / "all"
    assert exporting("--format", "xlsx", "--output", str(book)).status == 0
    assert book.read_bytes()[:2] == b"PK"
    assert exporting("--format", "csv", "--output", str(folder)).status == 0
    assert {path.name for path in folder.iterdir()} >= {
        "identity.csv",
        "ports.csv",
        "cutoff-methods.csv",
        "sources.csv",
    }
    before = (folder / "ports.csv").read_bytes()
    again = exporting("--format", "csv", "--output", str(folder))
    assert again.status == 2
    assert "is there already" in again.err
    assert (folder / "ports.csv").read_bytes() == before
    assert exporting("--format", "csv", "--output", str(tmp_path / "all.zip")).status == 0
    assert (tmp_path / "all.zip").read_bytes()[:2] == b"PK"


def test_export_of_an_earlier_edition(exporting: Callable[..., Ended], demo: seed_demo.Demo) -> None:
    documents = [json.loads(line) for line in exporting("--output", "-", "--edition", "1").out.splitlines()]
    records = {document["key"] for document in documents if document["kind"] == "record"}
    assert records == set(demo.editions[0].records)


def test_export_never_replaces_a_device(exporting: Callable[..., Ended]) -> None:
    assert exporting("--output", "/dev/null").status == 0
    assert Path("/dev/null").is_char_device()


def test_the_schema_is_a_json_schema(chockbook: Chockbook) -> None:
    schema = json.loads(chockbook("schema").out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_verify_holds_and_knows_the_newest_hash(chockbook: Chockbook) -> None:
    ended = chockbook("verify")
    assert ended.status == 0
    assert "Every chain holds." in ended.words
    head = ended.out.split()[-1]
    assert chockbook("verify", "--expect", head.upper()).status == 0
    wrong = chockbook("verify", "--expect", "0" * 64)
    assert wrong.status == 1
    assert chockbook("verify", "--expect", "abc").status == 2


def test_verify_names_the_revision_that_was_changed_behind_its_back(chockbook: Chockbook, own_data: Path) -> None:
    with sqlite3.connect(own_data / "chockbook.db") as database:
        for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            database.execute(f'DROP TRIGGER "{name}"')
        key, content, digest = database.execute("SELECT code, content, hash FROM revisions LIMIT 1").fetchone()
        changed = bytes(content).replace(b"left", b"Left", 1)
        assert changed != content
        database.execute("UPDATE revisions SET content = ? WHERE hash = ?", (changed, digest))
    database.close()
    ended = chockbook("verify", data=own_data)
    assert ended.status == 1
    assert key in ended.words


def test_a_second_demo_run_changes_nothing(chockbook: Chockbook, own_data: Path) -> None:
    before = chockbook("edition", "list", data=own_data).out
    ended = chockbook("demo", "--no-serve", data=own_data)
    assert ended.status == 0
    assert "Publishing" not in ended.err
    assert chockbook("edition", "list", data=own_data).out == before


def test_the_demo_prepares_an_empty_folder_and_says_so(chockbook: Chockbook, tmp_path: Path) -> None:
    ended = chockbook("demo", "--no-serve", data=tmp_path / "new")
    assert ended.status == 0
    assert "Publishing edition 1" in ended.err
    assert DEMO_MARK in ended.out
    assert chockbook("verify", data=tmp_path / "new").status == 0


def test_the_demo_never_goes_into_a_catalogue_for_operations(
    chockbook: Chockbook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CHOCKBOOK_DEMO", "no")
    ended = chockbook("demo", "--no-serve", data=tmp_path / "real")
    assert ended.status == 5
    assert not (tmp_path / "real").exists()
