"""An edition on a phone, at size: `python -m tests.bench.device [--sizes 100 1000 10000] [--json FILE]`.

Generated records (seed fixed) are compiled and made into parts; then they are opened and searched in headless Chromium
with its processor throttled four times. Bytes: of everything a first visit fetches, per 1,000 records, and what an
edition costs in which one record was built a year longer; beside them one gzip file of the same documents. On the
phone, in milliseconds of wall clock: opening the kept edition, beside unpacking and checking the same bytes; every
keystroke of descriptions (callers.py), beside one walk over all titles for the words typed so far. A loaded machine
slows both, so the ratios say more than the times.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import copy
import gzip
import shutil
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
from playwright.sync_api import Page, sync_playwright

from catalog.app import create_app
from catalog.compiled import Compiled
from catalog.config import Settings
from catalog.device.bundle import Bundle, Given, engine_files, make
from catalog.resolve.parameters import shipped
from catalog.services.phone import offer
from seed_demo.generator import generate, sources
from tests.bench.callers import descriptions
from tests.browser.conftest import PHONE, serving
from tests.device_editions import Documents, compiled
from tests.eval.gates import Gate, report

SIZES, SEED = (100, 1_000, 10_000), 20261125
THROTTLE, DESCRIPTIONS, ROUNDS = 4, 4, 2
MOST_BYTES = 2.5e6  # packed, per 1,000 records
KEYSTROKE = {1_000: 50.0, 10_000: 150.0}  # milliseconds

_OPEN = """async () => {
  const address = document.querySelector("script[type=module]").src.replace(/phone\\/[^/]+$/, "phone/");
  const keep = window.keep = await import(address + "keep.js");
  await keep.ready();
  window.parts = await import(address + "parts.js");
  window.opening = await import(address + "opening.js");
}"""
# [opening, unpacking and checking the same bytes], milliseconds, the engine's script already there.
_OPENING = """async () => {
  const { edition, listing } = await keep.ready();
  const names = ["tables", "site", "parameters", "doubts"].flatMap((use) => listing.parts[use].map(([, name]) => name));
  const began = performance.now();
  await opening.opened(await opening.listed(edition.listing, false), edition.engine, false);
  const opened = performance.now() - began;
  const again = performance.now();
  await parts.readAll(names, false);
  return [opened, performance.now() - again];
}"""
# [[of every keystroke], [of the walk over the titles beside it]], milliseconds.
_TYPING = """async ([texts, rounds]) => {
  const { engine, field, site, tables } = await keep.ready();
  const { modules: m, py } = engine;
  const { asked_from } = m["catalog.device.phone.asked"];
  const { answer } = m["catalog.device.phone.search"];
  const titles = tables.meta.titles;
  const best = (work) => {
    let least = Infinity;
    for (let turn = 0; turn < rounds; turn += 1) {
      const began = performance.now();
      work();
      least = Math.min(least, performance.now() - began);
    }
    return least;
  };
  const ours = [], beside = [];
  let found = 0;
  for (const whole of texts) {
    for (let length = 1; length <= whole.length; length += 1) {
      const text = whole.slice(0, length);
      // As the app does it: the next question is asked for once somebody stops typing.
      const said = { text, driving_side: site.driving_side, questions: false };
      ours.push(best(() => answer(field, asked_from(py.fromJson(said)))));
      const words = text.toLowerCase().split(" ").filter(Boolean);
      const has = (title) => words.some((word) => title.toLowerCase().includes(word));
      beside.push(best(() => { for (const title of titles) if (has(title)) found += 1; }));
    }
    await new Promise((resolve) => setTimeout(resolve));
  }
  return [ours, beside, found];
}"""


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.device", description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="+", default=SIZES)
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    gates: list[Gate] = []
    engine = engine_files()
    packed = len(gzip.compress(engine.script)) + len(gzip.compress(engine.tables))
    print(f"the engine, whatever the size: {packed / 1e6:.2f} MB packed, {_raw(engine.script, engine.tables)} unpacked")
    for count in options.sizes:
        with tempfile.TemporaryDirectory() as folder:
            measure(Path(folder), count, gates)
    return report("bench.device", gates, options.json)


def measure(folder: Path, count: int, gates: list[Gate]) -> None:
    records, cited = dict(generate(count, SEED)), dict(sources(count, SEED))
    print(f"\n{count} records, {len(cited)} sources (load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors)")
    first = compiled(folder / "compiled", 1, records, cited)
    sizes(first, _changed(folder, records, cited), count, gates)
    on_a_phone(folder, descriptions(list(records.values()), DESCRIPTIONS, SEED), count, gates)


def sizes(first: Compiled, second: Compiled, count: int, gates: list[Gate]) -> None:
    began = time.process_time()
    bundle = _bundle(first)
    packed = {part.name: len(gzip.compress(part.content, 9, mtime=0)) for part in bundle.parts}
    print(f"made in {time.process_time() - began:.2f} s of processor time")
    whole, raw = sum(packed.values()), sum(len(part.content) for part in bundle.parts)
    one = len(gzip.compress(b"\n".join(first.record_bytes(code) for code in first.codes), 9))
    for use in dict.fromkeys(part.use for part in bundle.parts):
        mine = [part for part in bundle.parts if part.use == use]
        print(
            f"  {use:11}{len(mine):5} parts {sum(packed[part.name] for part in mine) / 1e3:10.1f} kB packed"
            f"{sum(len(part.content) for part in mine) / 1e3:11.1f} kB unpacked"
        )
    per = whole / count * 1000
    print(f"all: {whole / 1e6:.2f} MB packed, {raw / 1e6:.1f} MB unpacked; per 1,000 records {per / 1e6:.2f} MB packed")
    print(f"one gzip file of the documents alone: {one / 1e6:.2f} MB; ours is {whole / one:.2f} times that")
    fresh = [part for part in _bundle(second).parts if part.name not in packed]
    differs = sum(len(gzip.compress(part.content, 9, mtime=0)) for part in fresh)
    uses = ", ".join(sorted({part.key if part.use == "tables" else part.use for part in fresh}))
    less = whole / differs
    print(f"one record changed: {len(fresh)} parts, {differs / 1e3:.1f} kB, {less:.0f} times less: {uses}")
    if count >= 1_000:
        gates.append(Gate(f"packed per 1,000 records at {count}, MB", per / 1e6, MOST_BYTES / 1e6, most=True))
        gates.append(Gate(f"whole / one record changed at {count}", less, 10.0))


def on_a_phone(folder: Path, texts: Sequence[str], count: int, gates: list[Gate]) -> None:
    with _served(folder) as address, _phone(address) as page:
        page.evaluate(_OPEN)
        page.wait_for_function("() => keep.status().asked !== null && keep.status().progress === null", timeout=600_000)
        page.reload()
        page.evaluate(_OPEN)
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": THROTTLE})
        opened, unpacked = np.median([page.evaluate(_OPENING) for _ in range(3)], axis=0)
        ours, beside, _ = page.evaluate(_TYPING, [list(texts), ROUNDS])
    times = opened / unpacked
    print(f"opened in {opened:.0f} ms (throttled {THROTTLE} times), {times:.1f} times unpacking and checking its bytes")
    middle, late = np.median(ours), np.percentile(ours, 95)
    walk = float(np.median(beside))
    print(
        f"{len(ours)} keystrokes: median {middle:.1f} ms, p95 {late:.1f} ms;"
        f" a walk over the titles {walk:.2f} ms, ours {middle / walk:.0f} times that"
    )
    if count in KEYSTROKE:
        gates.append(Gate(f"a keystroke at {count}, median ms", float(middle), KEYSTROKE[count], most=True))
        gates.append(Gate(f"a keystroke at {count}, p95 ms", float(late), KEYSTROKE[count], most=True))


def _changed(folder: Path, records: Documents, cited: Documents) -> Compiled:
    """The edition in which one record is built from another year on; elsewhere, so that the first stays current."""
    code = sorted(records)[len(records) // 2]
    document = copy.deepcopy(records[code])
    document["identity"]["years"]["from"] -= 1
    return compiled(folder / "second", 2, {**records, code: document}, cited)


def _bundle(edition: Compiled) -> Bundle:
    site: dict[str, Any] = {"driving_side": "left", "unlisted_rate": 0.12, "zone": "UTC", "demo": True}
    return make(Given(edition, edition.tables, shipped(), site))


@contextmanager
def _served(folder: Path) -> Iterator[str]:
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(folder)}))
    house = app.extensions["chockbook"]
    offer(house)
    with serving(app) as address:
        yield address
    house.engine.dispose()


@contextmanager
def _phone(address: str) -> Iterator[Page]:
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        context = browser.new_context(base_url=address, viewport=PHONE)  # type: ignore[arg-type]
        page = context.new_page()
        page.set_default_timeout(600_000)
        page.goto("/phone")
        yield page
        browser.close()


def _raw(*contents: bytes) -> str:
    return f"{sum(map(len, contents)) / 1e6:.2f} MB"


if __name__ == "__main__":
    raise SystemExit(main())
