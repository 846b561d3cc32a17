"""The record on the phone: four answers in view, scene by trays, ticks and waits that survive, and another vehicle."""

import json
import re
from random import Random

import pytest
from axe_playwright_python.sync_playwright import Axe
from flask import Flask
from playwright.sync_api import Page, Route, expect

from catalog.compiled import Compiled
from catalog.device.phone.facts import facts_of
from catalog.device.phone.model import Meta, Ticked
from catalog.device.phone.record import record_view
from catalog.device.phone.slip import slip_of
from catalog.domain.cautions import edition_words
from catalog.domain.documents import record_from_document
from catalog.plan.scene import UNKNOWN, Said
from catalog.plan.steps import plan_for
from tests.browser.conftest import Open
from tests.browser.contrast import weak_words
from tests.browser.parity_page import plain
from tests.browser.used_phone import LIGHTS, SMALL, UsedPhone
from tests.plan_cases import ALL

pytestmark = pytest.mark.browser

CODE = "26F-RWN"


@pytest.fixture
def phone(used_phone: UsedPhone) -> Page:
    return opened(used_phone.page)


def opened(page: Page, code: str = CODE) -> Page:
    """A record, from its top."""
    page.evaluate("(code) => { location.hash = `/record/${code}`; }", code)
    expect(page.locator("#four .answer")).to_have_count(4)
    page.evaluate("scrollTo(0, 0)")
    page.evaluate("document.fonts.ready")
    return page


def step(page: Page, id_: str) -> str:
    """The key of the first step of an id."""
    keys: list[str] = page.locator("[data-step-of]").evaluate_all("(all) => all.map((one) => one.dataset.stepOf)")
    return next(key for key in keys if key.split(":")[0] == id_)


def tick(page: Page, key: str, answer: str) -> None:
    page.locator(f"[data-step-of='{key}'] .tick").click()
    page.get_by_role("dialog").get_by_role("button", name=answer, exact=True).click()
    expect(page.get_by_role("dialog")).to_have_count(0)


def in_view(page: Page, selector: str) -> bool:
    """Whether it lies whole between the top of the window and the bar."""
    found: bool = page.evaluate(
        """(selector) => {
          const box = document.querySelector(selector).getBoundingClientRect();
          const bar = document.getElementById("bar").getBoundingClientRect();
          return box.height > 0 && box.top >= 0 && box.bottom <= bar.top;
        }""",
        selector,
    )
    return found


@pytest.mark.parametrize("code", [CODE, "2B3-2MF", "JPK-GNB", "PTR-MCC", "7D9-WPF"])
def test_phone_record_shows_four_answers_without_scrolling(used_phone: UsedPhone, code: str) -> None:
    page = opened(used_phone.page, code)
    for answer in ("motion", "doors", "cutoff", "no_cut"):
        assert in_view(page, f"[data-answer-of={answer}] h2"), answer
        assert in_view(page, f"[data-answer-of={answer}] .act:not([hidden])"), answer
    assert in_view(page, ".port-line")
    targets = page.locator("#four .act:not([hidden]) > *, .cells-row .cell, #bar button").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect()).map(({ width, height }) => [width, height])"
    )
    assert min(min(size) for size in targets) >= 48
    assert page.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]


def test_phone_record_port_line_follows_the_scene(phone: Page) -> None:
    port = phone.locator(".port-line")
    expect(port).to_have_text("Port: only if no fire, smoke or water")
    for key in ("fire", "water"):
        cell = phone.locator(f".cells-row [data-key={key}]")
        cell.click()
        expect(cell).to_have_attribute("aria-expanded", "true")
        expect(cell).to_have_attribute("data-answer", "unknown")  # a tap opens; it never answers
        heights = phone.locator("#tray button").evaluate_all("(all) => all.map((one) => one.offsetHeight)")
        assert len(heights) == 3
        assert min(heights) >= 64
        phone.locator("#tray").get_by_role("button", name="No", exact=True).click()
        expect(cell).to_have_attribute("data-answer", "no")
        expect(cell).to_be_focused()
    expect(port).to_have_text(re.compile(r"^Port: step \d+, if not crushed, burnt or wet inside$"))
    phone.locator(".cells-row [data-key=fire]").click()
    phone.locator("#tray").get_by_role("button", name="Yes", exact=True).click()
    expect(port).to_have_text("LEAVE THE PORT ALONE")
    expect(phone.locator(".signal")).to_contain_text("pack fire")
    for tab in ("walk", "more", "slip"):
        phone.evaluate("(tab) => { location.hash = `/record/26F-RWN/${tab}`; }", tab)
        expect(phone.locator(f"[data-tab={tab}] .port-line")).to_have_text("LEAVE THE PORT ALONE")


