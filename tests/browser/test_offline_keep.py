"""The edition on the phone: kept after one visit, changed by what differs, and what goes wrong survived in words."""

import gzip
import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic
from typing import Any

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Route, expect

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.doubting import doubt
from tests.browser.conftest import LONG, PHONE, serving

pytestmark = pytest.mark.browser

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


@contextmanager
def catalogue(demo_data: Path, folder: Path) -> Iterator[tuple[Flask, str]]:
    """A catalogue of its own, since editions are published; with its address."""
    data = shutil.copytree(demo_data, folder / "data")
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    with serving(made) as address:
        yield made, address
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture(scope="module")
def served(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Flask, str]]:
    """The catalogue of this file: editions are published in it, its app stays."""
    with catalogue(demo_data, tmp_path_factory.mktemp("served")) as made:
        yield made


@pytest.fixture(scope="module")
def app(served: tuple[Flask, str]) -> Flask:
    return served[0]


class Phone:
    """One phone: its browser's profile and the page on it."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.parts: list[str] = []
        self.page = context.new_page()
        self.page.set_default_timeout(LONG)
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
        ends = monotonic() + LONG / 1000
        while not self.page.evaluate(condition):
            assert monotonic() < ends, f"{condition}: {self.told()}"
            self.page.wait_for_timeout(100)

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

    def as_new(self, number: int) -> None:
        """As after its first visit: the newest edition whole on it, nothing waiting, nothing said, nothing open."""
        self.context.set_offline(False)
        self.page.evaluate(f"() => window.k ?? ({LISTEN})()")
        self.page.evaluate("() => { k.busy(null); document.getElementById('doubted').close(); }")
        self.look()
        self.until(f"(({{ edition, newer }}) => edition?.number === {number} && newer === null)(k.status())")
        self.until(WHOLE)
        self.page.evaluate("() => { told.length = 0; }")


@pytest.fixture
def phone(served: tuple[Flask, str], browser: Browser) -> Iterator[Callable[[], Phone]]:
    """phone() -> a fresh phone before its first visit."""
    contexts = []

    def fresh() -> Phone:
        context = browser.new_context(base_url=served[1], viewport=PHONE)  # type: ignore[arg-type]
        contexts.append(context)
        return Phone(context)

    yield fresh
    for context in contexts:
        context.close()


@pytest.fixture(scope="module")
def kept(served: tuple[Flask, str], browser: Browser) -> Iterator[Phone]:
    """A phone with all of an edition on it, used on by the tests that begin so (`mine`)."""
    context = browser.new_context(base_url=served[1], viewport=PHONE)  # type: ignore[arg-type]
    made = Phone(context)
    made.keep()
    yield made
    context.close()


@pytest.fixture
def mine(app: Flask, kept: Phone) -> Phone:
    kept.as_new(app.extensions["chockbook"].shelf.current().number)
    return kept


@pytest.fixture
def moved(demo_data: Path, tmp_path: Path, browser: Browser) -> Iterator[tuple[Flask, Phone]]:
    """A catalogue whose app changes, and a phone that kept what it had before."""
    with catalogue(demo_data, tmp_path) as (app, address):
        context = browser.new_context(base_url=address, viewport=PHONE)  # type: ignore[arg-type]
        made = Phone(context)
        made.keep()
        yield app, made
        context.close()


def doubted(app: Flask, code: str, path: str = "looks.body") -> int:
    """A doubt of one fact, published at once; returns the edition. Each fact once: the catalogue is the file's."""
    house = app.extensions["chockbook"]
    steward = actor_of("p.lovage", Role.STEWARD, "terminal")
    return doubt(house, steward, code, path, "A crew found it otherwise.")


def titles(app: Flask) -> dict[str, str]:
    meta = app.extensions["chockbook"].shelf.current().tables.meta
    return dict(zip(meta["codes"], meta["titles"], strict=True))


