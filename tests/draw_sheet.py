"""Contact sheet of the walk-round strip: python -m tests.draw_sheet OUT.html [--png] [--codes A,B] [--light night].

Every body style, then every demo record in every posture as on a phone and as in print, each with its text; a page
for each dozen of them, OUT-01.html and so on. --png also takes screenshots, in pieces that can be looked at.
"""

import argparse
import shutil
from collections.abc import Iterator, Sequence
from html import escape
from itertools import count
from pathlib import Path

from catalog.draw.bodies import bodies
from catalog.draw.model import POSTURES, Drawn
from catalog.draw.strip import strip
from catalog.draw.svg import svg, swatch
from catalog.draw.wording import LEGEND
from tests.draw_cases import drawn_for
from tests.plan_cases import demo_records

_STATIC = Path(__file__).parents[1] / "catalog" / "web" / "static"
_LAYOUT = """
body { background: var(--panel); color: var(--ink); font: 13px/17px var(--font); margin: 12px; }
.row { display: flex; flex-wrap: wrap; gap: 24px; align-items: flex-start; margin-bottom: 24px; }
figure { margin: 0; width: 336px; } figure.wide { width: 714px; } ol { padding-left: 20px; } h2 { margin: 8px 0; }
"""
_HIGH = 2600  # of one screenshot
_DOZEN = 12


def sheets(codes: Sequence[str], light: str) -> Iterator[str]:
    """The pages. codes: records, all where there is none."""
    styles = "".join((_STATIC / name).read_text("utf-8") for name in ("tokens.css", "draw.css"))
    styles = styles.replace('url("fonts/', f'url("{_STATIC.as_uri()}/fonts/')
    head = f'<!doctype html><html lang="en" data-light="{light}"><meta charset="utf-8"><title>Strips</title>'
    head += f"<style>{styles}{_LAYOUT}</style>"
    numbers = count()
    if not codes:
        yield head + "".join(_bodies(numbers))
    wanted = [(code, record) for code, record in demo_records().items() if not codes or code in codes]
    for first in range(0, len(wanted), _DOZEN):
        parts = [head]
        for code, record in wanted[first : first + _DOZEN]:
            drawn = {posture: drawn_for(record, posture) for posture in POSTURES}
            parts += _record(f"{code} {record.identity.make} {record.identity.model}", drawn, numbers)
        yield "".join(parts)


def _bodies(numbers: Iterator[int]) -> Iterator[str]:
    samples = " ".join(f"{swatch(fill, f'w{fill}')} {escape(said)}" for fill, said in LEGEND.items())
    yield f"<p>{samples}</p>"
    for key in bodies():
        figures = [svg(strip(Drawn(key, 0, 0, 0), posture, 1), f"s{next(numbers)}") for posture in POSTURES[1:]]
        shown = "".join(f'<figure class="wide">{figure}</figure>' for figure in figures)
        yield f'<h2>{key}</h2><div class="row">{shown}</div>'


def _record(name: str, drawn: dict[str, Drawn], numbers: Iterator[int]) -> Iterator[str]:
    yield f'<h2>{escape(name)}</h2><div class="row">'
    for posture, told in drawn.items():
        made = strip(told, posture)
        yield f"<figure>{svg(made, f's{next(numbers)}')}</figure>"
    yield '</div><div class="row">'
    for posture, told in drawn.items():
        made = strip(told, posture, 1)
        lines = "".join(f"<li>{escape(line)}</li>" for line in made.twin)
        twin = f"<ol>{lines}</ol>" if posture == "wheels" else ""
        yield f'<figure class="wide">{svg(made, f"s{next(numbers)}")}{twin}</figure>'
    yield "</div>"


def screenshots(page: Path) -> Iterator[Path]:
    """Pictures of the page, from its top to its end."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        shown = browser.new_page(viewport={"width": 1840, "height": _HIGH})
        shown.goto(page.resolve().as_uri(), timeout=180_000)
        high = int(shown.evaluate("document.documentElement.scrollHeight"))
        for number, top in enumerate(range(0, high, _HIGH)):
            path = page.with_name(f"{page.stem}-{number:03}.png")
            shown.evaluate(f"window.scrollTo(0, {top})")
            shown.screenshot(path=path)
            yield path
        browser.close()


def main() -> None:
    """Write the sheet, and say what was written."""
    parser = argparse.ArgumentParser(prog="python -m tests.draw_sheet", description="Contact sheet of the strips.")
    parser.add_argument("out", type=Path)
    parser.add_argument("--png", action="store_true")
    parser.add_argument("--codes", default="")
    parser.add_argument("--light", default="day", choices=("day", "night", "glare"))
    given = parser.parse_args()
    codes = [code for code in given.codes.split(",") if code]
    for number, page in enumerate(sheets(codes, given.light), 1):
        path = given.out.with_name(f"{given.out.stem}-{number:02}.html")
        path.write_text(page, "utf-8")
        print(path)
        if given.png:
            for picture in screenshots(path):
                print(picture)


if __name__ == "__main__":
    main()
