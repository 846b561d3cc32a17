"""Ask next, not this vehicle, and what the crew can count on: from the keyboard, on a phone, without a script."""

import re
from collections.abc import Callable
from typing import Literal

import pytest
from playwright.sync_api import Page, Route, expect

from catalog.resolve.answering.question_words import WHOM
from catalog.web import wording
from tests.browser.axe import faults
from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
SAID = "white pickup, port left rear"


def line(page: Page, text: str = SAID) -> None:
    page.get_by_label(wording.LINE_LABEL).fill(text)
    expect(page.locator(".row").first).to_be_visible()


def question(page: Page) -> str:
    return page.locator(".question").inner_text()


def test_words_then_an_answer_then_a_vehicle_ruled_out_change_the_facts_by_keyboard(open_page: Open) -> None:
    page = open_page("/desk")
    page.keyboard.type(SAID)
    expect(page.locator(".row").first).to_be_visible()
    before = page.locator(".counted dl").all_inner_texts()
    page.keyboard.press("F2")
    # The first question here asks for a name: it is typed, and digits in it are letters of it.
    expect(page.get_by_label(wording.NAME_HINT)).to_be_focused()
    page.keyboard.type("brantock 2")
    page.keyboard.press("Enter")
    expect(page.locator(".answered .chip")).to_have_count(1)
    expect(page.locator(".vehicle h3").first).to_contain_text("Brantock")
    expect(page.locator("[data-ask]")).to_be_focused()
    answered = page.locator(".counted dl").all_inner_texts()
    assert answered != before
    asked = question(page)
    page.keyboard.press("1")
    expect(page.locator(".answered .chip")).to_have_count(2)
    assert asked not in page.locator("[data-ask]").inner_text()
    page.keyboard.press("Escape")
    expect(page.get_by_label(wording.LINE_LABEL)).to_be_focused()
    page.keyboard.press("ArrowDown")
    first = page.locator(".vehicle a").first.get_attribute("href")
    asked_facts = page.locator(".counted dl").all_inner_texts()
    page.keyboard.press("Delete")
    expect(page.locator(".answered .chip")).to_have_count(3)
    expect(page.locator(".vehicle a").first).not_to_have_attribute("href", str(first))
    assert page.locator(".counted dl").all_inner_texts() != asked_facts
    # A screen reader is told what was done and what came of it, in one breath.
    expect(page.locator("[data-part=status]")).to_contain_text(re.compile("^Not this vehicle: .*First of the possible"))


def test_an_answer_is_struck_out_in_what_was_understood_and_not_asked_again(open_page: Open) -> None:
    page = open_page("/desk")
    line(page, "pickup, brantock")
    asked = question(page)
    page.keyboard.press("F2")
    page.keyboard.press("2")
    chip = page.locator(".answered select")
    expect(chip).to_have_count(1)
    chip.focus()
    page.keyboard.press("Delete")
    expect(page.locator(".answered .untold")).to_contain_text(wording.CANNOT_TELL)
    expect(page.locator(".question", has_text=asked)).to_have_count(0)
    # Changed to another answer it counts again.
    chip.select_option(index=2)
    expect(page.locator(".answered .untold")).to_have_count(0)


def test_the_keyboard_keeps_its_place_when_what_it_was_on_is_drawn_anew(open_page: Open) -> None:
    page = open_page("/desk")
    line(page)
    page.locator("[data-not]").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".answered .chip")).to_have_count(1)
    expect(page.locator("[data-row='1']")).to_be_focused()
    page.locator("[data-toggle=all]").focus()
    page.keyboard.press("Enter")
    expect(page.locator("[data-toggle=all]")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("[data-toggle=all]")).to_be_focused()


def test_after_three_questions_the_steps_for_any_vehicle_are_offered(open_page: Open) -> None:
    page = open_page("/desk")
    line(page, "pickup")
    for count in range(1, 4):
        page.locator("[data-ask] [data-key='0']").click()
        expect(page.locator(".answered .chip")).to_have_count(count)
    expect(page.locator(".question")).to_have_count(0)
    page.get_by_role("link", name=wording.TREAT_UNLISTED).click()
    page.wait_for_url("**/steps")


