"""Every page in every light: no accessibility fault, no sideways scrolling, no flash of the wrong light."""

import json
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Literal

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page, expect

from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.house import House
from catalog.services.proposing import Proposed, ProposedRecord, file_hash, propose
from catalog.web import wording
from tests.browser.axe import faults
from tests.browser.conftest import DESK, PHONE, Sit, name_of, watch

pytestmark = pytest.mark.browser

Open = Callable[..., Page]
SAID = "white pickup, port left rear, maybe a brantok, steaming"
PAGES = (
    "/",
    "/desk",
    "/crew",
    "/steps",
    "/steward",
    "/steward/unread",
    "/steward/confidence",
    "/steward/sayings",
    "/steward/sayings?words=flap",
    "/editions",
    "/editions/1/changes?to=3",
    "/find?q=cut+loop",
    "/sources/QLN-118/2",
    "/records/2MP-XP4",
    "/records/QPW-TF3",
    "/records/Z9V-6V6",
    "/records/QPW-TF3?order=iso17840-3",
    "/records/QPW-TF3/history",
    "/records/QPW-TF3/history?path=cutoff.methods%5Bloop%5D.place",
    "/records",
    "/records?edition=1",
    "/steward/doubts",
    "/steward/sources",
    "/steward/sources/old?years=0",
    "/records/QPW-TF3/steps?scene=fire%3Dyes",
    "/steward/updates/new",
    "/nothing",
    "/steward/updates",
    "/steward/updates/N",
    "/steward/updates/N/findings",
    "/steward/updates/N/publish",
    "/steward/watch",
    "/steward/work",
    "/steward/verify",
    "/records/QPW-TF3/doubt",
    "/records/QPW-TF3/shown?path=ports%5Ba%5D.place",
    "/editions/1/back",
    "/sign-in",
    "/account",
    "/steward/accounts",
    "/steward/trail",
)
# Whose page it is; the others anybody may open.
ROLE_OF = {
    "/account": Role.STEWARD,
    "/steward/accounts": Role.ADMINISTRATOR,
    "/steward/trail": Role.APPROVER,
    "/steward/updates": Role.STEWARD,
    "/steward/updates/N": Role.APPROVER,
    "/steward/updates/N/findings": Role.STEWARD,
    "/steward/updates/N/publish": Role.APPROVER,
    "/steward/work": Role.STEWARD,
    "/steward/verify": Role.STEWARD,
    "/records/QPW-TF3/doubt": Role.STEWARD,
    "/records/QPW-TF3/shown?path=ports%5Ba%5D.place": Role.STEWARD,
    "/steward/watch": Role.STEWARD,
    "/editions/1/back": Role.APPROVER,
}


def filled(page: Page, path: str) -> None:
    if path in ("/desk", "/crew"):
        page.get_by_label(wording.LINE_LABEL).fill(SAID)
        expect(page.locator(".row").first).to_be_visible()
    for cell in page.locator("#cell-fire").all():
        cell.click()


@pytest.fixture(scope="module")
def seats(browser: Browser, address: str, sit_down: Sit) -> Iterator[Callable[[Role | None], tuple[Page, list[str]]]]:
    """Of each role, and of nobody, one page that goes from path to path, and the faults its scripts told."""
    made: dict[Role | None, tuple[Page, list[str]]] = {}

    def of(role: Role | None) -> tuple[Page, list[str]]:
        if role not in made:
            context = browser.new_context(base_url=address, viewport=DESK)  # type: ignore[arg-type]
            if role:
                sit_down(context, role)
            made[role] = (context.new_page(), [])
            watch(*made[role])
        return made[role]

    yield of
    for page, _ in made.values():
        page.context.close()