SMOKE = "white pickup, port left rear, smoke from under it, not in water"


def test_phone_record_takes_the_scene_from_the_words_of_the_search_and_an_answer_goes_before_it(
    used_phone: UsedPhone,
) -> None:
    page = used_phone.page
    page.locator("#said").fill(SMOKE)
    page.locator("a.vehicle").first.click()
    the_scene_is_taken(page)
    # What comes of the words a moment later, while the record stands, is no fault of its page (`used_phone`).
    page.evaluate(
        "() => import(document.querySelector('script[src$=\"/phone/main.js\"]').src.replace('main.js', 'asked.js'))"
        ".then(({ asked }) => { asked.dispatchEvent(new Event('change')); })"
    )


def test_phone_record_takes_the_scene_as_the_server_found_it_before_the_engine_was_here(open_page: Open) -> None:
    page, held = open_page("/steps", viewport=SMALL, service_workers="block"), list[Route]()
    page.route("**/phone/engine/**", lambda route: held.append(route))
    page.goto("/phone")
    page.locator("#said").fill(SMOKE)
    page.locator("a.vehicle").first.click()
    for route in held:
        route.continue_()
    page.unroute("**/phone/engine/**")
    the_scene_is_taken(page)


def the_scene_is_taken(page: Page) -> None:
    fire = page.locator(".cells-row [data-key=fire]")
    expect(fire).to_have_attribute("data-answer", "yes")
    expect(page.locator(".cells-row [data-key=water]")).to_have_attribute("data-answer", "no")
    expect(page.locator(".port-line")).to_have_text("LEAVE THE PORT ALONE")
    fire.click()
    page.locator("#tray").get_by_role("button", name="Don't know", exact=True).click()
    expect(fire).to_have_attribute("data-answer", "unknown")
    expect(page.locator(".port-line")).to_have_text("Port: only if no fire, smoke or water")


def test_phone_record_ticks_and_clocks_survive_a_reload(phone: Page) -> None:
    chock, park, loop = step(phone, "chock"), step(phone, "park"), step(phone, "cut_loop")
    tick(phone, chock, "Done")
    tick(phone, park, "Cannot")
    tick(phone, loop, "Done")
    clock = phone.locator(f".running [data-clock='{loop}']")
    expect(clock).to_contain_text("Casualty care")
    expect(clock.locator(".left")).to_have_text(re.compile(r"^3:5\d$|^4:00$"))
    since = clock.get_attribute("data-since")
    phone.reload()
    expect(clock).to_have_attribute("data-since", str(since))
    expect(phone.locator(f"[data-step-of='{chock}']")).to_have_class(re.compile(r"\bdone\b"))
    expect(phone.locator(f"[data-step-of='{park}']")).to_have_class(re.compile(r"\bcannot\b"))
    phone.evaluate("location.hash = '/record/26F-RWN/slip'")
    slip = phone.locator(".slip")
    expect(slip).to_contain_text(re.compile(r"Chock a wheel, both sides: ?done, \d\d:\d\d"))
    expect(slip).to_contain_text(re.compile(r"Park, then parking brake: ?could not be done, \d\d:\d\d"))
    expect(slip).to_contain_text("not said")
    phone.evaluate("location.hash = '/record/26F-RWN'")
    tick(phone, chock, "Undo")
    expect(phone.locator(f"[data-step-of='{chock}']")).not_to_have_class(re.compile(r"\bdone\b"))


