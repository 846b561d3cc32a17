"""A crew's report from the phone: written without signal, delivered once; briefs that were opened stay offline."""

import io
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from flask import Flask
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from catalog.domain.roles import Role
from catalog.services import brief_acts as acts
from catalog.services.acting import actor_of
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.counting import flush_counts
from catalog.services.report_photos import report_photo
from catalog.services.work_list import WorkAsked, list_work
from catalog.store.engine import read
from catalog.store.shown import devices_with
from tests.browser.conftest import PHONE
from tests.browser.used_phone import UsedPhone
from tests.unit import hostile_photos

pytestmark = pytest.mark.browser
CODE = "QPW-TF3"
STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
CONTROL = actor_of("jonah.tellwright", Role.DISPATCHER, "test")


@pytest.fixture
def phone(used_phone: UsedPhone) -> Iterator[BrowserContext]:
    yield used_phone.context
    used_phone.context.set_offline(False)


@pytest.fixture
def first_visit(browser: Browser, address: str) -> Iterator[BrowserContext]:
    """A phone on which nothing is yet."""
    context = browser.new_context(base_url=address, viewport=PHONE)  # type: ignore[arg-type]
    yield context
    context.close()


def sound(page: Page) -> None:
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(fault["id"], [node["html"] for node in fault["nodes"]][:3]) for fault in found] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_a_report_with_a_photo_written_offline_arrives_once_on_the_phone(
    used_phone: UsedPhone, phone: BrowserContext, site: Flask
) -> None:
    house, page = site.extensions["chockbook"], used_phone.page
    page.goto(f"/phone#/report/{CODE}")
    seen = page.get_by_label("What was seen")
    expect(seen).to_be_visible()
    expect(page.locator("#fact optgroup option").first).to_be_attached()
    sound(page)
    phone.set_offline(True)
    page.locator("#fact").select_option("looks.body")
    seen.fill("It is a van, not a pickup.")
    large = hostile_photos.photo("JPEG", (2400, 1800), exif=_place())
    page.locator("#photo").set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": large})
    expect(page.locator("canvas")).to_have_attribute("aria-label", "The photo as it will be sent, 1600 by 1200 pixels")
    sound(page)
    page.get_by_role("button", name="Send").click()
    expect(page.locator(".sent .state")).to_contain_text("WAITING FOR SIGNAL")
    sound(page)
    assert list_work(house, STEWARD, WorkAsked("report", words="not a pickup")) == ()
    kept = page.evaluate(
        "import(document.querySelector('script[src*=\"phone/main.js\"]').src.replace('main.js', 'outbox.js'))"
        ".then((outbox) => outbox.sent()).then(([entry]) => Array.from(entry.photo))"
    )
    assert hostile_photos.PLACE in large
    assert hostile_photos.PLACE not in bytes(kept)
    assert b"Exif" not in bytes(kept), "the device itself takes the camera's notes out"
    phone.set_offline(False)
    expect(page.locator(".sent .state")).to_contain_text("ARRIVED")
    [entry] = list_work(house, STEWARD, WorkAsked("report", words="not a pickup"))
    assert (entry.code, entry.path, entry.photo) == (CODE, "looks.body", "there")
    with Image.open(io.BytesIO(report_photo(house, STEWARD, entry.key))) as photo:
        assert photo.size == (1600, 1200)
    # Opened again, with what had arrived told to be sent once more: the server still has one.
    page.evaluate(
        "import(document.querySelector('script[src*=\"phone/main.js\"]').src.replace('main.js', 'outbox.js'))"
        ".then(async (outbox) => { const [entry] = await outbox.sent();"
        " const db = await import(document.querySelector('script[src*=\"phone/main.js\"]').src"
        ".replace('main.js', 'database.js'));"
        " await db.put('outbox', entry.id, { ...entry, words: 0, state: 'waiting' }); await outbox.deliver(); })"
    )
    page.goto("/phone#/sent")
    expect(page.locator(".sent .state")).to_contain_text("ARRIVED")
    sound(page)
    assert len(list_work(house, STEWARD, WorkAsked("report", words="not a pickup"))) == 1
    flush_counts(house)
    with read(house.engine) as conn:
        count, _ = devices_with(conn, [(1, 99)], 10)
    assert count >= 1


def _place() -> Image.Exif:
    exif = Image.Exif()
    exif[0x010E] = hostile_photos.PLACE.decode()
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 26.0)
    return exif


def test_words_are_not_lost_where_the_phone_has_no_room(first_visit: BrowserContext) -> None:
    page = first_visit.new_page()
    page.goto(f"/phone#/report/{CODE}")
    seen = page.get_by_label("What was seen")
    expect(seen).to_be_visible()
    first_visit.set_offline(True)
    page.evaluate(
        "() => { const put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = function (value, key) {"
        " if (this.name === 'outbox' && value.photo) throw new DOMException('full', 'QuotaExceededError');"
        " return put.call(this, value, key); }; }"
    )
    seen.fill("The port is on the left.")
    page.locator("#photo").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": hostile_photos.photo()}
    )
    expect(page.locator("canvas")).to_be_visible()
    page.get_by_role("button", name="Send").click()
    # Beside it may stand that there is no signal for the rest of the edition.
    expect(page.locator(".report-form").get_by_role("alert")).to_contain_text("no room for the photo")
    expect(seen).to_have_value("The port is on the left.")
    page.get_by_role("button", name="Send the words alone").click()
    expect(page.locator(".sent .state")).to_contain_text("WAITING FOR SIGNAL")
    expect(page.locator(".sent")).to_contain_text("The port is on the left.")


def test_an_opened_brief_stays_offline_and_says_when_it_was_recalled(first_visit: BrowserContext, site: Flask) -> None:
    house = site.extensions["chockbook"]
    view = compose_brief(house, CONTROL, BriefAsked(codes=(CODE,), scene={"fire": "yes"}))
    page = first_visit.new_page()
    answer = page.goto(view.link)
    assert answer is not None
    assert answer.headers["cache-control"] == "no-store"
    expect(page.locator(".kept-here")).to_contain_text("stays on this device until")
    page.wait_for_function("navigator.serviceWorker.ready.then((one) => one.active.state === 'activated')")
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    first_visit.set_offline(True)
    page.reload()
    expect(page.locator("main")).to_contain_text("No signal: the copy on this device")
    expect(page.locator("h1")).to_contain_text("vehicle A")
    ground = page.locator(".letter-plate").evaluate("(node) => getComputedStyle(node).backgroundColor")
    assert ground != "rgba(0, 0, 0, 0)", "its style is kept too"
    sound(page)
    first_visit.set_offline(False)
    acts.recall(house, CONTROL, view.id, acts.Recall("The cut point is wrong.", "Leave the bonnet shut."))
    page.goto("/phone#/briefs")
    panel = page.get_by_role("dialog")
    expect(panel).to_contain_text("This brief was recalled")
    panel.get_by_role("button", name="Understood").click()
    expect(page.locator(".sent li")).to_contain_text("RECALLED: do not go by it")
    expect(page.locator(".sent li")).to_contain_text("Fixed to edition")
    sound(page)
    first_visit.set_offline(True)
    page.get_by_role("link", name="Open it").click()
    expect(page.locator("main")).to_contain_text("RECALLED: do not go by this brief")
    page.go_back()
    page.evaluate("Date.now = ((now) => () => now() + 400 * 3600 * 1000)(Date.now)")
    page.evaluate("location.hash = '#/sent'")
    page.evaluate("location.hash = '#/briefs'")
    expect(page.locator(".sent")).to_contain_text("No brief was opened on this phone, or each has expired")
