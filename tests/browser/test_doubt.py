"""Open pages are told: of a newer edition by a line, of a doubt by a panel; the steward's pages of what follows."""

import re

import pytest
from flask import Flask
from playwright.sync_api import expect

from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.doubting import doubt
from tests.browser.conftest import PHONE
from tests.browser.test_steward_month import CODE, PLACE, SLOW, STEWARD, Sign, app, press, sign, sound

pytestmark = pytest.mark.browser
__all__ = ["app", "sign"]  # fixtures

BY = actor_of(STEWARD, Role.STEWARD, "test")
WHY = "A crew found it on the other side."


def test_a_doubt_interrupts_whoever_reads_the_record_and_changes_nothing_under_their_hands(
    app: Flask, sign: Sign
) -> None:
    reader, other = sign(STEWARD), sign(STEWARD, PHONE)
    reader.goto(f"/records/{CODE}")
    other.goto("/records/QPW-TF3")
    before = reader.locator("main").inner_text()
    doubt(app.extensions["chockbook"], BY, CODE, PLACE, WHY)
    panel = reader.get_by_role("dialog")
    expect(panel).to_contain_text(WHY, timeout=SLOW)
    assert reader.locator("main").inner_text() == before
    expect(panel.get_by_role("button", name="Understood")).to_be_focused()
    sound(reader)
    reader.keyboard.press("Enter")
    expect(panel).to_have_count(0)
    expect(reader.locator("#news")).to_contain_text("Edition 4 is published. This page shows edition 3.")
    # Another record's reader is told of the edition and not interrupted.
    expect(other.locator("#news")).to_contain_text("Edition 4 is published.", timeout=SLOW)
    expect(other.get_by_role("dialog")).to_have_count(0)
    sound(other)
    reader.locator("#news a").click()
    expect(reader.locator("#doubts")).to_contain_text(WHY)
    expect(reader.locator("a.doubted").first).to_have_text(re.compile(r"doubted at \d"))
    sound(reader)


def test_the_pages_of_what_follows_on_a_phone(app: Flask, sign: Sign) -> None:
    doubt(app.extensions["chockbook"], BY, CODE, PLACE, WHY)
    page = sign(STEWARD, PHONE)
    paths = (
        f"/records/{CODE}/doubt", f"/records/{CODE}/doubt?path=looks.body", f"/records/{CODE}/history?path={PLACE}",
        f"/records/{CODE}/shown?path={PLACE}&edition=3", f"/records/{CODE}/restore?path={PLACE}", "/steward/doubts",
        "/steward/work", "/steward/work?kind=stale&years=0", "/steward/sources", "/steward/sources/old?years=0",
        "/steward/verify", "/records?edition=1", "/sources/QLN-118/2",
    )  # fmt: skip
    for path in paths:
        page.goto(path)
        expect(page.locator("h1")).to_be_visible()
        sound(page)
    page.goto("/steward/work?kind=stale&years=0")
    page.locator("section.panel a").first.click()
    sound(page)
    page.get_by_label("Why it is closed").fill("Nothing newer is published.")
    press(page, "Close")
    expect(page.locator("h1")).to_have_text("Work list", timeout=SLOW)
    page.goto("/steward/work?kind=stale&years=0&state=closed")
    expect(page.locator("main")).to_contain_text("Nothing newer is published.")
