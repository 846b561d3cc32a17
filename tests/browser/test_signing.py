"""Signing in by hand and by keyboard, on a phone and at a desk, and what a page says of it."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from catalog.domain.roles import Role
from tests.browser.axe import faults
from tests.browser.conftest import PHONE, name_of
from tests.people import PASSWORD

pytestmark = pytest.mark.browser

Open = Callable[..., Page]


def sign_in(page: Page, name: str, password: str = PASSWORD) -> None:
    page.get_by_label("Account name").fill(name)
    page.get_by_label("Password").fill(password)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_by_keyboard_alone_to_where_one_was(open_page: Open) -> None:
    page = open_page("/records/QPW-TF3/history")
    page.get_by_role("link", name="Sign in").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.get_by_label("Account name")).to_be_focused()
    page.keyboard.type(name_of(Role.STEWARD))
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.url.endswith("/records/QPW-TF3/history")
    expect(page.get_by_role("link", name="Signed in as some.steward")).to_be_visible()


def test_a_refusal_is_said_and_clean(open_page: Open) -> None:
    page = open_page("/sign-in", viewport=PHONE, color_scheme="light")
    sign_in(page, "nobody.here", "wrong")
    expect(page.get_by_role("alert")).to_contain_text("do not go together")
    expect(page.get_by_label("Account name")).to_have_value("nobody.here")
    expect(page.get_by_label("Password")).to_have_value("")
    expect(page.get_by_label("Password")).to_be_focused()
    assert faults(page) == []
    page.emulate_media(color_scheme="dark")
    assert faults(page, again=True) == []


@pytest.mark.parametrize(
    ("path", "role"),
    [("/sign-in", None), ("/account", Role.STEWARD), ("/steward/accounts", Role.ADMINISTRATOR)],
)
def test_targets_on_a_phone_are_large_enough(open_page: Open, path: str, role: Role | None) -> None:
    page = open_page(path, viewport=PHONE, role=role)
    for details in page.locator("details").all():
        details.evaluate("node => node.open = true")
    targets = page.locator("main :is(a, button, input:not([type=hidden]):not(.vh), select, summary), .who a")
    for target in targets.all():
        if not target.is_visible():
            continue
        # A box to tick is pressed by its label.
        box = target.evaluate("node => { const r = (node.closest('.choice') ?? node).getBoundingClientRect();"
                              " return [r.width, r.height]; }")  # fmt: skip
        inline = target.evaluate("node => node.matches('p > a') && !node.closest('.who')")
        assert inline or box[1] >= 48, target.evaluate("node => node.outerHTML")


def test_without_a_script_too(open_page: Open) -> None:
    page = open_page("/sign-in?to=/steps", java_script_enabled=False)
    sign_in(page, name_of(Role.DISPATCHER))
    assert page.url.endswith("/steps")
    page.goto("/account")
    with page.expect_navigation():
        page.get_by_role("button", name="Sign out", exact=True).click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    page.goto("/account")
    assert "/sign-in" in page.url


def test_a_page_of_ours_acts_over_the_api_and_no_other_does(open_page: Open) -> None:
    page = open_page("/steps", role=Role.ADMINISTRATOR)
    status = "token => fetch('/api/v1/trail', token ? {headers: {'X-CSRF-Token': token}} : {}).then(a => a.status)"
    assert page.evaluate(status, None) == 401
    assert page.evaluate(status, page.locator("meta[name=csrf-token]").get_attribute("content")) == 200
    assert "chockbook" not in page.evaluate("document.cookie")


def test_a_token_is_made_shown_and_ended(open_page: Open) -> None:
    page = open_page("/account", role=Role.STEWARD)
    page.get_by_label("What it is for").fill("feed of the county")
    page.get_by_label("read records").check()
    with page.expect_navigation():
        page.get_by_role("button", name="Make a token").click()
    expect(page.locator(".secret")).to_have_text(re.compile(r"^chockbook_[\w-]{43}$"))
    with page.expect_navigation():
        page.get_by_role("button", name="End it: feed of the county").first.click()
    expect(page.get_by_text("feed of the county")).to_have_count(0)
