"""A served demo and a headless browser for the tests of this folder."""

import re
import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from werkzeug.serving import WSGIRequestHandler, make_server

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.store import people
from catalog.store.engine import read
from tests.browser.used_phone import UsedPhone
from tests.people import signed_in, somebody

_QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
# What is expected comes at once or, on a slow and busy machine, much later: nothing here measures how soon.
LONG = 120_000  # milliseconds
expect.set_options(timeout=LONG)
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1440, "height": 900}

_FAILED = re.compile("Failed to load resource")

Open = Callable[..., Page]
Sit = Callable[[BrowserContext, Role], None]


class Silent(WSGIRequestHandler):
    """No line per request in a failing test's output."""

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        pass


@contextmanager
def serving(app: Flask) -> Iterator[str]:
    """The address at which the app is served until the block is left."""
    server = make_server("127.0.0.1", 0, app, threaded=True, request_handler=Silent)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@pytest.fixture(scope="package")
def site(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """A copy of the demo as it is served for the whole run, with somebody in each role (PASSWORD of tests.people)."""
    data = tmp_path_factory.mktemp("served") / "data"
    shutil.copytree(demo_data, data)
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    with read(app.extensions["chockbook"].engine) as conn:
        there = {account.name for account in people.all_accounts(conn)}
    for role in Role:
        if name_of(role) not in there:
            somebody(app.extensions["chockbook"], name_of(role), role)
    yield app
    app.extensions["chockbook"].engine.dispose()


def name_of(role: Role) -> str:
    """Who is there in a role."""
    return f"some.{role}"


@pytest.fixture(scope="package")
def address(site: Flask) -> Iterator[str]:
    """Where the demo is served."""
    with serving(site) as where:
        yield where


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    path = shutil.which("chromium")
    if path is None:
        pytest.fail("These tests need the Debian package chromium.")
    with sync_playwright() as play:
        running = play.chromium.launch(executable_path=path, args=list(_QUIET))
        yield running
        running.close()


@pytest.fixture(scope="package")
def sit_down(site: Flask, address: str) -> Sit:
    """sit_down(context, role): the browser's context is that of somebody in that role, signed in once for the run."""

    @cache
    def cookie(role: Role) -> str:
        held = signed_in(site, name_of(role)).get_cookie("chockbook")
        assert held is not None
        return held.value

    def sit(context: BrowserContext, role: Role) -> None:
        context.add_cookies([{"name": "chockbook", "value": cookie(role), "url": address}])

    return sit


class Contexts:
    """The browser's contexts of a file's tests: making one takes the browser longer than showing a page, so one that a
    test is done with is another's, cleared of all it kept."""

    def __init__(self, browser: Browser) -> None:
        self._browser = browser
        self._taken: dict[BrowserContext, tuple[str, str]] = {}
        self._left: dict[tuple[str, str], list[BrowserContext]] = {}

    def take(self, address: str, **options: object) -> BrowserContext:
        """One with these options, in which nothing was done."""
        kind = address, repr(sorted(options.items()))
        left = self._left.setdefault(kind, [])
        context = left.pop() if left else self._browser.new_context(base_url=address, **options)  # type: ignore[arg-type]
        self._taken[context] = kind
        return context

    def give_back(self, context: BrowserContext) -> None:
        """Closes its pages and forgets all they kept; a blank page is left, which keeps its processes going."""
        kind = self._taken.pop(context)
        used, blank = context.pages, context.new_page()
        for page in used:
            page.close()
        context.unroute_all()
        context.clear_cookies()
        session = context.new_cdp_session(blank)
        session.send("Storage.clearDataForOrigin", {"origin": kind[0], "storageTypes": "all"})
        session.send("Network.clearBrowserCache")
        session.detach()
        self._left[kind].append(context)

    def close(self) -> None:
        for context in (*self._taken, *(each for left in self._left.values() for each in left)):
            context.close()


@pytest.fixture(scope="module")
def contexts(browser: Browser) -> Iterator[Contexts]:
    made = Contexts(browser)
    yield made
    made.close()


def page_in(context: BrowserContext) -> Page:
    """A page to begin with: the blank one where there is one."""
    blank = [page for page in context.pages if page.url == "about:blank"]
    return blank[0] if blank else context.new_page()


@pytest.fixture
def open_page(contexts: Contexts, address: str, sit_down: Sit) -> Iterator[Open]:
    """open_page(path, viewport=..., role=..., ...) -> Page. A script error or a refused resource fails the test.

    role: of whoever is signed in, nobody where None.
    """
    taken: list[BrowserContext] = []
    faults: list[str] = []

    def open_(
        path: str, *, viewport: dict[str, int] | None = None, role: Role | None = None, **options: object
    ) -> Page:
        context = contexts.take(address, viewport=viewport or DESK, **options)
        taken.append(context)
        if role:
            sit_down(context, role)
        page = page_in(context)
        watch(page, faults)
        response = page.goto(path)
        assert response is not None
        assert response.status < 500, path
        return page

    yield open_
    for context in taken:
        contexts.give_back(context)
    assert faults == []


def watch(page: Page, faults: list[str]) -> None:
    """Adds every script error and refused resource of the page to the faults."""
    # The browser itself writes every failed request to the console; some tests fail them on purpose.
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on(
        "console",
        lambda said: faults.append(said.text) if said.type == "error" and not _FAILED.match(said.text) else None,
    )


@pytest.fixture(scope="module")
def kept_phone(browser: Browser, address: str) -> Iterator[UsedPhone]:
    """A phone with the edition on it, for a file."""
    made = UsedPhone(browser, address)
    yield made
    made.context.close()


@pytest.fixture
def used_phone(kept_phone: UsedPhone) -> Iterator[UsedPhone]:
    """The same, cleared of all that was done on it before. A script error fails the test."""
    kept_phone.cleared()
    yield kept_phone
    assert kept_phone.faults() == []