@pytest.fixture(scope="module")
def update(site: Flask) -> str:
    """The number of an update of one record that findings came with."""
    house: House = site.extensions["chockbook"]
    compiled = house.shelf.current()
    revision, changed = compiled.revision("QPW-TF3")[0], json.loads(compiled.record_bytes("QPW-TF3"))
    changed["identity"] = {**changed["identity"], "names": [*changed["identity"].get("names", ()), "Pelmar"]}
    found = tuple(
        {
            "file": "sound.xlsx", "sheet": "ports", "row": 2, "column": 3, "place": "", "record": "QPW-TF3",
            "path": "ports[a].place", "found": "behind the mirror", "allowed": "a side and an end", "cure": "Put one.",
            "severity": severity,
        }
        for severity in ("blocks", "needs a look", "note")
    )  # fmt: skip
    told = ProposedRecord("QPW-TF3", revision, changed, "Reissued.")
    steward = actor_of(name_of(Role.STEWARD), Role.STEWARD, "test")
    return propose(house, steward, Proposed("sound.xlsx", file_hash(b"sound"), "import", (told,), findings=found))


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_sound_by_day_at_a_desk_and_by_night_on_a_phone(
    seats: Callable[[Role | None], tuple[Page, list[str]]], path: str, request: pytest.FixtureRequest
) -> None:
    """No serious accessibility fault, headings in order, and nothing to scroll sideways for at 320 pixels.

    Loaded once, at the desk, where what folds on a phone stands open.
    """
    page, told = seats(ROLE_OF.get(path))
    at(page, DESK, "light")
    named = path.replace("/N", f"/{request.getfixturevalue('update')}") if "/N" in path else path
    response = page.goto(named)
    assert response is not None
    assert response.status == (404 if path == "/nothing" else 200)
    filled(page, path)
    assert faults(page) == []
    levels = [int(name[1]) for name in page.locator("h1, h2, h3, h4").evaluate_all("all => all.map(n => n.tagName)")]
    assert levels.count(1) == 1
    assert levels[0] == 1
    for before, after in pairwise(levels):
        assert after <= before + 1, levels
    at(page, PHONE, "dark")
    assert faults(page, again=True) == []
    at(page, {"width": 320, "height": 640}, "dark")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.evaluate("localStorage.clear()")
    assert told == []


def at(page: Page, viewport: dict[str, int], light: Literal["light", "dark"]) -> None:
    page.set_viewport_size(viewport)  # type: ignore[arg-type]
    page.emulate_media(color_scheme=light)


def test_the_look_for_faults_finds_them(open_page: Open) -> None:
    page = open_page("/steps", color_scheme="dark")
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', '<p id=grey>grey</p><button></button>"
        "<div id=pale>pale</div><svg role=img></svg>');"
        "document.getElementById('grey').style.color = '#333';"
        "document.getElementById('pale').style.opacity = '0.1';"
    )
    for again in (False, True):
        told = {fault[0]: fault[1:] for fault in faults(page, again=again)}
        assert set(told) == {"button-name", "color-contrast", "svg-img-alt"}
        assert len(told["color-contrast"]) == 2


@pytest.mark.parametrize("path", ["/desk", "/records/QPW-TF3", "/steward"])
def test_pages_hold_together_at_twice_the_size(open_page: Open, path: str) -> None:
    """200 % zoom of the desk is half its width in CSS pixels."""
    page = open_page(path, viewport={"width": 720, "height": 450}, device_scale_factor=2)
    filled(page, path)
    assert page.evaluate("document.documentElement.scrollWidth") <= 720
    page.evaluate("document.documentElement.style.fontSize = '32px'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 720


def test_the_chosen_light_is_kept_and_there_before_the_first_paint(open_page: Open) -> None:
    page = open_page("/desk", color_scheme="light")
    ground = "getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(232, 237, 235)"
    page.get_by_role("radio", name="night").check()
    assert page.evaluate(ground) == "rgb(9, 14, 16)"
    page.goto("/steps")
    assert page.evaluate(ground) == "rgb(9, 14, 16)"
    # Set by a script that stands before the style sheets and blocks them, so no other light is painted.
    order = page.locator("head script, head link[rel=stylesheet]").evaluate_all("all => all.map(n => n.tagName)")
    assert order[0] == "SCRIPT"
    assert page.locator("head script").first.evaluate("n => !n.defer && !n.async && n.type !== 'module'")
    page.get_by_role("radio", name="glare").check()
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    page.get_by_role("radio", name="auto").check()
    assert page.evaluate(ground) == "rgb(232, 237, 235)"


def test_the_devices_night_is_followed_without_a_choice(open_page: Open) -> None:
    page = open_page("/", color_scheme="dark", java_script_enabled=False)
    expect(page.locator("body")).to_have_css("background-color", "rgb(9, 14, 16)")


def test_the_type_is_the_one_that_ships(open_page: Open) -> None:
    page = open_page("/steps")
    page.wait_for_function("document.fonts.status === 'loaded'")
    loaded = page.evaluate("[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family + f.weight)")
    assert {name.replace('"', "") for name in loaded} == {"B612400", "B612700"}


def test_focus_is_seen(open_page: Open) -> None:
    page = open_page("/steward")
    page.keyboard.press("Tab")
    expect(page.get_by_text("Skip to the page")).to_be_focused()
    page.keyboard.press("Tab")
    outline = page.evaluate("getComputedStyle(document.activeElement).outline")
    assert "3px" in outline
    assert "rgb(11, 74, 96)" in outline
