"""The strip as SVG: classes and no colours, no style; what each class looks like is static/draw.css."""

from collections.abc import Iterator

from catalog.draw.model import SOLID, STRUCK, Circle, Disc, Line, Shape, Strip, Words

_RADIUS = 110  # of a disc


def px(tenths: int) -> str:
    """Tenths of a pixel, written as pixels."""
    sign = "-" if tenths < 0 else ""
    whole, rest = abs(tenths) // 10, abs(tenths) % 10
    return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"


def escaped(text: str) -> str:
    """Text as it stands in mark-up."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def svg(strip: Strip, id_prefix: str) -> str:
    """The picture; its text twin is the page's to write beside it. id_prefix: makes its ids the page's only ones.

    Discs and the targets under them carry data-number.
    """
    wide, high = px(strip.width), px(strip.height)
    parts = [
        f'<svg class="strip" role="img" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}"'
        f' aria-labelledby="{id_prefix}-title {id_prefix}-text" xmlns="http://www.w3.org/2000/svg">',
        f'<title id="{id_prefix}-title">{escaped(strip.title)}</title>',
        f'<desc id="{id_prefix}-text">{escaped(" ".join(strip.twin[:3]))}</desc>',
        _patterns(id_prefix),
        *(_hit(shape) for shape in strip.shapes if isinstance(shape, Disc)),
        *(written for shape in strip.shapes for written in _shape(shape, id_prefix)),
        "</svg>",
    ]
    return "".join(parts)


def swatch(fill: str, id_prefix: str) -> str:
    """A small sample of a fill for a legend. fill: a key of wording.LEGEND."""
    outline = '<rect class="body" x="0.7" y="0.7" width="24.6" height="14.6"/>'
    plain = {
        "blank": outline,
        "battery12": '<rect class="battery" x="5.8" y="3.3" width="14.4" height="9.4"/>',
        "strong": '<path class="zone-strong" d="M2 8L24 8"/>',
    }
    filled = f'<rect class="zone" fill="url(#{id_prefix}-{fill})" x="0.7" y="0.7" width="24.6" height="14.6"/>'
    shown = plain[fill] if fill in plain else f"{_patterns(id_prefix)}{filled}"
    return f'<svg class="swatch" viewBox="0 0 26 16" width="26" height="16" aria-hidden="true">{shown}</svg>'


def _patterns(id_prefix: str) -> str:
    def pattern(name: str, size: str, inner: str) -> str:
        ground = f'<rect class="pattern-ground" width="{size}" height="{size}"/>'
        return (
            f'<pattern id="{id_prefix}-{name}" patternUnits="userSpaceOnUse" width="{size}" height="{size}">'
            f"{ground}{inner}</pattern>"
        )

    return (
        "<defs>"
        + pattern("cut", "6", '<path class="hatch" d="M-1.5 1.5L1.5 -1.5M-1 7L7 -1M4.5 7.5L7.5 4.5"/>')
        + pattern("lattice", "7", '<path class="lattice" d="M0 0L7 7M7 0L0 7"/>')
        + pattern(
            "dots",
            "4",
            '<circle class="dot" cx="1" cy="1" r="0.75"/><circle class="dot" cx="3" cy="3" r="0.75"/>',
        )
        + "</defs>"
    )


def _shape(shape: Shape, id_prefix: str) -> Iterator[str]:
    if isinstance(shape, Line):
        yield from _line(shape, id_prefix)
    elif isinstance(shape, Circle):
        x, y = shape.centre
        yield f'<circle class="{shape.css}" cx="{px(x)}" cy="{px(y)}" r="{px(shape.radius)}"/>'
    elif isinstance(shape, Words):
        x, y = shape.at
        said = escaped(shape.text)
        yield f'<text class="{shape.css}" x="{px(x)}" y="{px(y)}" text-anchor="{shape.anchor}">{said}</text>'
    else:
        yield from _disc(shape)


def _line(line: Line, id_prefix: str) -> Iterator[str]:
    path = "".join(f"{letter}{' '.join(px(number) for number in told)}" for letter, told in line.steps)
    if not line.fill:
        wide = f' stroke-width="{px(line.wide)}"' if line.wide else ""
        yield f'<path class="{line.css}"{wide} d="{path}"/>'
    elif not line.wide:
        yield f'<path class="{line.css}" fill="url(#{id_prefix}-{line.fill})" d="{path}"/>'
    else:
        fill = f'stroke="url(#{id_prefix}-{line.fill})" stroke-width="{px(line.wide)}"'
        yield f'<path class="{line.css}" {fill} d="{path}"/>'


def _hit(disc: Disc) -> str:
    """A larger target under each disc, half of it its neighbour's where two stand close."""
    x, y = disc.centre
    return f'<circle class="hit" data-number="{disc.numbered.number}" cx="{px(x)}" cy="{px(y)}" r="24"/>'


def _disc(disc: Disc) -> Iterator[str]:
    told = disc.numbered
    x, y = disc.centre
    yield f'<g class="disc {told.shape}" data-number="{told.number}">'
    yield f"<title>{told.number}: {escaped(told.label)}</title>"
    yield f'<circle class="disc-halo" cx="{px(x)}" cy="{px(y)}" r="{px(_RADIUS + 20)}"/>'
    inner = _RADIUS if told.shape == SOLID else _RADIUS - 9
    yield f'<circle class="disc-face" cx="{px(x)}" cy="{px(y)}" r="{px(inner)}"/>'
    if told.shape == STRUCK:
        yield f'<path class="disc-slash" d="M{px(x - 100)} {px(y + 100)}L{px(x + 100)} {px(y - 100)}"/>'
    yield f'<text class="disc-number" x="{px(x)}" y="{px(y + 46)}" text-anchor="middle">{told.number}</text>'
    yield "</g>"
