"""A drawing that stands alone carries its paint: the site's style sheets with the tokens of paper, black on white."""

import re
from functools import cache
from pathlib import Path

import catalog

_STATIC = Path(catalog.__file__).parent / "web" / "static"
# What else a rule sets is how a drawing stands on a page of ours, and what of it can be tapped.
_PAINTS = ("fill", "stroke", "font", "paint-order", "vector-effect")


def alone(svg: str) -> str:
    """A drawing of ours with its paint inside, and named as SVG, so that it can stand in a file of its own."""
    head, closing, rest = svg.partition(">")
    named = head if "xmlns=" in head else f'{head} xmlns="http://www.w3.org/2000/svg"'
    return f"{named}{closing}<style>{paint()}</style>{rest}"


@cache
def paint() -> str:
    """The rules that paint, every token in them replaced. Raises KeyError for a token that paper does not have."""
    tokens = dict(re.findall(r"--([a-z0-9-]+): ([^;]+);", _sheet("tokens.css").partition("@media print")[2]))
    tokens["font"] = "sans-serif"
    made: list[str] = []
    for selector, told in re.findall(r"([^{}]+)\{([^{}]*)\}", _sheet("draw.css") + _sheet("sketch.css")):
        kept = [each.strip() for each in told.split(";") if each.strip().startswith(_PAINTS)]
        if kept:
            made.append(f"{selector.strip()} {{{'; '.join(kept)}}}")
    return re.sub(r"var\(--([a-z0-9-]+)\)", lambda found: tokens[found[1]], "\n".join(made))


def _sheet(name: str) -> str:
    return re.sub(r"/\*.*?\*/", "", (_STATIC / name).read_text("utf-8"), flags=re.DOTALL)
