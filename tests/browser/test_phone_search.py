"""The responder's search on a phone: words and taps, within reach, in every light, over a weak signal."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, Route, expect

from catalog.domain.cautions import DEMO_MARK
from catalog.domain.places import FRAME_NOTE
from catalog.web import phone_wording as say
from tests.browser.conftest import Open
from tests.browser.contrast import weak_words
from tests.browser.used_phone import LIGHTS, SMALL, UsedPhone

pytestmark = pytest.mark.browser

SAID = "white, maybe a brantok, steaming"

# Sizes of everything that can be tapped. A field laid over its words, or a choice of such, counts with them.
TARGETS = """() => [...document.querySelectorAll("a, button, summary, textarea, input, select")]
  .filter((node) => node.checkVisibility() && !node.closest(".vh") && !node.matches(".skip"))
  .map((node) => [node.outerHTML.slice(0, 80), node.getBoundingClientRect()])
  .map(([html, { width, height }]) => [html, width, height])
  .filter(([, width, height]) => width > 0 && height > 0)"""

# Milliseconds from the address to the first words painted.
FIRST_PAINT = """() => new Promise((told) => new PerformanceObserver((list) => {
  for (const each of list.getEntriesByName("first-contentful-paint")) told(each.startTime);
}).observe({ type: "paint", buffered: true }))"""


@pytest.fixture
def phone(used_phone: UsedPhone) -> Page:
    return used_phone.page


def turn(page: Page, path: str) -> None:
    """To another page of the app."""
    page.evaluate("path => { location.hash = path; }", path)
    expect(page.locator(f"[data-panel={path.split('/')[-1]}]" if "taps" in path else "#page h1")).to_be_visible()


def first_vehicle(page: Page) -> str:
    return page.locator(".rows .vehicle b").first.inner_text()


def test_taps_and_words_are_one_question_and_every_tap_can_be_taken_back(phone: Page) -> None:
    page = phone
    expect(page.locator(".demo")).to_have_text(DEMO_MARK)
    page.get_by_role("button", name="pickup").click()
    expect(page.get_by_role("button", name="pickup")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("[data-tab=body] small")).to_have_text("pickup")
    expect(page.locator(".peek")).to_be_visible()

    page.locator("[data-tab=port]").click()
    expect(page.get_by_text(FRAME_NOTE).first).to_be_visible()
    page.get_by_role("button", name="left rear quarter").click()
    page.locator("[data-tab=body]").click()
    page.get_by_label(say.LINE).fill(SAID)
    brief = page.locator(".understood summary")
    for word in ("white", "pickup", "left rear quarter", "vapour"):
        expect(brief).to_contain_text(word)
    expect(page.locator(".signal")).to_contain_text("leave the charge port alone")
    expect(page.locator(".rows .unlisted")).to_contain_text("Not in this catalogue")
    assert "Brantock" in first_vehicle(page)
    assert re.fullmatch("#/record/[0-9A-Z]{3}-[0-9A-Z]{3}", page.locator(".vehicle").first.get_attribute("href") or "")

    brief.click()
    page.get_by_role("button", name=re.compile("^body pickup")).click()
    expect(brief).not_to_contain_text("pickup")
    expect(page.locator("[data-tab=body] small")).to_have_text("")
    page.get_by_role("button", name=say.EMPTY_LINE).click()
    expect(page.locator(".rows")).to_have_count(0)
    expect(page.locator(".understood")).to_have_count(0)
    expect(page.locator("[data-tap][aria-pressed=true]")).to_have_count(0)


def test_the_outline_turns_with_where_one_stands_and_the_sides_stay_the_vehicles(phone: Page) -> None:
    page = phone
    turn(page, "/taps/port")
    left, right = page.get_by_role("button", name="left middle"), page.get_by_role("button", name="right middle")

    def x(cell: object) -> float:
        box = cell.bounding_box()  # type: ignore[attr-defined]
        return float(box["x"])

    order = "all => all.map(cell => cell.value)"
    before = page.locator("[data-round] [data-tap]").evaluate_all(order)
    assert x(left) < x(right)
    page.get_by_role("radio", name="I stand at the nose").check()
    assert x(left) > x(right)
    # What is read out follows what is seen.
    assert page.locator("[data-round] [data-tap]").evaluate_all(order) == before[::-1]
    expect(page.locator(".outline:visible")).to_have_count(1)
    left.click()
    expect(page.locator("[data-tab=port] small")).to_have_text("left middle")


def test_what_cannot_be_told_is_not_asked_again(phone: Page) -> None:
    page = phone
    page.locator("[data-tab=port]").click()
    page.get_by_role("button", name="left rear quarter").click()
    expect(page.locator("#asked")).to_have_text(re.compile("."))
    page.locator("[data-tab=body]").click()
    page.locator("#panel-body").get_by_role("button", name=say.CANNOT_TELL).click()
    expect(page.locator("[data-tab=body] small")).to_have_text(say.CANNOT_TELL)
    expect(page.locator("#asked")).not_to_have_text("What shape is it?")


def test_a_badge_half_read_counts(phone: Page) -> None:
    page = phone
    turn(page, "/taps/badge")
    page.get_by_label(say.BADGE_LINE).fill("brant")
    page.get_by_role("radio", name="it begins so").check()
    page.get_by_role("button", name=say.BADGE_TAKE).click()
    expect(page.locator(".rows .vehicle b").first).to_contain_text("Brantock")


def test_taps_before_the_script_has_come_count(open_page: Open) -> None:
    page = open_page("/steps", viewport=SMALL, service_workers="block")
    held: list[Route] = []
    page.route("**/phone/main.js", lambda route: held.append(route))
    page.goto("/phone", wait_until="commit")
    cell = page.locator("[data-tap=body][value=van]")
    cell.click()
    expect(cell).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".rows")).to_have_count(0)
    held[0].continue_()
    expect(page.locator(".rows")).to_have_count(1)
    expect(cell).to_have_attribute("aria-pressed", "true")


def test_by_keyboard_alone(open_page: Open) -> None:
    page = open_page("/phone", viewport=SMALL)
    # What is tapped before the scripts are there is taken over by them, with the answers in the outlines' place.
    expect(page.locator("[data-edition]")).to_contain_text("none newer")
    page.keyboard.press("Tab")
    expect(page.get_by_text("Skip to the page")).to_be_focused()
    page.get_by_role("button", name="saloon").focus()
    page.keyboard.press("Space")
    expect(page.get_by_role("button", name="saloon")).to_have_attribute("aria-pressed", "true")
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="estate")).to_be_focused()
    page.locator("[data-tab=port]").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Where is the charge port?")).to_be_visible()


def test_contrast_targets_and_axe(phone: Page) -> None:
    """WCAG 2.2: contrast in every light; targets 24 px (SC 2.5.8), ours 48; the rest is the same in every light."""
    phone.get_by_label(say.LINE).fill(SAID)
    expect(phone.locator(".rows")).to_have_count(1)
    phone.locator(".understood summary").click()
    for path in ("/taps/body", "/taps/port", "/taps/badge", "/taps/more", "/menu"):
        turn(phone, path)
        if path == "/taps/more":
            for fold in phone.locator("#panel-more summary").all():
                fold.click()
        for light in LIGHTS:
            phone.evaluate("light => { document.documentElement.dataset.light = light; }", light)
            assert weak_words(phone) == [], (light, path)
            assert [each for each in phone.evaluate(TARGETS) if min(each[1:]) < 47.9] == [], (light, path)
        phone.evaluate("document.documentElement.dataset.light = 'day'")
        found = Axe().run(phone, options={"resultTypes": ["violations"]}).response["violations"]
        assert [(fault["id"], [node["html"][:120] for node in fault["nodes"]][:3]) for fault in found] == [], path


def test_twice_the_text_and_a_narrow_screen(phone: Page) -> None:
    for path in ("/taps/body", "/taps/port", "/taps/more", "/menu"):
        phone.set_viewport_size({"width": 320, "height": 640})
        turn(phone, path)
        assert phone.evaluate("document.documentElement.scrollWidth") <= 320, path
        phone.set_viewport_size({"width": 360, "height": 740})
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360, path
        inside = "all => all.map(node => [node.scrollWidth - node.clientWidth, node.scrollHeight - node.clientHeight])"
        for over in phone.locator(".cell:visible, .bar a").evaluate_all(inside):
            assert max(over) <= 1, path
        phone.evaluate("document.documentElement.style.fontSize = ''")


def test_a_server_that_does_not_answer_is_said_and_the_engine_answers_once_it_is_there(open_page: Open) -> None:
    page, held = open_page("/steps", viewport=SMALL, service_workers="block"), list[Route]()
    page.route("**/phone/engine/**", lambda route: held.append(route))
    page.route("**/phone/search", lambda route: route.abort())
    page.goto("/phone")
    page.get_by_role("button", name="bus").click()
    alert = page.locator("#search [role=alert]")
    expect(alert).to_contain_text("The catalogue did not answer.")
    expect(page.locator(".bar").get_by_role("link", name=say.ANY)).to_have_attribute("href", "#/any")
    for route in held:
        route.continue_()
    page.unroute("**/phone/engine/**")
    expect(page.locator(".rows")).to_have_count(1)
    expect(alert).to_be_hidden()


def test_once_the_engine_is_there_nothing_that_is_said_leaves_the_phone_and_it_opens_within_a_second(
    used_phone: UsedPhone,
) -> None:
    page = used_phone.page
    sent: list[tuple[str, str, str]] = []
    page.on("request", lambda asked: sent.append((asked.method, asked.url, asked.post_data or "")))
    page.get_by_role("button", name="pickup").click()
    page.get_by_label(say.LINE).fill(SAID)
    expect(page.locator(".understood summary")).to_contain_text("vapour")
    assert "Brantock" in first_vehicle(page)
    assert [each for each in sent if each[0] != "GET" or "brantok" in each[1] or "pickup" in each[1]] == []

    again = used_phone.context.new_page()
    weak(again)
    painted = first_paint(again, 1000)
    again.close()
    print(f"first paint from the phone's own copy, on 2G: {painted:.0f} ms")
    assert painted < 1000


def first_paint(page: Page, wanted: float) -> float:
    """Milliseconds until the app is painted. A busy machine may be late: the best of three, unless one is as wanted."""
    best = float("inf")
    for _ in range(3):
        page.goto("about:blank")
        page.goto("/phone", wait_until="commit")
        expect(page.get_by_label(say.LINE)).to_be_visible()
        best = min(best, page.evaluate(FIRST_PAINT))
        if best < wanted:
            break
    return best


def weak(page: Page) -> None:
    """ "Regular 2G" of Firefox's network monitor (its user documentation, Throttling): 250 and 50 kbit/s, 300 ms."""
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    session.send(
        "Network.emulateNetworkConditions",
        {"offline": False, "latency": 300, "downloadThroughput": 250_000 / 8, "uploadThroughput": 50_000 / 8},
    )


def test_over_a_weak_signal_the_first_page_is_there_within_three_seconds(open_page: Open) -> None:
    page = open_page("/steps", viewport=SMALL)
    weak(page)
    page.context.new_cdp_session(page).send("Network.setCacheDisabled", {"cacheDisabled": True})
    painted = first_paint(page, 3000)
    print(f"first paint on 2G: {painted:.0f} ms")
    assert painted < 3000
    # What a crew can do at once: say it, tap it, go by the steps for any vehicle.
    expect(page.get_by_role("button", name="pickup")).to_be_visible()
    expect(page.locator(".bar").get_by_role("link", name=say.ANY)).to_be_visible()
