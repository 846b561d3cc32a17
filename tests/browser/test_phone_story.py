"""The whole story on one phone: installed, offline, found, done, reported, told of what is new, and what goes wrong."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from time import monotonic

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Page, expect

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.doubting import doubt
from catalog.services.house import House
from catalog.services.work_list import WorkAsked, list_work
from tests.browser.conftest import LONG, PHONE, serving
from tests.unit import hostile_photos

pytestmark = pytest.mark.browser

STEWARD = actor_of("p.lovage", Role.STEWARD, "test")
CONTROL = actor_of("jonah.tellwright", Role.DISPATCHER, "test")
CODE = "QPW-TF3"
SAID = "white pickup, badge brantock, port left rear"

# Whether all of the edition is on the phone, and the worker answers for the page.
WHOLE = """() => navigator.serviceWorker.controller !== null && new Promise((resolve) => {
  const asked = indexedDB.open("chockbook");
  asked.onupgradeneeded = () => asked.transaction.abort(); // the app makes it: one made here would have no stores
  asked.onerror = () => resolve(false);
  asked.onsuccess = () => {
    const got = asked.result.transaction("editions").objectStore("editions").get("current");
    got.onsuccess = () => { asked.result.close(); resolve(got.result?.whole === true); };
  };
})"""
WIPE = """async () => {
  for (const name of await caches.keys()) await caches.delete(name);
  await new Promise((resolve) => {
    const asked = indexedDB.deleteDatabase("chockbook");
    asked.onsuccess = asked.onerror = resolve;
  });
}"""


@dataclass(eq=False)
class Served:
    """A catalogue of its own, since editions are published and the server is stopped."""

    app: Flask
    address: str
    stop: Callable[[], None]

    @property
    def house(self) -> House:
        house: House = self.app.extensions["chockbook"]
        return house


@pytest.fixture
def served(demo_data: Path, tmp_path: Path) -> Iterator[Served]:
    data = shutil.copytree(demo_data, tmp_path / "data")
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    with ExitStack() as running:
        made = Served(app, running.enter_context(serving(app)), running.close)
        yield made
    made.house.engine.dispose()


@pytest.fixture
def phone(browser: Browser, served: Served) -> Iterator[BrowserContext]:
    context = browser.new_context(base_url=served.address, viewport=PHONE)  # type: ignore[arg-type]
    context.set_default_timeout(LONG)
    yield context
    context.close()


def until_whole(page: Page) -> None:
    ends = monotonic() + LONG / 1000
    while not page.evaluate(WHOLE):
        assert monotonic() < ends, page.locator("body").inner_text()
        page.wait_for_timeout(200)


def tick(page: Page, place: int, answer: str) -> str:
    """Tick a step; returns its key."""
    step = page.locator("#steps [data-step-of]").nth(place)
    key = str(step.get_attribute("data-step-of"))
    step.locator(".tick").click()
    page.get_by_role("dialog").get_by_role("button", name=answer, exact=True).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    return key


def ticked(page: Page, key: str, state: str) -> None:
    expect(page.locator(f"#steps [data-step-of='{key}'].{state}")).to_have_count(1)


def test_phone_offline_story(phone: BrowserContext, served: Served) -> None:
    house, page = served.house, phone.new_page()
    page.goto("/phone")
    until_whole(page)

    # Without signal: opened again, found by words and by taps, the same vehicle.
    phone.set_offline(True)
    page.reload()
    expect(page.locator("[data-edition]")).to_contain_text("edition 3")
    page.locator("#said").fill(SAID)
    expect(page.locator(".rows .vehicle b").first).to_contain_text("Quellorne Brantock")
    page.locator("[data-clear]").click()
    page.get_by_role("button", name="pickup").click()
    page.locator("[data-tab=badge]").click()
    page.locator("#badge").fill("brantock")
    page.locator("[data-badge] button").click()
    page.locator(f".rows [href*='{CODE}']").first.click()

    # The record: its four answers, the badge, steps ticked.
    expect(page.locator("#four .answer")).to_have_count(4)
    page.get_by_role("button", name="Yes", exact=True).click()
    done, cannot = tick(page, 0, "Done"), tick(page, 1, "Cannot")
    page.reload()
    expect(page.locator("#four .answer")).to_have_count(4)
    ticked(page, done, "done")
    ticked(page, cannot, "cannot")

    # A crew report with a photo waits, and arrives once when there is signal.
    page.evaluate(f"location.hash = '#/report/{CODE}'")
    page.get_by_label("What was seen").fill("The cut loop sits behind the other door.")
    page.locator("#photo").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": hostile_photos.with_place()}
    )
    expect(page.locator("canvas")).to_be_visible()
    page.get_by_role("button", name="Send").click()
    expect(page.locator(".sent .state")).to_contain_text("WAITING FOR SIGNAL")
    assert list_work(house, STEWARD, WorkAsked("report")) == ()
    phone.set_offline(False)
    expect(page.locator(".sent .state")).to_contain_text("ARRIVED")
    assert [(one.code, one.photo) for one in list_work(house, STEWARD, WorkAsked("report"))] == [(CODE, "there")]

    # A doubt interrupts; the edition it came with is offered, and taken on a tap alone.
    page.evaluate(f"location.hash = '#/record/{CODE}'")
    expect(page.locator("#four .answer")).to_have_count(4)
    number = doubt(house, STEWARD, CODE, "looks.body", "A crew saw a van.")
    page.evaluate("dispatchEvent(new Event('online'))")
    panel = page.locator("dialog[open]")
    expect(panel).to_contain_text("A crew saw a van.")
    panel.get_by_role("button").first.click()
    page.evaluate("location.hash = '#/'")
    offer = page.get_by_role("button", name=f"Edition {number} is here: change now")
    expect(page.locator("[data-edition]")).to_contain_text("edition 3")
    offer.click()
    expect(page.locator("[data-edition]")).to_contain_text(f"edition {number}")
    assert len(list_work(house, STEWARD, WorkAsked("report"))) == 1
    page.evaluate(f"location.hash = '#/record/{CODE}'")
    ticked(page, done, "done")

    # Storage wiped: what was kept is gone, the edition comes again.
    page.evaluate(WIPE)
    page.goto("/phone#/")
    page.reload()
    until_whole(page)
    page.evaluate("location.hash = '#/sent'")
    expect(page.locator("main")).to_contain_text("Nothing was sent from this phone.")

    # A brief that was opened, and the app, with the server stopped.
    view = compose_brief(house, CONTROL, BriefAsked(codes=(CODE,)))
    page.goto(view.link)
    expect(page.locator(".kept-here")).to_contain_text("stays on this device")
    served.stop()
    page.reload()
    expect(page.locator("main")).to_contain_text("No signal: the copy on this device")
    expect(page.locator("main")).to_contain_text(f"Fixed to edition {number}")
    page.goto("/phone#/briefs")
    expect(page.locator(".sent li")).to_contain_text(view.id)
    page.evaluate("location.hash = '#/'")
    page.locator("#said").fill(SAID)
    expect(page.locator(".rows .vehicle b").first).to_contain_text("Quellorne Brantock")
