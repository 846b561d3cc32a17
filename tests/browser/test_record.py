"""The record page: the scene bar and what follows from it."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from catalog.web import wording
from tests.browser.conftest import DESK, PHONE

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
# A record whose guide states that it refuses its own drive with a coupler plugged in.
CODE = "QPW-TF3"


def answer(page: Page, cell: str, value: str) -> None:
    page.locator(f"#cell-{cell}").click()
    page.locator(f"#tray-{cell} [data-value={value}]").click()


def shown_port(page: Page) -> str:
    return " ".join(page.locator("[data-port] p:visible").all_inner_texts()).strip()


def test_the_port_waits_for_fire_and_water_to_be_no(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    number = page.locator("[data-port-step] .disc text").text_content()
    assert shown_port(page) == wording.PORT_ONLY_IF
    answer(page, "fire", "no")
    assert shown_port(page) == wording.PORT_ONLY_IF
    answer(page, "water", "no")
    assert shown_port(page) == wording.PORT_STEP.format(number=number)
    answer(page, "damaged", "no")
    assert shown_port(page) == wording.PORT_STEP_CLEAR.format(number=number)
    answer(page, "water", "unsaid")
    assert shown_port(page) == wording.PORT_ONLY_IF


@pytest.mark.parametrize("cell", ["fire", "water", "damaged"])
def test_a_yes_rules_the_port_out_and_the_number_stays(open_page: Open, cell: str) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    step = page.locator("[data-port-step]")
    number = step.locator(".disc text").text_content()
    answer(page, cell, "yes")
    assert shown_port(page) == wording.PORT_LEAVE
    expect(step).to_have_class(re.compile("struck"))
    expect(step.locator(".disc .slash")).to_be_visible()
    expect(step).to_contain_text("leave it alone")
    expect(step.locator(".disc text")).to_have_text(number or "")
    expect(page.locator(f"#cell-{cell} .answer")).to_have_text("YES")
    answer(page, cell, "unsaid")
    expect(step.locator(".disc .slash")).to_be_hidden()


def test_a_port_in_use_is_left_as_it_is(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    answer(page, "plugged", "yes")
    assert shown_port(page) == wording.PORT_OCCUPIED
    answer(page, "fire", "yes")
    assert shown_port(page) == wording.PORT_LEAVE


def test_a_cell_opens_a_tray_and_never_answers_by_itself(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    cell, tray = page.locator("#cell-fire"), page.locator("#tray-fire")
    for _ in range(2):
        cell.click()
        expect(tray).to_be_visible()
        expect(cell).to_have_attribute("aria-expanded", "true")
        assert tray.get_by_role("button").count() == 3
        for button in tray.get_by_role("button").all():
            box = button.bounding_box()
            assert box
            assert box["height"] >= 64
        cell.click()
        expect(tray).to_be_hidden()
        expect(cell.locator(".answer")).to_have_text("not said")
    cell.click()
    page.keyboard.press("Escape")
    expect(tray).to_be_hidden()
    expect(cell).to_be_focused()


def test_the_scene_is_answered_from_the_keyboard_and_stays_out_of_the_address(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}")
    page.locator("#cell-fire").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#tray-fire [data-value=unsaid]")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#cell-fire")).to_be_focused()
    assert shown_port(page) == wording.PORT_LEAVE
    expect(page.get_by_text(wording.SCENE_FIRE)).to_be_visible()
    assert page.url.endswith(f"/records/{CODE}")
    page.reload()
    assert shown_port(page) == wording.PORT_ONLY_IF


def test_in_water_cutting_off_waits_for_recovery(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    expect(page.get_by_text(wording.CUT_IN_WATER)).to_be_hidden()
    answer(page, "water", "yes")
    expect(page.get_by_text(wording.CUT_IN_WATER)).to_be_visible()


def test_without_a_script_the_cautious_words_stand(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE, java_script_enabled=False)
    assert shown_port(page) == wording.PORT_ONLY_IF
    expect(page.locator("[data-scene]")).to_be_hidden()
    expect(page.get_by_role("link", name=wording.NOT_THIS)).to_be_visible()
    page.get_by_text("Restraints", exact=True).last.click()
    expect(page.get_by_text("Airbags").first).to_be_visible()


def test_a_port_that_is_no_help_is_never_given_a_number(open_page: Open) -> None:
    page = open_page("/records/2MP-XP4", viewport=PHONE)
    assert page.locator("[data-port-step]").count() == 0
    answer(page, "fire", "no")
    answer(page, "water", "no")
    assert shown_port(page) == wording.PORT_NO_HELP


def test_a_vehicle_without_a_port_sends_nobody_looking_for_one(open_page: Open) -> None:
    page = open_page("/records/JNB-ZJC", viewport=PHONE)
    assert shown_port(page) == wording.PORT_NONE
    answer(page, "fire", "no")
    answer(page, "water", "no")
    assert shown_port(page) == wording.PORT_NONE
    answer(page, "fire", "yes")
    assert shown_port(page) == wording.PORT_LEAVE


def test_the_port_line_stays_in_view(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    page.mouse.wheel(0, 900)
    page.wait_for_function("window.scrollY > 500")
    box = page.locator("[data-port]").bounding_box()
    assert box
    assert 0 <= box["y"] < 120


def test_confirming_puts_the_question_away_and_nothing_else(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    before = page.locator("#steps").inner_text()
    bar = page.get_by_role("complementary", name="Confirm the vehicle")
    expect(bar).to_contain_text("badge reads")
    bar.get_by_role("button", name="Yes").click()
    expect(bar).to_have_count(0)
    assert page.locator("#steps").inner_text() == before


def test_groups_are_folded_on_a_phone_and_open_at_a_desk(open_page: Open) -> None:
    phone = open_page(f"/records/{CODE}", viewport=PHONE)
    assert phone.locator("details.group:not([open])").count() > 5
    for summary in phone.locator("details.group summary").all():
        box = summary.bounding_box()
        assert box
        assert box["height"] >= 48
    desk = open_page(f"/records/{CODE}", viewport=DESK)
    assert desk.locator("details.group:not([open])").count() == 0


def test_targets_on_the_phone_are_large_enough(open_page: Open) -> None:
    page = open_page(f"/records/{CODE}", viewport=PHONE)
    for target in page.locator(".cell, .confirm .button, .back, .nav-foot a, .light span, .step").all():
        box = target.bounding_box()
        assert box
        assert box["height"] >= (40 if "zones" in (target.evaluate("n => n.parentNode.className")) else 48)
