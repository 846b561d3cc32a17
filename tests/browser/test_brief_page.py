"""A brief's page on the phone in every light, and its one sheet on A4 and Letter."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services import brief_acts as acts
from catalog.services.acting import actor_of
from catalog.services.brief_views import BriefView
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.drawings import brief_strips
from catalog.services.handing_over import SlipAsked, Temperature, Tick, slip_form, write_slip
from catalog.services.house import House
from catalog.web.brief_sheet import sheet_of
from tests.browser.axe import faults
from tests.browser.conftest import DESK, PHONE, Contexts, page_in, serving
from tests.people import PASSWORD, somebody

pytestmark = pytest.mark.browser

BY = actor_of("jonah.tellwright", Role.DISPATCHER, "test")
CODE = "QPW-TF3"
SHORT = "BX8-TGX"  # says little, so its sheet has room for the drawing
SCENES: tuple[dict[str, str], ...] = (
    {},
    {"fire": "yes", "trapped": "yes"},
    {"water": "yes", "on_roof": "yes", "danger_to_life": "yes"},
)
PAPERS = ("A4", "Letter")


@dataclass(frozen=True, slots=True)
class Served:
    """The demo, with briefs of its own."""

    house: House
    address: str


@pytest.fixture(scope="module")
def served(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    data = Path(shutil.copytree(demo_data, tmp_path_factory.mktemp("brief-pages") / "data"))
    app = create_app(Settings(data, f"sqlite:///{data / 'chockbook.db'}"))
    house: House = app.extensions["chockbook"]
    somebody(house, BY.name, Role.DISPATCHER)
    with serving(app) as address:
        yield Served(house, address)
    house.engine.dispose()


@pytest.fixture(scope="module")
def views(served: Served) -> dict[str, BriefView]:
    """One of every kind."""
    house = served.house
    plain = compose_brief(house, BY, BriefAsked(codes=(CODE,), scene=SCENES[1], incident="0417"))
    several = compose_brief(house, BY, BriefAsked(text="white pickup, port left rear, badge brantok"))
    anything = compose_brief(house, BY, BriefAsked())
    recalled = compose_brief(house, BY, BriefAsked(codes=(CODE,)))
    acts.recall(house, BY, recalled.id, acts.Recall("The cut point is wrong.", "Leave the bonnet shut."))
    followed = compose_brief(house, BY, BriefAsked(codes=(CODE,)))
    correction = acts.follow_up(house, BY, followed.id, BriefAsked(scene={"fire": "yes"}))
    key = slip_form(house, BY, plain.id)[4].key
    slip = write_slip(
        house, BY, plain.id, SlipAsked((Tick(key, "done", "02:55"),), {}, (Temperature("03:10", "41 at the sill"),))
    )
    return {
        "plain": plain, "several": several, "any vehicle": anything, "recalled": recalled, "followed": followed,
        "correction": correction, "slip": slip,
    }  # fmt: skip


KINDS = ("plain", "several", "any vehicle", "recalled", "followed", "correction", "slip")
GROUND = "getComputedStyle(document.body).backgroundColor"


def opened(contexts: Contexts, served: Served, path: str, light: str = "day", **more: object) -> Page:
    options = {"viewport": PHONE, "color_scheme": "dark" if light == "night" else "light", **more}
    page = page_in(contexts.take(served.address, **options))
    page.goto(path)
    return page


@pytest.mark.parametrize("kind", KINDS)
def test_the_page_holds_on_a_phone_in_every_light(
    contexts: Contexts, served: Served, views: dict[str, BriefView], kind: str
) -> None:
    page = opened(contexts, served, views[kind].link)
    assert faults(page, serious=False) == []
    grounds = {page.evaluate(GROUND)}
    page.emulate_media(color_scheme="dark")
    assert faults(page, serious=False, again=True) == []
    grounds.add(page.evaluate(GROUND))
    page.evaluate("document.documentElement.dataset.light = 'glare'")  # what light.js makes of the choice
    assert faults(page, serious=False, again=True) == []
    grounds.add(page.evaluate(GROUND))
    assert len(grounds) == 3
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    small = page.locator("a:visible, button:visible, summary:visible").evaluate_all(
        "all => all.filter(n => !n.closest('.foot-page, .skip, p') && n.getBoundingClientRect().height < 48)"
        ".map(n => n.outerHTML)"
    )
    assert [one for one in small if "skip" not in one] == []
    contexts.give_back(page.context)


def test_what_must_not_be_missed_is_on_the_first_screen(
    contexts: Contexts, served: Served, views: dict[str, BriefView]
) -> None:
    for kind, words in (("plain", "Pack fire"), ("recalled", "RECALLED"), ("followed", "CORRECTION")):
        page = opened(contexts, served, views[kind].link)
        box = page.get_by_text(re.compile(words)).first.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= PHONE["height"], kind
        contexts.give_back(page.context)
    page = opened(contexts, served, views["recalled"].link)
    # What it said is one tap away, not in view: nobody goes by it unawares.
    expect(page.locator(".columns")).not_to_be_visible()
    page.locator("summary", has_text="What it said").click()
    expect(page.locator(".columns")).to_be_visible()
    contexts.give_back(page.context)


def pages(page: Page, paper: str) -> int:
    return len(re.findall(rb"/Type\s*/Page[^s]", page.pdf(format=paper)))


def test_the_count_of_pages_can_fail(contexts: Contexts, served: Served) -> None:
    page = opened(contexts, served, "/records/QPW-TF3")
    assert pages(page, "A4") > 1
    contexts.give_back(page.context)


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_printed_on_one_sheet(contexts: Contexts, served: Served, views: dict[str, BriefView], kind: str) -> None:
    page = opened(contexts, served, views[kind].link, "night")
    assert [pages(page, paper) for paper in PAPERS] == [1, 1]
    page.emulate_media(media="print")
    ink = page.evaluate("[getComputedStyle(document.body).color, getComputedStyle(document.querySelector('h1')).color]")
    assert set(ink) == {"rgb(0, 0, 0)"}
    if kind == "plain":
        assert page.locator(".tick:visible").count() == page.locator("svg.disc:visible").count() > 5
        expect(page.locator("svg.qr")).to_be_visible()
        expect(page.get_by_text("DEMO - INVENTED VEHICLES")).to_be_visible()
        expect(page.locator(".cautions")).to_be_visible()
    contexts.give_back(page.context)


def test_every_length_of_sheet_is_one_sheet(contexts: Contexts, served: Served) -> None:
    """Of the sheets of all demo records in one of three scenes: the longest of each size, on both papers.

    Whether a sheet fits hangs on its letters; those that are longest among the ones printed alike are the hardest.
    """
    longest: dict[str, list[tuple[int, BriefView]]] = {}
    for at, code in enumerate(served.house.shelf.current().codes):
        for scene in (SCENES[at % len(SCENES)],):  # every record in one, every scene by a third of them
            view = compose_brief(served.house, BY, BriefAsked(codes=(code,), scene=scene))
            strips = brief_strips(served.house, view.composed)
            sheet = sheet_of(view, strips[1] if strips else None)
            length = sum(
                len(line.text) for part in sheet.parts for step in part.steps for line in (step.head, *step.lines)
            )
            longest.setdefault(f"{sheet.size}{' drawn' if sheet.drawn else ''}", []).append((length, view))
    assert set(longest) >= {"small drawn", "smallest drawn", "small"}
    page = opened(contexts, served, "/steps")
    wrong = []
    for size, found in longest.items():
        # Of those with a drawing its height counts too: some more.
        for length, view in sorted(found, key=lambda one: -one[0])[: 3 if "drawn" in size else 2]:
            page.goto(view.link)
            counts = [pages(page, paper) for paper in PAPERS]
            if counts != [1, 1]:
                wrong.append((view.composed.codes, size, length, counts))
    assert wrong == []
    contexts.give_back(page.context)


def test_briefs_are_looked_after_by_keyboard_and_without_a_fault(
    contexts: Contexts, served: Served, views: dict[str, BriefView]
) -> None:
    page = opened(contexts, served, "/sign-in", viewport=DESK)
    page.get_by_label("Name").fill(BY.name)
    page.get_by_label("Password").fill(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: not url.endswith("/sign-in"))
    for path in (
        "/briefs",
        "/incidents/0417",
        f"/briefs/{views['plain'].id}",
        f"/briefs/{views['plain'].id}/hand-over",
    ):
        page.goto(path)
        assert faults(page, serious=False) == [], path
        page.set_viewport_size({"width": 320, "height": 640})
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
        page.set_viewport_size({"width": DESK["width"], "height": DESK["height"]})
    page.goto(f"/briefs/{views['plain'].id}")
    page.get_by_label("Read back by (call sign)").fill("Engine 4")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Read back by Engine 4")).to_be_visible()
    contexts.give_back(page.context)


def test_the_walk_round_is_on_the_page_and_on_paper_in_black_and_white(
    contexts: Contexts, served: Served, views: dict[str, BriefView]
) -> None:
    """On the screen two rows with their words, on paper one; none where it is not known which vehicle it is."""
    short = compose_brief(served.house, BY, BriefAsked(codes=(SHORT,)))
    page = opened(contexts, served, short.link, "night")
    shown = page.get_by_role("img", name=re.compile("Walk round"))
    expect(shown).to_have_count(1)
    numbers = page.locator(".on-screen g.disc").evaluate_all("all => all.map(g => Number(g.dataset.number))")
    told = page.locator(".columns .do .vh").all_inner_texts()
    assert set(numbers) <= {int(text.strip(" .")) for text in told}
    assert len(numbers) > 2
    page.get_by_text("The drawing in words").click()
    expect(page.locator(".walk-words li", has_text="Blank is no fact, never permission")).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator(".on-paper svg.strip")).to_be_visible()
    expect(page.locator(".on-screen")).not_to_be_visible()
    painted = page.locator(".on-paper svg.strip *").evaluate_all(
        "all => [...new Set(all.flatMap(n => { const s = getComputedStyle(n); return [s.fill, s.stroke]; }))]"
    )
    grey = [colour for colour in painted if (found := re.findall(r"\d+", colour)) and len(set(found[:3])) > 1]
    assert grey == []
    contexts.give_back(page.context)
    for kind in ("several", "any vehicle", "slip"):
        page = opened(contexts, served, views[kind].link)
        expect(page.locator("svg.strip")).to_have_count(0)
        contexts.give_back(page.context)
