"""The edition on the phone: kept after one visit, changed by what differs, and what goes wrong survived in words."""

import gzip
import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Route

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.doubting import doubt
from tests.browser.conftest import PHONE, serving

pytestmark = pytest.mark.browser

WAIT = 30_000  # milliseconds
CODE, PLACE = "KDF-F3R", "cutoff.methods[loop].place"

# What keep.js tells is written down; `k` is the module itself.
LISTEN = """async () => {
  const address = document.querySelector("script[type=module]").src.replace(/phone\\/[^/]+$/, "phone/keep.js");
  window.k = await import(address);
  window.told = [];
  for (const name of ["newer", "doubt", "trouble", "changed"])
    k.events.addEventListener(name, ({ detail }) => told.push([name, JSON.parse(JSON.stringify(detail))]));
}"""
READY = "() => k.ready().then(({ edition }) => edition.number, ({ kind, message, cure }) => [kind, message, cure])"
WHOLE = """() => new Promise((resolve) => {
  const asked = indexedDB.open("chockbook");
  asked.onsuccess = () => {
    const got = asked.result.transaction("editions").objectStore("editions").get("current");
    got.onsuccess = () => { asked.result.close(); resolve(got.result?.whole === true); };
  };
})"""
COUNTED = """() => new Promise((resolve) => {{
  const asked = indexedDB.open("chockbook");
  asked.onsuccess = () => {{
    const got = asked.result.transaction("parts").objectStore("parts").count();
    got.onsuccess = () => {{ asked.result.close(); resolve(got.result >= {}); }};
  }};
}})"""
TITLE = "(code) => k.meta(code).then(({ title }) => title, ({ kind, message, cure }) => [kind, message, cure])"


@pytest.fixture
def app(demo_data: Path, tmp_path: Path) -> Iterator[Flask]:
    """A catalogue of its own, since editions are published."""
    data = shutil.copytree(demo_data, tmp_path / "data")
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    yield made
    made.extensions["chockbook"].engine.dispose()