def test_digits_typed_in_the_line_answer_nothing_and_the_next_call_begins_afresh(open_page: Open) -> None:
    page = open_page("/desk")
    line(page, "pickup, 2 doors")
    page.get_by_label(wording.LINE_LABEL).press_sequentially(" 1")
    page.wait_for_timeout(400)
    expect(page.locator(".answered")).to_have_count(0)
    page.locator("[data-ask] [data-key='0']").click()
    page.locator("[data-not]").first.click()
    page.get_by_text("beside it", exact=True).click()
    expect(page.locator(".answered .chip")).to_have_count(2)
    expect(page.locator("[data-ask] header")).to_contain_text(WHOM["beside"])
    page.get_by_label(wording.LINE_LABEL).fill("")
    expect(page.locator(".answered")).to_have_count(0)
    expect(page.locator("[data-ask] header")).to_contain_text(WHOM["unknown"])


def test_an_answer_is_not_lost_to_words_typed_right_after_it(open_page: Open) -> None:
    page = open_page("/desk")
    line(page, "pickup")
    held: list[Route] = []
    page.route("**/desk/live", lambda route: held.append(route) if not held else route.continue_())
    page.locator("[data-ask] [data-key='0']").click()
    page.wait_for_timeout(100)
    assert held
    page.get_by_label(wording.LINE_LABEL).press_sequentially(", white")
    expect(page.locator(".answered .chip")).to_have_count(1)


def test_a_fold_that_is_open_stays_open_while_one_types(open_page: Open) -> None:
    page = open_page("/desk")
    line(page)
    fold = page.locator("details[data-fold]").first
    fold.locator("summary").click()
    expect(fold).to_have_attribute("open", "")
    page.get_by_label(wording.LINE_LABEL).press_sequentially(", blue")
    expect(page.locator(".mirror")).to_contain_text("blue")
    page.wait_for_timeout(500)
    expect(page.locator("details[data-fold]").first).to_have_attribute("open", "")


def test_it_all_works_as_a_plain_form(open_page: Open) -> None:
    page = open_page("/desk", java_script_enabled=False)
    page.get_by_label(wording.LINE_LABEL).fill("pickup, smoke")
    page.get_by_role("button", name="Search").click()
    expect(page.locator(".signal")).to_be_visible()
    page.get_by_text("away", exact=True).click()
    page.locator("[data-ask] [data-key='0']").click()
    expect(page.locator(".answered .chip")).to_have_count(1)
    expect(page.locator("[data-ask] header")).to_contain_text(WHOM["away"])
    page.locator("[data-not]").first.click()
    expect(page.locator(".answered .chip")).to_have_count(2)
    page.get_by_role("button", name=re.compile("more facts")).click()
    expect(page.locator(".answered .chip")).to_have_count(2)
    expect(page.locator(".counts").nth(30)).to_be_attached()
    page.locator(".answered select[name=not]").select_option(label=wording.MAY_BE_IT)
    page.get_by_role("button", name="Search").click()
    expect(page.locator(".answered .chip")).to_have_count(1)


def test_on_a_phone_danger_question_and_vehicles_come_first_and_the_rest_is_folded(open_page: Open) -> None:
    page = open_page("/desk", viewport=PHONE, has_touch=True)
    line(page, f"{SAID}, smoke")
    tops = [page.locator(part).first.bounding_box() for part in (".line", ".signal", ".ask", ".possible", ".unfold")]
    ys = [box["y"] for box in tops if box]
    assert len(ys) == len(tops)
    assert ys == sorted(ys)
    assert ys[2] < PHONE["height"] * 0.6
    expect(page.locator(".meanings").first).to_be_hidden()
    page.locator(".unfold").click()
    expect(page.locator(".meanings").first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


@pytest.mark.parametrize(("path", "lights"), [("/desk", ("light", "dark")), ("/crew", ("dark",))])
def test_no_accessibility_fault_with_answers_on_the_page(
    open_page: Open, path: str, lights: tuple[Literal["light", "dark"], ...]
) -> None:
    page = open_page(path, color_scheme=lights[0], viewport=PHONE if path == "/crew" else None)
    line(page, f"{SAID}, smoke")
    page.locator("[data-ask] [data-key='0']").click()
    page.locator("[data-not]").first.click()
    expect(page.locator(".answered .chip")).to_have_count(2)
    for key in ("F7", "F8", "F9"):
        page.keyboard.press(key)
    expect(page.locator(".bars").nth(5)).to_be_attached()
    for at, light in enumerate(lights):
        page.emulate_media(color_scheme=light)
        assert faults(page, serious=False, again=at > 0) == [], light
