"""Contact sheet of the walk-round strip: python -m tests.draw_sheet OUT.html [--png] [--codes A,B] [--light night].

Every body style, then every demo record in every posture as on a phone and as in print, each with its text. --png
also takes screenshots beside it, in pieces that can be looked at.
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
from tests.draw_cases import drawn_for
from tests.plan_cases import demo_records

_STATIC = Path(__file__).parents[1] / "catalog" / "web" / "static"
_LAYOUT = """
body { background: var(--panel); color: var(--ink); font: 13px/17px var(--font); margin: 12px; }
.row { display: flex; flex-wrap: wrap; gap: 24px; align-items: flex-start; margin-bottom: 24px; }
figure { margin: 0; width: 336px; } figure.wide { width: 714px; } ol { padding-left: 20px; } h2 { margin: 8px 0; }
"""
_HIGH = 2600  # of one screenshot


def sheet(codes: Sequence[str], light: str) -> str:
    """The page. codes: records, all where there is none."""
    numbers = count()
    styles = "".join((_STATIC / name).read_text("utf-8") for name in ("tokens.css", "draw.css"))
    styles = styles.replace('url("fonts/', f'url("{_STATIC.as_uri()}/fonts/')
    parts = [f'<!doctype html><html lang="en" data-light="{light}"><meta charset="utf-8"><title>Strips</title>']
    parts.append(f"<style>{styles}{_LAYOUT}</style>")
    parts.append("<p>" + " ".join(f"{swatch(f, f'w{f}')} {f}" for f in ("cut", "lattice", "dots", "blank")) + "</p>")
    if not codes:
        parts += _bodies(numbers)
    for code, record in demo_records().items():
        if not codes or code in codes:
            drawn = {posture: drawn_for(record, posture) for posture in POSTURES}
            parts += _record(f"{code} {record.identity.make} {record.identity.model}", drawn, numbers)
    return "".join(parts)


def _bodies(numbers: Iterator[int]) -> Iterator[str]:
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
        shown.goto(page.resolve().as_uri())
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
    given.out.write_text(sheet([code for code in given.codes.split(",") if code], given.light), "utf-8")
    print(given.out)
    if given.png:
        for path in screenshots(given.out):
            print(path)


if __name__ == "__main__":
    main()
