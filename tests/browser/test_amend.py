"""What was understood is struck out and changed: by keyboard, by hand, and without a script."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

from catalog.web import wording
from tests.browser.axe import faults
from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
SAID = "white van, port left rear, zorble"
EVERYTHING = (
    "white van hit by a blue bus, badge says brantok maybe, somebody trapped, no fire, on its roof, zorble, "
    "ring Dave Wetherby on 07700 900123"
)


def typed(page: Page, text: str = SAID) -> None:
    """A line on the page, with why each vehicle is in the list."""
    page.get_by_label(wording.LINE_LABEL).fill(text)
    expect(page.locator(".row").first).to_be_visible()
    page.keyboard.press("F8")
    expect(page.locator(".row .why").first).to_be_visible()
    if page.locator(".unfold").is_visible():
        page.locator(".unfold").click()


def chip(page: Page, heard: str) -> Locator:
    return page.get_by_label(re.compile(f"from “{heard}”"))


def test_a_cue_is_struck_out_and_put_back_by_keyboard(open_page: Open) -> None:
    page = open_page("/desk")
    typed(page)
    expect(page.locator(".row").first).to_contain_text("van")
    page.keyboard.press("Tab")
    expect(chip(page, "white")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(chip(page, "van")).to_be_focused()
    page.keyboard.press("Delete")
    expect(page.locator(".chip.struck")).to_contain_text("struck out")
    expect(chip(page, "van")).to_be_focused()
    expect(page.locator(".mirror .struck")).to_have_text("van")
    expect(page.locator(".row .why").first).not_to_contain_text("body van")
    # A screen reader is told what was done and what came of it.
    expect(page.locator("[data-part=status]")).to_contain_text("strike it out. First of the possible vehicles:")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    expect(page.locator(".chip.struck")).to_have_count(0)
    expect(page.locator(".row .why").first).to_contain_text("body van")


def test_a_cue_is_changed_by_keyboard_and_stays_so_while_the_text_grows(open_page: Open) -> None:
    page = open_page("/desk")
    typed(page)
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    page.keyboard.type("pick")
    page.keyboard.press("Enter")
    expect(page.locator(".chip.corrected .value")).to_have_text("pickup")
    expect(page.locator(".row .why").first).to_contain_text("body pickup")
    expect(chip(page, "van")).to_be_focused()
    page.keyboard.press("Escape")
    field = page.get_by_label(wording.LINE_LABEL)
    expect(field).to_be_focused()
    page.keyboard.press("End")
    field.press_sequentially(", smoke")
    expect(page.locator(".signal")).to_be_visible()
    expect(page.locator(".chip.corrected .value")).to_have_text("pickup")
    expect(page.locator(".row .why").first).to_contain_text("body pickup")


def test_escape_leaves_an_open_list_without_a_change(open_page: Open) -> None:
    page = open_page("/desk")
    typed(page)
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Escape")
    expect(chip(page, "white")).to_be_focused()
    expect(page.locator(".chip.struck, .chip.corrected")).to_have_count(0)
    page.keyboard.press("Escape")
    expect(page.get_by_label(wording.LINE_LABEL)).to_be_focused()


def test_a_change_of_what_is_not_read_just_now_comes_back_with_it_and_ends_with_the_line(open_page: Open) -> None:
    page = open_page("/desk")
    typed(page)
    chip(page, "van").select_option(label="strike it out")
    expect(page.locator(".chip.struck")).to_have_count(1)
    field = page.get_by_label(wording.LINE_LABEL)
    field.fill("white va")
    expect(page.locator(".chip.struck")).to_have_count(0)
    field.fill("white van")
    expect(page.locator(".chip.struck")).to_have_count(1)
    field.fill("")
    expect(page.locator(".chip")).to_have_count(0)
    field.fill("white van")
    expect(page.locator(".chip")).to_have_count(2)
    expect(page.locator(".chip.struck")).to_have_count(0)


def test_on_a_phone_every_thing_understood_is_a_target_for_a_glove(open_page: Open) -> None:
    page = open_page("/crew", viewport=PHONE, has_touch=True)
    typed(page, EVERYTHING)
    lists = page.locator("select[data-chip]")
    assert lists.count() > 6
    for place in range(lists.count()):
        box = lists.nth(place).bounding_box()
        assert box
        assert box["height"] >= 47.5
        assert box["width"] >= 48
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    chip(page, "van").select_option(label="pickup")
    expect(page.locator(".row .why").first).to_contain_text(re.compile("body pickup"))


def test_the_other_vehicle_the_scene_and_what_is_not_read_or_kept_stand_apart(open_page: Open) -> None:
    page = open_page("/crew", viewport=PHONE)
    typed(page, EVERYTHING)
    others = page.locator(".others-said")
    expect(others).to_contain_text(wording.OTHER_VEHICLE)
    assert [text.strip() for text in others.locator(".value").all_inner_texts()] == ["blue", "bus"]
    expect(page.locator(".proposed")).to_contain_text("on fire no")
    expect(page.locator(".proposed")).to_contain_text("somebody trapped yes")
    expect(page.locator(".unread")).to_contain_text("zorble")
    expect(page.locator(".not-kept .block")).to_have_count(2)
    # The line itself stays as it was typed, and the underlines keep to their words.
    assert page.locator(".mirror").inner_text().rstrip("\u200b\n") == EVERYTHING


@pytest.mark.parametrize("path", ["/desk", "/crew"])
def test_no_accessibility_fault_with_everything_on_the_page(open_page: Open, path: str) -> None:
    page = open_page(path, color_scheme="light", viewport=PHONE if path == "/crew" else None)
    typed(page, EVERYTHING)
    chip(page, "van").select_option(label="strike it out")
    expect(page.locator(".chip.struck")).to_have_count(1)
    assert faults(page, serious=False) == []
    page.emulate_media(color_scheme="dark")
    assert faults(page, again=True) == []


def test_it_all_works_as_a_plain_form(open_page: Open) -> None:
    page = open_page("/desk", java_script_enabled=False)
    search = page.get_by_role("button", name="Search")
    page.get_by_label(wording.LINE_LABEL).fill(EVERYTHING)
    search.click()
    chip(page, "van").select_option(label="pickup")
    chip(page, "no fire").select_option(label="strike it out")
    search.click()
    page.get_by_role("button", name="Why these").click()
    expect(page.locator(".row .why").first).to_contain_text("body pickup")
    expect(page.locator(".chip.struck")).to_have_count(1)
    expect(page.locator(".scene-bar .cell", has_text="fire or smoke")).to_contain_text("not said")
    chip(page, "van").select_option(label="van (as read)")
    search.click()
    expect(page.locator(".chip.corrected")).to_have_count(0)
    expect(page.locator(".chip.struck")).to_have_count(1)
    # What is masked never comes back.
    assert "900123" not in page.content()
    assert "Wetherby" not in page.content()


def test_a_line_is_finished_once_when_it_is_emptied_or_left(open_page: Open) -> None:
    page = open_page("/desk")
    told: list[str] = []
    page.on("request", lambda request: told.append(request.post_data or "") if "settled" in request.url else None)
    field = page.get_by_label(wording.LINE_LABEL)
    field.press_sequentially("white zorble van", delay=20)
    page.wait_for_timeout(300)
    assert told == []
    page.wait_for_timeout(3100)
    for _ in range(16):
        page.keyboard.press("Backspace")
    expect(page.locator(".row")).to_have_count(0)
    page.wait_for_function("document.getElementById('said').value === ''")
    page.wait_for_timeout(200)
    field.fill("blue prang bus")
    expect(page.locator(".row").first).to_be_visible()
    # Leaving for another page is not seen from here any more, so the event alone is given, twice.
    for _ in range(2):
        page.evaluate("dispatchEvent(new PageTransitionEvent('pagehide'))")
    page.wait_for_timeout(300)
    said = [re.sub(r"&line=.*", "", text) for text in told]
    assert said == ["said=white+zorble+van", "said=blue+prang+bus"]
    lines = {re.sub(r".*&line=", "", text) for text in told}
    assert len(lines) == 2