class Phone:
    """One phone: its browser's profile and the page on it."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.parts: list[str] = []
        self.page = context.new_page()
        self.page.set_default_timeout(WAIT)
        context.on("request", lambda sent: self.parts.append(sent.url) if "/phone/parts/" in sent.url else None)

    def open(self) -> None:
        self.page.goto("/phone")
        self.page.evaluate(LISTEN)

    def visit(self) -> Any:
        """Open the page; the number of its edition, or what was wrong."""
        self.open()
        return self.page.evaluate(READY)

    def keep(self) -> None:
        """Until all of the edition is on the phone."""
        assert isinstance(self.visit(), int)
        self.until(WHOLE)
        self.page.wait_for_function("navigator.serviceWorker.controller !== null")

    def until(self, condition: str) -> None:
        for _ in range(WAIT // 100):
            if self.page.evaluate(condition):
                return
            self.page.wait_for_timeout(100)
        raise AssertionError(f"{condition}: {self.told()}")

    def look(self) -> None:
        """Ask now for what is newest."""
        self.page.evaluate("() => { dispatchEvent(new Event('online')); }")

    def told(self, name: str = "") -> list[Any]:
        told: list[Any] = self.page.evaluate("told")
        return [detail for said, detail in told if said == name] if name else told

    def until_told(self, name: str) -> Any:
        self.until(f"told.some(([name]) => name === '{name}')")
        return self.told(name)[-1]

    def title(self, code: str = CODE) -> Any:
        return self.page.evaluate(TITLE, code)


@pytest.fixture
def phone(app: Flask, browser: Browser) -> Iterator[Callable[..., Phone]]:
    """phone() -> a fresh phone before its first visit."""
    contexts = []

    with serving(app) as address:

        def fresh() -> Phone:
            context = browser.new_context(base_url=address, viewport=PHONE)  # type: ignore[arg-type]
            contexts.append(context)
            return Phone(context)

        yield fresh
        for context in contexts:
            context.close()


def doubted(app: Flask) -> int:
    """A doubt of one fact, published at once; returns the edition."""
    house = app.extensions["chockbook"]
    steward = actor_of("p.lovage", Role.STEWARD, "terminal")
    return doubt(house, steward, CODE, PLACE, "A crew found it elsewhere.")


def titles(app: Flask) -> dict[str, str]:
    meta = app.extensions["chockbook"].shelf.current().tables.meta
    return dict(zip(meta["codes"], meta["titles"], strict=True))


def test_after_one_visit_everything_is_there_without_signal(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    for code, title in titles(app).items():
        assert mine.title(code) == title
    assert mine.page.evaluate("k.status().asked") > 0
    assert mine.title("ZZZ-ZZZ")[0] == "unknown"
    # Where the browser would say that there is no network, the app stands in.
    mine.page.goto("/crew")
    assert mine.page.url.endswith("/phone")


def test_a_newer_edition_costs_what_changed_and_waits_for_a_tap_while_an_incident_is_open(
    app: Flask, phone: Callable[[], Phone]
) -> None:
    mine = phone()
    mine.keep()
    before, first = len(mine.parts), mine.page.evaluate("k.status().edition.number")
    mine.page.evaluate("k.busy('KDF-F3R')")
    number = doubted(app)
    mine.look()
    assert [one["path"] for one in mine.until_told("doubt")["doubts"]] == [PLACE]
    assert mine.until_told("newer")["number"] == number
    assert len(mine.parts) - before < before / 4
    # It stays marked, and nothing else changed.
    assert mine.page.evaluate("k.status().edition.number") == first
    assert mine.page.evaluate(f"k.doubts('{CODE}').map((each) => each.pending)") == [True]
    said = "(code) => k.record(code).then((each) => JSON.stringify(each.cutoff.methods.map((one) => one.place)))"
    whole = mine.page.evaluate(said, CODE)
    # What is doubted is not stated any more, on whatever is planned or shown from the record.
    stated = "([code, path]) => k.vehicle(code).then((record) => record.facts.has(path))"
    assert mine.page.evaluate(stated, [CODE, PLACE]) is False
    assert mine.page.evaluate(stated, [CODE, PLACE.replace("place", "kind")]) is True
    # Even where the phone was closed in between and has no signal now.
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert mine.page.evaluate(READY) == first
    assert mine.page.evaluate(f"k.doubts('{CODE}').map((each) => each.pending)") == [True]
    mine.page.evaluate("k.takeNewer()")
    assert mine.page.evaluate(READY) == number
    assert mine.page.evaluate(f"k.doubts('{CODE}').map((each) => each.pending)") == [False]
    assert mine.page.evaluate(said, CODE) != whole


def test_a_newer_edition_is_taken_at_once_while_nothing_is_open(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    number = doubted(app)
    mine.look()
    assert mine.until_told("changed")["edition"]["number"] == number
    assert mine.page.evaluate(READY) == number


def test_another_app_is_swapped_whole_with_the_edition_it_goes_with(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    old = mine.page.locator("meta[name=shell]").get_attribute("content")
    app.extensions["chockbook.phone"] = "another"
    mine.look()
    assert mine.until_told("newer")["app"] is True
    mine.context.set_offline(True)
    # Without a tap the old app goes on, with its own parts.
    mine.page.reload()
    assert mine.page.locator("meta[name=shell]").get_attribute("content") == old
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    with mine.page.expect_navigation():
        mine.page.evaluate("() => { k.takeNewer(); }")
    assert mine.page.locator("meta[name=shell]").get_attribute("content") == "another"
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    assert mine.title() == titles(app)[CODE]


def test_an_app_never_opens_what_another_one_left(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    app.extensions["chockbook.phone"] = "another"
    # The page came past the worker, as after a forced reload.
    mine.page.evaluate("navigator.serviceWorker.getRegistration().then((each) => each.unregister())")
    mine.page.route("**/phone/edition.json*", lambda route: route.abort())
    kind, _, cure = mine.visit()
    assert kind == "noEdition"
    assert "signal" in cure
    mine.page.unroute("**/phone/edition.json*")
    assert isinstance(mine.visit(), int)
    assert mine.page.evaluate("k.status().edition.shell") == "another"


def test_storage_wiped_in_use_is_said_and_fetched_again(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    origin = mine.page.evaluate("location.origin")
    session = mine.context.new_cdp_session(mine.page)
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
    assert mine.title() == titles(app)[CODE]
    mine.look()
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "wiped"
    assert "lost" in trouble["message"]
    mine.until(WHOLE)
    mine.page.wait_for_timeout(300)
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    assert mine.title() == titles(app)[CODE]


# A browser that has no room for a part: as it says so, by ending the transaction. (A quota set over the debugging
# protocol is not kept to in a profile that is in memory only.)
NO_ROOM = """() => {
  const put = IDBObjectStore.prototype.put;
  window.full = true;
  IDBObjectStore.prototype.put = function (...given) {
    const asked = put.apply(this, given);
    if (window.full && this.name === "parts") {
      Object.defineProperty(this.transaction, "error", { value: new DOMException("", "QuotaExceededError") });
      this.transaction.abort();
    }
    return asked;
  };
}"""


def test_no_room_is_said_and_the_old_edition_stays(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    first = mine.page.evaluate("k.status().edition.number")
    mine.page.evaluate(NO_ROOM)
    doubted(app)
    mine.look()
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "full"
    assert "Free some storage" in trouble["cure"]
    assert mine.page.evaluate(READY) == first
    assert mine.title() == titles(app)[CODE]
    mine.page.evaluate("() => { full = false; }")
    mine.look()
    assert mine.until_told("changed")["edition"]["number"] == first + 1


def test_no_room_at_all_still_opens_while_there_is_signal(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.page.add_init_script(f"({NO_ROOM})()")
    assert isinstance(mine.visit(), int)
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "full"
    assert "only while this page is open" in trouble["message"]
    assert mine.title() == titles(app)[CODE]


def test_half_a_bundle_works_as_far_as_it_goes(app: Flask, phone: Callable[[], Phone]) -> None:
    mine, codes = phone(), sorted(titles(app))
    with app.test_client() as client:
        name = client.get("/phone/edition.json").get_json()["listing"]
        listing = json.loads(gzip.decompress(client.get(f"/phone/parts/{name}").data))
    last = [name for use, _, name, _ in listing["parts"] if use == "records"][-1]
    mine.context.route(f"**/phone/parts/{last}", lambda route: route.abort())
    assert isinstance(mine.visit(), int)
    mine.until_told("trouble")
    mine.until(COUNTED.format(len(listing["parts"])))  # all but one, and the listing
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    assert mine.title(codes[0]) == titles(app)[codes[0]]
    kind, message, cure = mine.title(codes[-1])
    assert kind == "missing"
    assert "not on this phone yet" in message
    assert "steps for any vehicle" in cure
    mine.context.unroute(f"**/phone/parts/{last}")
    mine.context.set_offline(False)
    mine.look()
    mine.until(WHOLE)
    assert mine.title(codes[-1]) == titles(app)[codes[-1]]


def test_a_part_that_arrives_damaged_is_fetched_again(app: Flask, phone: Callable[[], Phone]) -> None:
    mine, spoilt = phone(), []

    def spoil(route: Route) -> None:
        name = route.request.url
        if name in spoilt:
            route.continue_()
        else:
            spoilt.append(name)
            body = route.fetch().body()
            route.fulfill(body=body[: len(body) // 2], content_type="application/gzip")

    mine.context.route("**/phone/parts/*", spoil)
    mine.keep()
    assert len(spoilt) > 50
    assert mine.title() == titles(app)[CODE]


def test_a_part_damaged_on_the_phone_is_said_and_cured(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    spoil = """(use) => k.ready().then(({ listing }) => new Promise((resolve) => {
      const asked = indexedDB.open("chockbook");
      asked.onsuccess = () => {
        const moved = asked.result.transaction("parts", "readwrite");
        for (const [, name] of listing.parts[use]) moved.objectStore("parts").put(new ArrayBuffer(40), name);
        moved.oncomplete = () => { asked.result.close(); resolve(); };
      };
    }))"""
    mine.page.evaluate(spoil, "records")
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    kind, message, cure = mine.title()
    assert kind == "damaged"
    assert "damaged" in message
    assert "signal" in cure
    mine.context.set_offline(False)
    assert mine.title() == titles(app)[CODE]
    mine.page.evaluate(spoil, "tables")
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert mine.page.evaluate(READY)[0] == "damaged"
    mine.context.set_offline(False)
    assert isinstance(mine.page.evaluate(READY), int)


def test_a_form_this_app_does_not_know_is_said_and_what_is_here_stays(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.keep()
    first = mine.page.evaluate("k.status().edition.number")

    def newer(route: Route) -> None:
        told = route.fetch().json()
        route.fulfill(json={**told, "format": 99, "number": told["number"] + 1, "listing": "0" * 64})

    mine.context.route("**/phone/edition.json*", newer)
    mine.look()
    assert mine.until_told("trouble")["kind"] == "format"
    assert mine.page.evaluate(READY) == first
    assert mine.title() == titles(app)[CODE]


def test_without_a_database_it_works_while_it_is_open_and_says_so(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    assert isinstance(mine.visit(), int)
    assert mine.title() == titles(app)[CODE]
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "nothingKept"
    assert "only while it is open" in trouble["message"]
