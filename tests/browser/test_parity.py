"""The phone's engine in a real browser gives what the server's gives: readings, probabilities, the search's whole view,
steps, briefs, records and strips.

The run takes a seeded sample; `python -m tests.browser.test_parity` takes all, and 2,000 generated descriptions.
"""

import json
import shutil
import sys
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from catalog.device.phone.asked import asked_from
from catalog.device.phone.drawn import drawn_of
from catalog.device.phone.facts import facts_of
from catalog.device.phone.model import Meta, Ticked
from catalog.device.phone.record import record_view
from catalog.device.phone.search import answer
from catalog.domain.attributes import closed_terms
from catalog.domain.documents import document_from_record
from catalog.domain.folding import fold_name
from catalog.domain.record import Record
from catalog.draw.model import POSTURES
from catalog.draw.strip import strip
from catalog.draw.svg import svg
from catalog.plan.brief import BriefInput, BriefVehicle, Data, Sure, brief_plan, compose
from catalog.plan.scene import FIELDS, Said, Scene
from catalog.plan.several import Field, Possible, plan_for_several
from catalog.plan.steps import plan_for
from catalog.resolve.answering.alike import alike_views
from catalog.resolve.evidence import gather
from catalog.resolve.fact_chances import fact_chances
from catalog.resolve.field import Field as Weighed
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import shipped
from catalog.resolve.posterior import posterior
from catalog.resolve.questions.table import expert_questions
from catalog.resolve.reading.reader import read
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.sights import Observer
from catalog.resolve.simulate import USUAL, Simulator, World, subject_of, text_of
from catalog.resolve.tables import tables_of
from tests.browser.parity_page import asked, edition_in, engine_in, near, plain, records_in
from tests.plan_cases import ALL, CARRIED, demo_records

TESTS = Path(__file__).parents[1]
SETS = (*sorted((TESTS / "eval" / "readings").glob("*.jsonl")), TESTS / "eval" / "sets" / "resolve.jsonl")
VECTORS = json.loads((TESTS / "vectors" / "reading.json").read_text(encoding="utf-8"))
# How many of each the run takes; the whole, all or as many as said.
READ, WEIGHED, SEARCHED, BRIEFS, RECORDS = 200, 100, 40, 60, 40
GENERATED, SCENES = 2000, 6
RATE = 0.12
DATA, UNLISTED = Data(14, "edition 14, 2026-03-02", True), Sure("unlikely", "about 1 in 10")
META = Meta("QPW-TF3", 14, "edition 14, 2026-03-02", 2, True)


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    opened = engine_in(browser)
    yield opened
    opened.close()


@cache
def rows() -> tuple[Row, ...]:
    return tuple(row_of(Entry(code, record)) for code, record in demo_records().items())


@cache
def documents() -> dict[str, Any]:
    return {code: document_from_record(record) for code, record in demo_records().items()}


@cache
def field() -> Weighed:
    return Weighed(tables_of(rows()), shipped(), RATE)


def written() -> list[tuple[str, str]]:
    found = [json.loads(line) for path in SETS for line in path.read_text(encoding="utf-8").splitlines() if line]
    return [(row["text"], row.get("driving_side", "left")) for row in found if "text" in row]


def generated(count: int) -> list[tuple[str, str]]:
    """Descriptions of demo vehicles, and of some that are in no catalogue, in raw words."""
    world = World([subject_of(row) for row in rows()])
    simulator = Simulator(world, USUAL, 8)
    made = [simulator.of(world.subjects[number % len(world.subjects)], number) for number in range(count)]
    return [(text_of(each, 8, number), "left") for number, each in enumerate(made)]


def same_reading(page: Page, texts: Sequence[tuple[str, str]], lexicon: Lexicon) -> None:
    asked(page, "names", [[[n.folded, n.shown, n.kind] for n in lexicon.names]])
    theirs = asked(page, "reading", texts)
    for (text, side), found in zip(texts, theirs, strict=True):
        assert found == plain(read(text, lexicon, side)), text


def test_texts_of_every_set_are_read_alike(page: Page) -> None:
    all_are_read_alike(page, READ)


def all_are_read_alike(page: Page, count: int | None = None) -> int:
    """count: how many, None for all. Returns how many there were."""
    texts = written()
    assert len(texts) > 1500
    chosen = texts if count is None else Random("read").sample(texts, count)
    same_reading(page, chosen, lexicon_of(field().tables))
    return len(chosen)


def test_the_vectors_are_read_as_they_say(page: Page) -> None:
    vectors_are_read_as_they_say(page)


def vectors_are_read_as_they_say(page: Page) -> int:
    lexicon = Lexicon(Name(fold_name(shown), shown, kind) for shown, kind in VECTORS["names"])
    texts = [(row["text"], row["driving_side"]) for row in VECTORS["texts"]]
    assert any(ord(char) > 0xFFFF for text, _ in texts for char in text)
    same_reading(page, texts, lexicon)
    return len(texts)


