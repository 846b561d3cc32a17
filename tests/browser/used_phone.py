"""A phone that is used on: opened once by a file, the edition kept on it, and cleared of all that a crew did before
each test. Only the edition, the app's files and the engine that was made from them go over from test to test."""

import re
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, expect

SMALL = {"width": 360, "height": 640}
LIGHTS = ("day", "night", "glare")

# Nothing said, tapped, ticked, sent, drafted or opened stays; nor how the page looked. Resolves once the search shows.
_CLEARED = """async () => {
  const main = document.querySelector("script[src$='/phone/main.js']").src;
  const of = (name) => import(main.replace("main.js", name));
  const [db, held] = await Promise.all([of("database.js"), of("held.js")]);
  for (const dialog of document.querySelectorAll("dialog[open]")) dialog.close();
  scrollTo(0, 0);
  if (location.hash !== "#/") {
    const turned = new Promise((done) => addEventListener("phone:page", done, { once: true }));
    location.hash = "#/";
    await turned;
  }
  await held.clear();
  for (const store of ["ticks", "outbox", "briefs"]) {
    for (const key of await db.keys(store)) await db.remove(store, key);
  }
  for (const key of await db.keys("settings")) if (key.startsWith("report ")) await db.remove("settings", key);
  document.documentElement.removeAttribute("style");
  delete document.documentElement.dataset.light;
  document.getElementById("line").reset();
  await new Promise((done) => setTimeout(done)); // what the reset puts off
  const [stand] = document.getElementsByName("stand");
  if (!stand.checked) stand.click();
  for (const fold of document.querySelectorAll("#search details[open]")) fold.open = false;
}"""
_LEFT = """async () => {
  const main = document.querySelector("script[src$='/phone/main.js']").src;
  const { all } = await import(main.replace("main.js", "database.js"));
  return [await all("ticks"), await all("outbox"), await all("briefs"), document.getElementById("said").value,
    document.querySelectorAll("#taps [aria-pressed=true], #search .rows, dialog[open]").length,
    [...document.querySelectorAll("#bar [data-tab] small")].map((each) => each.textContent).join("")];
}"""


class UsedPhone:
    """page: where the app stands. A script error of any of its pages is told by `faults`."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.context: BrowserContext = browser.new_context(base_url=address, viewport=SMALL)  # type: ignore[arg-type]
        self._faults: list[str] = []
        self.page = self.open()
        expect(self.page.locator("[data-edition]")).to_contain_text("none newer", timeout=120_000)  # all of it is here

    def open(self) -> Page:
        """Another page of the same phone: a fresh start of the app on what is kept."""
        page = self.context.new_page()
        page.on("pageerror", lambda error: self._faults.append(str(error.stack)))
        page.on("console", lambda said: self._faults.append(said.text) if said.type == "error" else None)
        page.goto("/phone")
        return page

    def cleared(self) -> Page:
        """The page as at a first visit, on the search."""
        page = self.page
        page.set_viewport_size(SMALL)  # type: ignore[arg-type]
        page.evaluate(_CLEARED)
        expect(page.locator("#search")).to_be_visible()
        expect(page.locator(".rows")).to_have_count(0)
        left: list[Any] = page.evaluate(_LEFT)
        assert left == [[], [], [], "", 0, ""]
        return page

    def faults(self) -> list[str]:
        """What scripts said of failing since the last asking. The browser itself writes failed requests there too."""
        told, self._faults = self._faults, []
        return [fault for fault in told if not re.match(r"Failed to load resource", fault)]
