"""A steward's month in the browser: a bad file, put right; review by the second person; publishing; a doubt; putting it
back by two; going back. On a catalogue of its own, since it changes what is published."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from playwright.sync_api import Browser, Locator, Page, expect

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.web import review_wording as says
from catalog.web import wording
from tests.browser.axe import faults as faults_of
from tests.browser.conftest import DESK, PHONE, serving
from tests.people import signed_in, somebody

pytestmark = pytest.mark.browser

UPDATES = Path("seed_demo/updates")
BAD, GOOD = "quellorne-2026-10.xlsx", "quellorne-2026-10-corrected.xlsx"
CODE, PLACE = "KDF-F3R", "cutoff.methods[loop].place"
STEWARD, APPROVER = "p.lovage", "i.marrable"
SLOW = 60_000  # milliseconds; checks, publications and files take seconds, more on a busy machine

Sign = Callable[..., Page]


@pytest.fixture
def app(demo_data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Flask]:
    monkeypatch.setattr("catalog.services.gates.DESCRIPTIONS", 10)
    data = shutil.copytree(demo_data, tmp_path / "data")
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    house = made.extensions["chockbook"]
    somebody(house, STEWARD, Role.STEWARD)
    somebody(house, APPROVER, Role.APPROVER)
    yield made
    house.engine.dispose()


@pytest.fixture
def sign(app: Flask, browser: Browser) -> Iterator[Sign]:
    """sign(name, viewport=...) -> a page on which that person is signed in. A fault of a script fails the test."""
    with serving(app) as address:
        contexts, faults = [], []

        def as_(name: str, viewport: dict[str, int] | None = None) -> Page:
            context = browser.new_context(base_url=address, viewport=viewport or DESK)  # type: ignore[arg-type]
            contexts.append(context)
            cookie = signed_in(app, name).get_cookie("chockbook")
            assert cookie is not None
            context.add_cookies([{"name": "chockbook", "value": cookie.value, "url": address}])
            page = context.new_page()
            page.set_default_timeout(SLOW)
            page.on("pageerror", lambda error: faults.append(str(error)))
            return page

        yield as_
        for context in contexts:
            context.close()
    assert faults == []


def sound(page: Page) -> None:
    """No serious accessibility fault, and nothing to scroll sideways for."""
    assert faults_of(page) == []
    width = page.viewport_size["width"] if page.viewport_size else 0
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def press(page: Page, name: str) -> None:
    """By the keyboard, as whoever has no mouse; until the next page is there."""
    enter(page, page.get_by_role("button", name=name, exact=True).first)


def enter(page: Page, button: Locator) -> None:
    button.focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")


def bring(page: Page, name: str) -> None:
    page.goto("/steward/updates/new")
    page.locator("input[type=file]").set_input_files(UPDATES / name)
    page.locator("form:has(input[type=file]) button[type=submit]").click()


def publish(page: Page, number: int, note: str, edition: int) -> None:
    page.goto(f"/steward/updates/{number}")
    page.get_by_role("link", name="Checks and publishing").click()
    press(page, says.GATES_RUN)
    expect(page.get_by_role("heading", name=says.PUBLISH.format(number=edition))).to_be_visible(timeout=SLOW)
    page.get_by_label(says.PUBLISH_NOTE).fill(note)
    sound(page)
    press(page, says.PUBLISH.format(number=edition))
    expect(page.locator("h1")).to_have_text(f"From edition {edition - 1} to edition {edition}", timeout=SLOW)


def test_a_month(sign: Sign) -> None:
    steward, approver = sign(STEWARD), sign(APPROVER)

    bring(steward, BAD)
    expect(steward.locator("main")).to_contain_text("Did you mean CCS1?", timeout=SLOW)
    bring(steward, GOOD)
    enter(steward, steward.locator("#send button[type=submit]"))
    expect(steward.locator("h1")).to_contain_text(GOOD, timeout=SLOW)
    number = int(steward.url.rstrip("/").rpartition("/")[2].partition("?")[0])

    # Whoever brought it in is told so, and has nothing to accept it with.
    steward.goto(f"/steward/updates/{number}?record={CODE}")
    expect(steward.locator("main")).to_contain_text(says.ONLY_APPROVERS)
    expect(steward.get_by_role("button", name=says.ACCEPT_ALL)).to_have_count(0)

    approver.goto("/steward")
    expect(approver.locator(".waits")).to_contain_text(says.WAITS_FOR_YOU)
    sound(approver)
    approver.locator(".waits a", has_text=GOOD).click()
    approver.goto(f"/steward/updates/{number}?record={CODE}")
    row = approver.locator("tr", has=approver.get_by_role("rowheader", name="Where"))
    expect(row).to_contain_text("right front quarter")
    expect(row).to_contain_text("left front quarter")
    sound(approver)
    enter(approver, approver.get_by_role("button", name="leave out Open or remove first", exact=False))
    press(approver, says.ACCEPT_REST)
    approver.goto(f"/steward/updates/{number}?record={CODE}")
    enter(approver, row.get_by_role("button", name="accept"))
    expect(row).to_contain_text(f"accepted by {APPROVER}")
    publish(approver, number, "QLN-118 issue 3: a cut point moves.", 4)
    expect(approver.locator("main")).to_contain_text("left front quarter")

    steward.goto(f"/records/{CODE}/doubt?path={PLACE}")
    steward.get_by_label("Why", exact=False).fill("A crew found it on the other side.")
    press(steward, "Doubt it now")
    expect(steward.locator("main")).to_contain_text("A crew found it on the other side.", timeout=SLOW)

    steward.goto(f"/records/{CODE}/restore?path={PLACE}")
    steward.get_by_label("Why", exact=False).fill("The crew had another vehicle.")
    press(steward, "Propose it")
    restoring = int(steward.url.rstrip("/").rpartition("/")[2].partition("?")[0])
    expect(steward.get_by_role("button", name=says.ACCEPT_ALL)).to_have_count(0)
    approver.goto(f"/steward/updates/{restoring}")
    press(approver, says.ACCEPT_ALL)
    publish(approver, restoring, "Put back: the crew had another vehicle.", 6)
    expect(approver.locator("main")).to_contain_text("left front quarter")

    approver.goto("/editions")
    approver.locator('a[href="/editions/3/back"]').click()
    approver.get_by_label(says.BACK_REASON, exact=True).fill("Issue 3 was for another vehicle.")
    press(approver, says.BACK_DO)
    expect(approver.locator("h1")).to_have_text("From edition 6 to edition 7", timeout=SLOW)
    expect(approver.locator("main")).to_contain_text("right front quarter")


def test_the_review_on_a_phone_and_the_watch_list(sign: Sign) -> None:
    steward = sign(STEWARD, PHONE)
    bring(steward, GOOD)
    enter(steward, steward.locator("#send button[type=submit]"))
    expect(steward.locator("h1")).to_contain_text(GOOD, timeout=SLOW)
    sound(steward)
    for path in ("/steward", "/steward/updates", "/steward/watch"):
        steward.goto(path)
        sound(steward)
    steward.get_by_label(says.WATCH_TEXT).fill("quellorne brantock pickup")
    steward.get_by_label(wording.WATCH_CODE).fill("QPW-TF3")
    press(steward, wording.WATCH_ADD)
    expect(steward.locator(".watched")).to_contain_text("Quellorne Brantock")
    steward.locator(".watched summary").first.press("Enter")
    steward.get_by_label(says.WATCH_WHY).fill("Not on our roads any more.")
    press(steward, says.WATCH_END)
    expect(steward.locator(".watched")).to_contain_text(says.WATCH_NONE)
    # And straight from an answer, by key.
    steward.goto("/crew")
    steward.get_by_label(wording.LINE_LABEL).fill("quellorne brantock pickup")
    steward.locator(".watch-these summary").press("Enter")
    sound(steward)
    steward.get_by_label(wording.WATCH_CODE).select_option("QPW-TF3")
    press(steward, wording.WATCH_ADD)
    expect(steward.locator(".watched")).to_contain_text("Quellorne Brantock")
