"""The steward's lists and decisions by the keyboard alone: after each action the focus is where one goes on."""

import json
from collections.abc import Callable

import pytest
from flask import Flask
from playwright.sync_api import Page, expect

from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.crew_reports import Reported, report
from catalog.services.house import House
from catalog.services.proposing import Proposed, ProposedRecord, file_hash, propose
from tests.browser.conftest import name_of

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
MOST = 3  # records of the update
MOST_TABS = 60
CALLED = "e => e.matches('[role=region]') ? '' : `${e.labels?.[0]?.innerText ?? ''} ${e.innerText ?? ''}`"
COVERED = """e => {
    const box = e.getBoundingClientRect(), at = document.elementFromPoint(box.left + box.width / 2, box.bottom - 3);
    return !(at && (e.contains(at) || at.contains(e)));
}"""


@pytest.fixture(scope="module")
def update(site: Flask) -> str:
    """An update of three records of the demo."""
    house: House = site.extensions["chockbook"]
    compiled = house.shelf.current()
    told = []
    for code in compiled.codes[:MOST]:
        document = json.loads(compiled.record_bytes(code))
        document["identity"]["names"] = [*document["identity"].get("names", ()), "Keystroke"]
        told.append(ProposedRecord(code, compiled.revision(code)[0], document, "Reissued."))
    steward = actor_of(name_of(Role.STEWARD), Role.STEWARD, "test")
    return propose(house, steward, Proposed("keys.xlsx", file_hash(b"keys"), "import", tuple(told)))


def tab_to(page: Page, name: str) -> None:
    """Press Tab until a control so called has the focus; on the way nothing that has it is hidden or covered."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        at = page.locator(":focus")
        assert at.count() == 1, "the focus left the page"
        if at.evaluate("e => !e.closest('.skip, .light')"):
            assert not at.evaluate(COVERED), at.evaluate("e => e.outerHTML.slice(0, 120)")
        if name in at.evaluate(CALLED):
            return
    pytest.fail(f"{name} is not reached by {MOST_TABS} tabs")


def enter(page: Page) -> None:
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_a_review_goes_on_by_the_keyboard(open_page: Open, update: str) -> None:
    page = open_page(f"/steward/updates/{update}", role=Role.APPROVER, viewport={"width": 1280, "height": 500})
    tab_to(page, "Choose which")
    page.keyboard.press("Enter")
    tab_to(page, "order")
    page.keyboard.press("ArrowDown")
    tab_to(page, "Show")
    enter(page)
    expect(page.locator("#h-list")).to_be_focused()
    titles = page.locator(".chosen b").all_inner_texts()
    tab_to(page, titles[1])
    enter(page)
    expect(page.locator("#h-record")).to_be_focused()
    tab_to(page, "accept")
    enter(page)
    expect(page.locator("tr:focus")).to_contain_text("accepted by")
    tab_to(page, "comment")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("Seen without a mouse.")
    page.keyboard.press("Tab")
    enter(page)
    expect(page.locator("tr:focus")).to_contain_text("Seen without a mouse.")
    tab_to(page, "Leave this record out")
    enter(page)
    onward = page.get_by_role("link", name="Next record to decide of")
    expect(onward).to_be_focused()
    enter(page)
    expect(page.locator("#h-record")).to_be_focused()
    assert titles[1] not in page.locator("#h-record").inner_text()
    page.go_back()
    expect(page.locator(".change")).to_contain_text(titles[1])


def test_the_work_list_is_gone_on_with_where_it_was_left(open_page: Open, site: Flask) -> None:
    house: House = site.extensions["chockbook"]
    revision = house.shelf.current().revision("QPW-TF3")[0]
    for number in range(2):
        report(house, Reported(f"keys{number}" + "r" * 19, "QPW-TF3", "", revision, f"Keystroke {number}.", "d" * 24))
    page = open_page("/steward/work", role=Role.STEWARD)
    tab_to(page, "Words in it")
    page.keyboard.type("keystroke")
    enter(page)
    expect(page.locator("#rows")).to_be_focused()
    expect(page.locator("#rows")).to_contain_text("2 entries")
    page.keyboard.press("Tab")
    enter(page)
    tab_to(page, "Why it is closed")
    page.keyboard.type("Looked at.")
    enter(page)
    expect(page.locator("#rows")).to_be_focused()
    expect(page.locator("#rows")).to_contain_text("1 entry")
    assert "words=keystroke" in page.url
