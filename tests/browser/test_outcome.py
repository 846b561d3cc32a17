"""What it turned out to be: noted from the answers and from the record they led to, without leaving the page."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from catalog.app import create_app
from catalog.config import Settings
from catalog.services.house import House
from catalog.services.outcomes import collected
from catalog.web import wording
from tests.browser.conftest import PHONE, serving

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
SAID = "white pickup, port left rear"


@pytest.fixture(scope="module")
def served(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[House, str]]:
    """A catalogue of its own, which these tests write to."""
    data = Path(shutil.copytree(demo_data, tmp_path_factory.mktemp("outcomes") / "data"))
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    with serving(app) as address:
        yield app.extensions["chockbook"], address
    app.extensions["chockbook"].engine.dispose()


def described(page: Page, address: str, path: str = "/desk") -> None:
    page.goto(f"{address}{path}")
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    expect(page.locator(".outcome summary")).to_be_visible()


def test_a_badge_is_confirmed_from_the_keyboard(open_page: Open, served: tuple[House, str]) -> None:
    house, address = served
    page = open_page("/")
    described(page, address)
    before = collected(house)
    page.locator(".outcome summary").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator(".outcome").get_by_role("button", name=wording.OUTCOME_BADGE).first).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("[data-outcome-said]")).to_have_text(wording.OUTCOME_NOTED["confirmed"])
    assert page.url == f"{address}/desk"
    page.keyboard.press("Enter")  # pressed again it is the same outcome
    page.locator(".outcome").get_by_role("button", name=wording.OUTCOME_NOT_THIS).nth(1).press("Enter")
    expect(page.locator("[data-outcome-said]")).to_have_text(wording.OUTCOME_NOTED["not_this"])
    page.get_by_role("button", name=wording.OUTCOME_NOT_LISTED).press("Enter")
    expect(page.locator("[data-outcome-said]")).to_have_text(wording.OUTCOME_NOTED["not_listed"])
    after = collected(house)
    assert (after.confirmed, after.not_this, after.not_listed) == (
        before.confirmed + 1,
        before.not_this + 1,
        before.not_listed + 1,
    )


def test_without_a_script_the_form_is_posted(open_page: Open, served: tuple[House, str]) -> None:
    house, address = served
    page = open_page("/", viewport=PHONE, java_script_enabled=False)
    page.goto(f"{address}/crew")
    page.get_by_label(wording.LINE_LABEL).fill(SAID)
    page.get_by_role("button", name="Search").click()
    before = collected(house).confirmed
    page.locator(".outcome summary").click()
    button = page.get_by_role("button", name=wording.OUTCOME_VIN).first
    box = button.bounding_box()
    assert box
    assert box["height"] >= 48
    button.click()
    expect(page.get_by_role("heading", name=wording.OUTCOME_NOTED["confirmed"])).to_be_visible()
    assert SAID not in page.content()
    assert collected(house).confirmed == before + 1


def test_the_record_a_search_led_to_notes_the_badge_once(open_page: Open, served: tuple[House, str]) -> None:
    house, address = served
    page = open_page("/", viewport=PHONE)
    described(page, address, "/crew")
    page.locator("[data-row='1']").click()
    before = collected(house).confirmed
    page.get_by_role("button", name=wording.OUTCOME_YES).click()
    expect(page.locator("[data-outcome-said]")).to_have_text(wording.OUTCOME_NOTED["confirmed"])
    assert collected(house).confirmed == before + 1
    page.reload()  # known now, and asked as of anyone who came without a search
    expect(page.get_by_role("button", name="Yes", exact=True)).to_be_visible()


def test_a_form_of_another_site_is_refused(served: tuple[House, str], open_page: Open) -> None:
    house, address = served
    page = open_page("/")
    before = collected(house)
    sent = page.request.post(
        f"{address}/outcomes",
        form={"id": "x", "edition": "3", "cues": "[]", "outcome": "not_listed:badge:"},
        headers={"Sec-Fetch-Site": "cross-site"},
    )
    assert sent.status == 400
    assert collected(house) == before