def test_after_one_visit_everything_is_there_without_signal(app: Flask, mine: Phone) -> None:
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
    app: Flask, mine: Phone
) -> None:
    before, first = len(mine.parts), mine.page.evaluate("k.status().edition.number")
    whole_edition = mine.page.evaluate("k.ready().then(({ listing }) => Object.values(listing.parts).flat().length)")
    mine.page.evaluate("k.busy('KDF-F3R')")
    number = doubted(app, CODE, PLACE)
    mine.look()
    assert [one["path"] for one in mine.until_told("doubt")["doubts"]] == [PLACE]
    assert mine.until_told("newer")["number"] == number
    assert 0 < len(mine.parts) - before < whole_edition / 4
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


def test_a_newer_edition_is_taken_at_once_while_nothing_is_open(app: Flask, mine: Phone) -> None:
    number = doubted(app, "QPW-TF3")
    mine.look()
    assert mine.until_told("changed")["edition"]["number"] == number
    assert mine.page.evaluate(READY) == number


def test_another_app_is_swapped_whole_with_the_edition_it_goes_with(moved: tuple[Flask, Phone]) -> None:
    app, mine = moved
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


def test_an_app_never_opens_what_another_one_left(moved: tuple[Flask, Phone]) -> None:
    app, mine = moved
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


def test_storage_wiped_in_use_is_said_and_fetched_again(app: Flask, mine: Phone) -> None:
    origin = mine.page.evaluate("location.origin")
    session = mine.context.new_cdp_session(mine.page)
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
    assert mine.title() == titles(app)[CODE]
    mine.look()
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "wiped"
    assert "lost" in trouble["message"]
    mine.until(WHOLE)
    mine.until("navigator.serviceWorker.getRegistration().then((one) => one?.active?.state === 'activated')")
    mine.context.set_offline(True)
    mine.page.reload()
    mine.page.evaluate(LISTEN)
    assert isinstance(mine.page.evaluate(READY), int)
    assert mine.title() == titles(app)[CODE]


# A browser that has no room for a part: as it says so, by ending the transaction. (A quota set over the debugging
# protocol is not kept to in a profile that is in memory only.)
NO_ROOM = """() => {
  const put = (window.put ??= IDBObjectStore.prototype.put);
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


def test_no_room_is_said_and_the_old_edition_stays(app: Flask, mine: Phone) -> None:
    first = mine.page.evaluate("k.status().edition.number")
    mine.page.evaluate(NO_ROOM)
    doubted(app, "26F-RWN")
    mine.look()
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "full"
    assert "Free some storage" in trouble["cure"]
    assert mine.page.evaluate(READY) == first
    assert mine.title() == titles(app)[CODE]
    mine.page.evaluate("() => { full = false; }")
    mine.look()
    assert mine.until_told("changed")["edition"]["number"] == first + 1
    mine.page.evaluate("() => { IDBObjectStore.prototype.put = window.put; }")


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


def test_a_part_damaged_on_the_phone_is_said_and_cured(app: Flask, mine: Phone) -> None:
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
    expect(mine.page.locator("#trouble")).to_contain_text("damaged")
    mine.page.evaluate(LISTEN)
    mine.context.set_offline(False)
    assert isinstance(mine.page.evaluate(READY), int)


def test_a_form_this_app_does_not_know_is_said_and_what_is_here_stays(app: Flask, mine: Phone) -> None:
    first = mine.page.evaluate("k.status().edition.number")

    def newer(route: Route) -> None:
        told = route.fetch().json()
        route.fulfill(json={**told, "format": 99, "number": told["number"] + 1, "listing": "0" * 64})

    mine.context.route("**/phone/edition.json*", newer)
    mine.look()
    assert mine.until_told("trouble")["kind"] == "format"
    assert mine.page.evaluate(READY) == first
    assert mine.title() == titles(app)[CODE]
    mine.context.unroute("**/phone/edition.json*")


def test_without_a_database_it_works_while_it_is_open_and_says_so(app: Flask, phone: Callable[[], Phone]) -> None:
    mine = phone()
    mine.page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    assert isinstance(mine.visit(), int)
    assert mine.title() == titles(app)[CODE]
    trouble = mine.until_told("trouble")
    assert trouble["kind"] == "nothingKept"
    assert "only while it is open" in trouble["message"]