def test_phone_record_badge_then_tabs_or_any_vehicle_with_the_same_scene(phone: Page) -> None:
    phone.locator(".cells-row [data-key=water]").click()
    phone.locator("#tray").get_by_role("button", name="No", exact=True).click()
    bar = phone.locator("#bar")
    expect(bar).to_contain_text("Tailgate badge reads MULDRAKE?")
    bar.get_by_role("button", name="Not this vehicle").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Any vehicle")
    expect(phone.locator(".cells-row [data-key=water]")).to_have_attribute("data-answer", "no")
    phone.locator(".cells-row [data-key=fire]").click()
    phone.locator("#tray").get_by_role("button", name="No", exact=True).click()
    phone.go_back()
    bar.get_by_role("button", name="Yes", exact=True).click()
    expect(bar.get_by_role("link")).to_have_text(["Steps", "Walk round", "Look-alikes", "More"])
    bar.get_by_role("link", name="Walk round").click()
    expect(phone.locator(".picture svg[role=img]")).to_be_visible()
    assert phone.locator(".twin li").count() > 5
    phone.locator(".number").first.click()
    expect(phone.get_by_role("dialog")).to_contain_text("Chock")
    phone.get_by_role("dialog").get_by_role("button", name="Close").click()
    phone.locator(".posture select").select_option("left_down")
    expect(phone.locator(".port-line")).to_have_text("Port: under the vehicle, do not plan on it")
    expect(phone.locator(".picture")).to_contain_text("On the ground: left flank")


def test_phone_record_says_every_fact_and_clears_only_when_asked_twice(phone: Page) -> None:
    tick(phone, step(phone, "chock"), "Done")
    phone.evaluate("location.hash = '/record/26F-RWN/more'")
    group = phone.locator("details[data-group=restraints]")
    group.locator("summary").click()
    expect(group).to_contain_text("not stated")
    assert group.locator(".fact.not_stated .reading").count() > 0
    assert group.locator(".src").count() > 0
    link = group.locator(".different").first
    assert re.fullmatch(r"#/report/26F-RWN\?path=restraints.+", link.get_attribute("href") or "")
    phone.get_by_role("button", name="New incident: clear scene and ticks").click()
    phone.get_by_role("button", name="Keep").click()
    phone.get_by_role("button", name="New incident: clear scene and ticks").click()
    phone.get_by_role("button", name="Clear all").click()
    phone.evaluate("location.hash = '/record/26F-RWN'")
    expect(phone.locator("#four")).to_be_visible()
    expect(phone.locator("[data-step-of].done")).to_have_count(0)


AWAKE = """window.lit = [];
Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request: async (kind) => {
  window.lit.push(kind);
  return { released: false, release: async () => window.lit.push("released") };
} } });"""


def test_phone_record_reads_in_order_and_at_twice_the_text_and_stays_lit(used_phone: UsedPhone) -> None:
    page = used_phone.page
    page.evaluate(AWAKE)
    page.evaluate("location.hash = '/record/26f-rwn'")
    expect(page.locator("#four .answer")).to_have_count(4)
    order = page.evaluate(
        """() => [...document.querySelectorAll(".record-page h1, .cells-row, .port-line, #four h2, #steps > h2, #bar")]
          .map((one) => one.tagName === "H2" ? one.id : one.className || one.id || one.tagName)"""
    )
    assert order == ["H1", "cells-row", "port-line", "h-motion", "h-doors", "h-cutoff", "h-no_cut", "h-steps", "bar"]
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    page.evaluate("dispatchEvent(new Event('resize'))")
    assert page.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]
    assert page.locator("#four .act[hidden]").count() == 0
    assert page.evaluate("window.lit") == ["screen"]
    page.evaluate("location.hash = '/record/26F-RWN/more'")
    expect(page.locator(".more-page")).to_be_visible()
    assert page.evaluate("window.lit") == ["screen", "released"]
    page.evaluate("delete navigator.wakeLock")


# Opens the folds one after the other where one holds a kind of line that none before it showed: the facts are some
# hundreds of the same few.
UNFOLDED = """() => {
  const seen = new Set();
  let opened = 0;
  for (const fold of document.querySelectorAll("details")) {
    fold.open = true;
    fold.dispatchEvent(new Event("toggle"));
    const kinds = [...fold.querySelectorAll("*")].map((one) => `${one.tagName} ${one.getAttribute("class")}`);
    fold.open = kinds.some((kind) => !seen.has(kind));
    for (const kind of kinds) seen.add(kind);
    opened += fold.open;
  }
  return opened;
}"""


