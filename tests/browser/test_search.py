"""Search as one types, without a script, and from the keyboard."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Request, expect

from catalog.web import wording
from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
SAID = "white pickup, port left rear"
# The demo's pickups with their port there fit the line equally well.
FIRST = re.compile("^(Quellorne Brantock|Garvandine Muldrake Electric)")


def test_results_follow_the_line_while_one_types(open_page: Open) -> None:
    page = open_page("/desk")
    page.get_by_label(wording.LINE_LABEL).press_sequentially(SAID, delay=15)
    first = page.locator(".row").first
    expect(first.locator("h3").first).to_have_text(FIRST)
    expect(first.locator(".pair")).to_contain_text(re.compile(r"about \d in 10"))
    expect(page.locator(".row.unlisted")).to_contain_text("Not in this catalogue")
    page.get_by_label(wording.LINE_LABEL).press_sequentially(" on fire")
    expect(page.locator(".signal")).to_contain_text("Fire or smoke")


def test_a_description_never_stands_in_an_address(open_page: Open) -> None:
    page = open_page("/desk")
    asked: list[Request] = []
    page.on("request", lambda request: asked.append(request))
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    expect(page.locator(".row").first).to_be_visible()
    page.get_by_label(wording.LINE_LABEL).press("Enter")
    assert page.url.endswith("/desk")
    assert asked
    assert all("pickup" not in request.url for request in asked)
    assert {request.method for request in asked if request.url.endswith("/live")} == {"POST"}


def test_an_overtaken_answer_is_thrown_away(open_page: Open) -> None:
    """The answer to the first line is held back until the second has been shown."""
    page = open_page("/desk")
    held = []

    def slow_first(route):  # type: ignore[no-untyped-def]
        if "bus" in (route.request.post_data or ""):
            held.append(route)
        else:
            route.continue_()

    page.route("**/desk/live", slow_first)
    field = page.get_by_label(wording.LINE_LABEL)
    field.fill("bus")
    page.wait_for_timeout(250)
    assert held
    field.fill("motorcycle")
    expect(page.locator(".row").first).to_contain_text("motorcycle")
    held[0].continue_()
    page.wait_for_timeout(250)
    expect(page.locator(".row").first).to_contain_text("motorcycle")


def test_it_says_so_when_the_catalogue_does_not_answer(open_page: Open) -> None:
    page = open_page("/desk")
    page.route("**/desk/live", lambda route: route.abort())
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    expect(page.get_by_role("alert")).to_have_text(wording.STALE)
    page.unroute("**/desk/live")
    page.get_by_label(wording.LINE_LABEL).press("Enter")
    expect(page.locator(".row").first).to_be_visible()
    expect(page.locator("[data-stale-note]")).to_be_hidden()


@pytest.mark.parametrize("path", ["/desk", "/crew"])
def test_the_search_works_without_a_script(open_page: Open, path: str) -> None:
    page = open_page(path, java_script_enabled=False)
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    page.get_by_role("button", name="Search").click()
    expect(page.locator(".row").first.locator("h3").first).to_have_text(FIRST)
    expect(page.get_by_label(wording.LINE_LABEL)).to_have_value(SAID)
    expect(page.get_by_role("heading", name="Understood as")).to_be_visible()
    assert page.locator(".row").count() == 5
    page.get_by_role("button", name=re.compile("All possible vehicles")).click()
    assert page.locator(".row").count() > 5
    page.get_by_role("button", name=re.compile("Why these")).click()
    expect(page.locator(".bars").first).to_contain_text("body pickup")
    assert page.locator(".row").count() > 5
    page.get_by_role("button", name=re.compile("All possible vehicles")).click()
    assert page.locator(".row").count() == 5
    expect(page.locator(".bars").first).to_be_visible()
    assert page.url.endswith(path)


def test_the_keyboard_reaches_everything(open_page: Open) -> None:
    page = open_page("/desk")
    field = page.get_by_label(wording.LINE_LABEL)
    expect(field).to_be_focused()
    field.fill(SAID)
    expect(page.locator(".row").first).to_be_visible()
    page.keyboard.press("ArrowDown")
    expect(page.locator("[data-row='1']")).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(page.locator("[data-row='2']")).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    expect(field).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Escape")
    expect(field).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("/")
    expect(field).to_be_focused()
    expect(field).to_have_value(SAID)
    page.keyboard.press("F9")
    expect(page.locator(".row").nth(8)).to_be_visible()
    page.keyboard.press("F8")
    expect(page.locator(".bars").first).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url("**/records/*")
    expect(page.get_by_role("heading", level=1)).to_have_text(FIRST)


def test_digits_and_letters_belong_to_the_line_while_one_types(open_page: Open) -> None:
    page = open_page("/desk")
    field = page.get_by_label(wording.LINE_LABEL)
    field.fill("pickup")
    expect(page.locator(".row").first).to_be_visible()
    field.press_sequentially(" 2 doors/1")
    expect(field).to_have_value("pickup 2 doors/1")
    assert page.url.endswith("/desk")
    page.keyboard.press("Escape")
    page.get_by_role("heading", name="Steps for any vehicle").click()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("0")
    page.wait_for_url("**/steps")


def test_coming_back_brings_the_line_and_its_results_back(open_page: Open) -> None:
    page = open_page("/desk")
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    page.locator("[data-row='1']").click()
    page.wait_for_url("**/records/*")
    page.go_back()
    expect(page.get_by_label(wording.LINE_LABEL)).to_have_value(SAID)
    expect(page.locator(".row").first.locator("h3").first).to_have_text(FIRST)


def test_meanings_hang_below_their_words(open_page: Open) -> None:
    page = open_page("/desk")
    page.get_by_label(wording.LINE_LABEL).fill("pickup with a flap by the front wheel, xyzzyplugh, steaming")
    expect(page.locator(".hang .tag").nth(2)).to_be_attached()
    assert page.locator(".hang .tag").count() == page.locator(".mirror [data-meanings]").count()
    for place, word in enumerate(page.locator(".mirror [data-meanings]").all()):
        box, leader = word.bounding_box(), page.locator(".hang .leader").nth(place).bounding_box()
        assert box
        assert leader
        assert abs(box["x"] - leader["x"]) < 2
    # The list stays for those who cannot see the leaders; what was not read is there for all.
    expect(page.get_by_text("Not read:")).to_be_visible()
    expect(page.get_by_role("heading", name="Understood as")).to_be_attached()
    boxes = [tag.bounding_box() for tag in page.locator(".hang .tag").all()]
    for one in boxes:
        for other in boxes:
            if one is not other and one and other and abs(one["y"] - other["y"]) < 5:
                assert one["x"] + one["width"] <= other["x"] or other["x"] + other["width"] <= one["x"]


def test_a_line_longer_than_its_box_wraps_and_lists_its_meanings(open_page: Open) -> None:
    page = open_page("/desk")
    long = "white pickup with the port at the left rear, " * 5
    page.get_by_label(wording.LINE_LABEL).fill(long.strip())
    expect(page.locator(".meanings li").first).to_be_visible()
    assert page.locator(".hang .tag").count() == 0
    field, mirror = page.locator("#said").bounding_box(), page.locator(".mirror").bounding_box()
    assert field
    assert mirror
    # Two lines of 26 and the padding: the field grows with its text and nothing is scrolled out of sight.
    assert field["height"] == mirror["height"] >= 78


@pytest.mark.parametrize(
    ("labels", "expected"),
    [
        ([], []),
        # Ends before the next leader: level 1. Runs into it: level 2.
        ([(0, 0, 50), (60, 60, 100)], [1, 1]),
        ([(0, 0, 80), (60, 60, 100)], [2, 1]),
        ([(0, 0, 90), (40, 40, 100), (80, 80, 120)], [3, 2, 1]),
        # Pushed left from the edge over an earlier leader: below it.
        ([(70, 70, 90), (95, 50, 100)], [1, 2]),
        ([(0, 0, 90), (20, 20, 95), (40, 40, 99), (60, 60, 99)], None),
    ],
)
def test_levels_of_the_leaders(
    open_page: Open, address: str, labels: list[tuple[int, int, int]], expected: list[int] | None
) -> None:
    page = open_page("/desk")
    module = page.locator("script[type=module]").last.get_attribute("src")
    assert module
    made = page.evaluate(
        "async ([module, labels]) => (await import(module)).levels("
        "labels.map(([x, start, end]) => ({x, start, end})), 3)",
        [module.replace("desk.js", "hang.js"), labels],
    )
    assert made == expected


def test_the_phone_search_is_large_enough_for_gloves(open_page: Open) -> None:
    page = open_page("/crew", viewport=PHONE, has_touch=True)
    field = page.get_by_label(wording.LINE_LABEL)
    assert float(field.evaluate("node => parseFloat(getComputedStyle(node).fontSize)")) >= 16
    field.fill(SAID)
    expect(page.locator(".row").first).to_be_visible()
    ours = ".vehicle, .unfold, .where > label, .named input:visible, summary, button:visible"
    for target in page.locator(f"{ours}, a.button, .nav-foot a, .light span").all():
        box = target.bounding_box()
        assert box
        assert box["height"] >= 47.5, target.inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    page.locator(".vehicle").nth(1).click(position={"x": 30, "y": 40})
    page.wait_for_url("**/records/*")


def test_tell_the_caller_by_where_the_caller_is_without_a_script(open_page: Open) -> None:
    page = open_page("/desk", java_script_enabled=False)
    expect(page.get_by_text("“Keep away from it, and keep others away.”")).to_be_visible()
    page.get_by_text("beside it", exact=True).click()
    expect(page.get_by_text("“Walk away from it, with the wind behind you.”")).to_be_visible()
    expect(page.get_by_text("“Keep away from it, and keep others away.”")).to_be_hidden()