def test_odd_characters_are_read_alike(page: Page) -> None:
    draw = Random("odd")
    pool = "aé ß\u0301Щ漢🚑\u200d\ud7ff\ufeff²³ⅷ٣\u00a0\u2028'’-.,!?0123456789 port left white bus"
    texts = [("".join(draw.choices(pool, k=draw.randint(1, 60))), draw.choice(("left", "right"))) for _ in range(300)]
    same_reading(page, texts, Lexicon())


def test_every_probability_is_the_same(page: Page) -> None:
    texts = [*Random("weighed").sample(written(), WEIGHED), *generated(WEIGHED // 2)]
    assert probabilities_are_the_same(page, texts) < 1e-6


def probabilities_are_the_same(page: Page, texts: Sequence[tuple[str, str]]) -> float:
    """Cues equal, records in the same order, the same facts beside them in the same words. Returns the largest
    difference of a probability."""
    edition_in(page, field())
    tables, lexicon, worst = field().tables, lexicon_of(field().tables), 0.0
    for (text, side), found in zip(texts, asked(page, "weighed", texts), strict=True):
        cues = read(text, lexicon, side).cues
        assert found["cues"] == plain(cues), text
        result = posterior(gather(cues, tables, field().parameters), field())
        ours = [*result.records.tolist(), result.unlisted]
        told = [*found["records"], found["unlisted"]]
        worst = max(worst, *(abs(a - b) for a, b in zip(ours, told, strict=True)))
        assert found["order"] == result.order(10).tolist(), text
        facts = [
            [f.fact.key, f.verdict.value, f.words, f.lower_bound, [[v.words, v.probability] for v in f.values]]
            for f in fact_chances(result, tables)
        ]
        assert near(found["facts"]) == near(facts), text
    return worst


def test_the_search_says_the_same_of_words_taps_and_answers(page: Page) -> None:
    texts = [*Random("searched").sample(written(), SEARCHED // 2), *generated(SEARCHED // 2)]
    searches_are_the_same(page, [*map(search_page, texts, range(len(texts))), {"text": ""}])


def searches_are_the_same(page: Page, pages: Sequence[Mapping[str, Any]]) -> int:
    """The whole view: chips with spans, rows with boxes, the question, every word."""
    edition_in(page, field())
    for given, found in zip(pages, asked(page, "search", pages), strict=True):
        ours = plain(answer(field(), asked_from({**given, "text": basic(given["text"])})))
        assert near(found) == near(ours), given
    return len(pages)


def basic(text: str) -> str:
    """As the page hands a text over: one character for each outside the basic plane."""
    return "".join(char if ord(char) <= 0xFFFF else "\ue000" for char in text)


def search_page(said: tuple[str, str], number: int) -> Mapping[str, Any]:
    """What a page may ask: every second one with taps, answers, a scene, vehicles ruled out."""
    text, side = said
    if number % 2 == 0:
        return {"text": text, "driving_side": side}
    draw, known = Random(f"page {number}"), expert_questions()
    question = draw.choice([each for each in known.questions if each.options])
    taps = [{"attribute": "port_place", "values": [draw.choice(("left|rear_quarter|", "|front_face|", "right||low"))]}]
    for attribute in draw.sample(("body", "connector", "door_mechanism", "selector", "colour"), 2):
        taps.append({"attribute": attribute, "values": [draw.choice(closed_terms(attribute))]})
    return {
        "text": text,
        "driving_side": side,
        "taps": taps[: draw.randint(0, 3)],
        "scene": {draw.choice(FIELDS): draw.choice(("yes", "no"))},
        "answers": {question.id: draw.choice([*(option.id for option in question.options), "cannot_tell"])},
        "excluded": draw.sample(list(demo_records()), draw.randint(0, 2)),
        "caller": draw.choice(("crew", None)),
        "every": draw.random() < 0.3,
    }


def test_look_alikes_are_the_same(page: Page) -> None:
    lookalikes_are_the_same(page, range(0, len(rows()), 12))


def lookalikes_are_the_same(page: Page, places: Sequence[int]) -> int:
    edition_in(page, field())
    asks = [(place, seen) for place in places for seen in Observer]
    theirs = asked(page, "alike", [[place, seen.value] for place, seen in asks])
    for (place, seen), found in zip(asks, theirs, strict=True):
        assert near(found) == near(plain(alike_views(place, field(), seen, 5))), place
    return len(asks)


def scene_of(draw: Random) -> tuple[dict[str, Said], Scene]:
    row = {key: draw.choice(list(Said)) for key in draw.sample(ALL, draw.choice((0, 3, 6, 12, len(ALL))))}
    return row, Scene(row, draw.choice(CARRIED))


def carried_of(scene: Scene) -> list[str] | None:
    return None if scene.carried is None else sorted(scene.carried)


def possible(records: Sequence[Record]) -> Field:
    share = 0.9 / max(1, len(records))
    return Field([Possible(str(i), record, share) for i, record in enumerate(records)], 0.1)


def test_steps_are_alike_for_every_record_in_many_scenes(page: Page) -> None:
    steps_are_alike(page, len(rows()))


def steps_are_alike(page: Page, count: int) -> int:
    draw, records = Random("parity"), demo_records()
    records_in(page, documents())
    scenes, ours = [], []
    for number in range(count):
        row, scene = scene_of(draw)
        first = list(records)[number % len(records)]
        codes = list(dict.fromkeys((first, *draw.sample(list(records), draw.choice((0, 0, 1, 2))))))
        chosen = [records[code] for code in codes] if number else []
        plan: Any = (
            plan_for_several(possible(chosen), scene)
            if len(chosen) > 1
            else plan_for(chosen[0] if chosen else None, scene)
        )
        ours.append(plain(plan))
        scenes.append([plain(row), carried_of(scene), codes if number else []])
    for number, (found, wanted) in enumerate(zip(asked(page, "plan", scenes), ours, strict=True)):
        assert found == wanted, f"plan {number}: {scenes[number][0]}"
    return count


def test_briefs_are_the_same(page: Page) -> None:
    briefs_are_the_same(page, BRIEFS)


def briefs_are_the_same(page: Page, count: int) -> int:
    """The radio text character by character, and everything else a brief holds."""
    draw, records = Random("briefs"), demo_records()
    records_in(page, documents())
    given, ours = [], []
    for number in range(count):
        row, scene = scene_of(draw)
        first = list(records)[number % len(records)]
        codes = list(dict.fromkeys((first, *draw.sample(list(records), draw.choice((0, 0, 1))))))
        chosen = [records[code] for code in codes]
        vehicles = tuple(
            BriefVehicle(str(i), each.identity.title, "as it may be", each, Sure("likely", "about 7 in 10"))
            for i, each in enumerate(chosen)
        )
        made = compose(BriefInput("B", DATA, brief_plan(possible(chosen), scene), vehicles, scene, UNLISTED))
        ours.append([made.radio_text, made.seconds, plain(made)])
        given.append([plain(row), carried_of(scene), codes])
    for number, (found, wanted) in enumerate(zip(asked(page, "brief", given), ours, strict=True)):
        assert found[0] == wanted[0], f"brief {number}"
        assert near(found) == near(wanted), f"brief {number}"
    return count


def test_records_and_strips_are_the_same(page: Page) -> None:
    records_are_the_same(page, RECORDS)


def records_are_the_same(page: Page, count: int) -> int:
    """The record's screens with ticks, all its facts, and the strip byte for byte."""
    draw, records = Random("records"), demo_records()
    records_in(page, documents())
    given, ours = [], []
    for number in range(count):
        code, record = list(records.items())[number % len(records)]
        row, _ = scene_of(draw)
        scene = Scene(row)
        plan = plan_for(record, scene)
        ticks = {step.key: ("done", 1000 * number, "02:14") for step in plan.steps if draw.random() < 0.3}
        posture = draw.choice(list(POSTURES))
        drawn = strip(drawn_of(record, plan, scene), posture)
        view = record_view(record, META, scene, {key: Ticked(*each) for key, each in ticks.items()})
        ours.append([plain(view), plain(facts_of(record, META)), svg(drawn, "s"), plain(drawn.twin)])
        given.append([plain(row), code, ticks, posture])
    for number, (found, wanted) in enumerate(zip(asked(page, "record", given), ours, strict=True)):
        assert found == wanted, f"record {number}: {given[number][3]}"
    return count


def everything(page: Page) -> None:
    """All of it, with the numbers."""

    def told(what: str, value: object) -> None:
        sys.stdout.write(f"{what}: {value}\n")
        sys.stdout.flush()

    made, texts = generated(GENERATED), written()
    told("texts of the sets read alike", all_are_read_alike(page))
    told("vectors read as they say", vectors_are_read_as_they_say(page))
    told("generated descriptions, cues equal, largest difference", (len(made), probabilities_are_the_same(page, made)))
    told("texts of the sets, cues equal, largest difference", (len(texts), probabilities_are_the_same(page, texts)))
    told("search views", searches_are_the_same(page, list(map(search_page, [*texts[::4], *made[::4]], range(10**6)))))
    told("look-alikes", lookalikes_are_the_same(page, range(len(rows()))))
    told("steps", steps_are_alike(page, SCENES * len(rows())))
    told("briefs", briefs_are_the_same(page, SCENES * len(rows())))
    told("records and strips", records_are_the_same(page, SCENES * len(rows())))


if __name__ == "__main__":
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        everything(engine_in(chromium))
        chromium.close()