def test_phone_record_is_accessible_on_every_tab_in_every_light(phone: Page) -> None:
    for tab in ("", "walk", "alike", "more", "slip"):
        phone.evaluate("(tab) => { location.hash = `/record/26F-RWN${tab && `/${tab}`}`; }", tab)
        expect(phone.locator(f".record-page[data-tab={tab or 'steps'}] h1")).to_be_visible()
        if tab == "":
            phone.locator(".cells-row [data-key=water]").click()
        if tab == "more":
            assert phone.evaluate(UNFOLDED) > 2
        for light in LIGHTS:
            phone.evaluate("(light) => { document.documentElement.dataset.light = light; }", light)
            assert weak_words(phone) == [], (light, tab)
        phone.evaluate("document.documentElement.dataset.light = 'day'")  # the rest is the same in every light
        found = Axe().run(phone, options={"resultTypes": ["violations"]}).response["violations"]
        assert [(fault["id"], [node["html"] for node in fault["nodes"]][:3]) for fault in found] == [], tab
        assert phone.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]


def test_phone_record_that_is_not_to_be_used_says_so_and_nothing_else(used_phone: UsedPhone) -> None:
    page = used_phone.page
    page.evaluate("location.hash = '/record/Z9V-6V6'")
    expect(page.locator(".plate-danger")).to_contain_text("DO NOT USE")
    expect(page.locator("#four")).to_have_count(0)
    page.locator(".plate-danger").get_by_role("link").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Any vehicle")


VIEWED = """async ([code, scene, ticks]) => {
  const main = document.querySelector("script[src$='/phone/main.js']").src;
  const { vehicle } = await import(main.replace("main.js", "record_engine.js"));
  const one = await vehicle(code);
  const of = { scene, ticks, typed: {} };
  return { view: one.view(of), slip: one.slip(of), facts: one.known ? one.facts() : null };
}"""


def test_phone_record_says_what_the_same_code_says_here(phone: Page, site: Flask) -> None:
    """Parity: the views of the page are those of this language, for records told apart and scenes drawn at random."""
    draw = Random("record")
    compiled = site.extensions["chockbook"].shelf.current()
    for code in ("any", *draw.sample(compiled.codes, 5)):
        said = {key: draw.choice(list(Said)).value for key in draw.sample(ALL, draw.choice((0, 3, 8)))}
        record = None if code == "any" else record_from_document(json.loads(compiled.record_bytes(code)))
        scene = UNKNOWN.having(**said)
        steps = plan_for(record, scene).steps
        ticked = {step.key: Ticked(draw.choice(("done", "cannot")), 1000 * at, f"02:{at:02}")
                  for at, step in enumerate(steps) if draw.random() < 0.4}  # fmt: skip
        ticks = {key: {"state": each.state, "at": each.at, "said": each.said} for key, each in ticked.items()}
        theirs = phone.evaluate(VIEWED, [code, said, ticks])
        meta = meta_of(compiled, code)
        assert theirs["view"] == plain(record_view(record, meta, scene, ticked)), (code, said)
        assert theirs["slip"] == plain(slip_of(record, meta, scene, ticked, {})), (code, said)
        assert theirs["facts"] == (plain(facts_of(record, meta)) if record else None), code


def meta_of(compiled: Compiled, code: str) -> Meta:
    """As record_engine.js makes it."""
    edition = edition_words(compiled.number, compiled.published_at)
    if code == "any":
        return Meta("", compiled.number, edition, 0, demo=True)
    text = compiled.record_bytes(code).decode()
    cited = dict.fromkeys(re.findall(r"[A-Z0-9][A-Z0-9-]{1,30}/[0-9]{1,4}", text))
    titles = {key: json.loads(compiled.source_bytes(key))["title"] for key in cited if key in compiled.source_keys}
    return Meta(code, compiled.number, edition, compiled.revision(code)[1], demo=True, sources=titles)
