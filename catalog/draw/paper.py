"""How a strip is painted where no style sheet of the site is at hand: black on white, as on paper.

The same rules as catalog/web/static/draw.css with the tokens of paper put in; a test holds that every class has one.
"""

PAPER = """
.strip {font-family: sans-serif}
.strip text {fill: #000}
.strip .hit {fill: none}
.strip path, .strip line {stroke-linejoin: round; stroke-linecap: round}
.strip .strip-posture, .strip .strip-label {font-size: 13px; font-weight: 700}
.strip .strip-note {font-size: 12px; fill: #000}
.strip .strip-text {font-size: 13px}
.strip .body, .strip .tail, .swatch .body {fill: #fff; stroke: #000; stroke-width: 1.3}
.strip .glass {fill: #d4d4d4; stroke: #000; stroke-width: 0.9}
.strip .lamp, .strip .plate {fill: #fff; stroke: #000; stroke-width: 0.9}
.strip .dark, .strip .seat {fill: #000; stroke: none}
.strip .line {fill: none; stroke: #000; stroke-width: 0.8}
.strip .thick {fill: none; stroke: #000; stroke-width: 2.2}
.strip .tyre {fill: #000; stroke: none}
.strip .hub {fill: #fff; stroke: none}
.strip .halo {fill: #fff; stroke: none}
.strip .wedge {fill: #000; stroke: #fff; stroke-width: 0.8}
.strip .ground {stroke: #000; stroke-width: 2; fill: none}
.strip .rule {stroke: #000; stroke-width: 2; fill: none}
.strip .fold {stroke: #000; stroke-width: 1.2; stroke-dasharray: 1.5 3.5; fill: none}
.strip .arrow {stroke: #000; stroke-width: 1.3; fill: none}
.strip .arrow-tip {fill: #000; stroke: none}
.strip .compass {fill: none; stroke: #000; stroke-width: 1.2}
.strip .compass-top {fill: #000; stroke: #000; stroke-width: 1.2}
.strip .compass-seen {fill: none; stroke: #000; stroke-width: 3.2; stroke-linecap: butt}
.strip .compass-way {fill: none; stroke: #000; stroke-width: 1.5}
.strip .compass-start, .strip .compass-tip {fill: #000}
.strip .zone, .swatch .zone {stroke: #000; stroke-width: 1}
.strip .zone-strong, .swatch .zone-strong {fill: none; stroke: #000; stroke-width: 2.4}
.strip .battery, .swatch .battery {fill: #fff; stroke: #000; stroke-width: 1.6}
.strip .band-edge {fill: none; stroke: #000; stroke-linecap: butt}
.strip .band {fill: none; stroke-linecap: butt}
.strip .pattern-ground, .swatch .pattern-ground {fill: #fff}
.strip .hatch, .swatch .hatch {fill: none; stroke: #000; stroke-width: 2}
.strip .lattice, .swatch .lattice {fill: none; stroke: #000; stroke-width: 0.8}
.strip .dot, .swatch .dot {fill: #000}
.strip .leader-halo {fill: none; stroke: #fff; stroke-width: 4.6}
.strip .leader {fill: none; stroke: #000; stroke-width: 1.5}
.strip .mark {fill: #fff; stroke: #000; stroke-width: 1.8}
.strip .mark-zone {fill: #fff; fill-opacity: 0.6; stroke: #000; stroke-width: 1.4; stroke-dasharray: 2 1.6}
.strip .disc-halo {fill: #fff}
.strip .disc-face {fill: #fff; stroke: #000; stroke-width: 1.8}
.strip .disc.solid .disc-face {fill: #000; stroke: none}
.strip .disc-number {font-size: 13px; font-weight: 700}
.strip .struck .disc-number {stroke: #fff; stroke-width: 2.6px; paint-order: stroke; stroke-linejoin: round}
.strip .disc.solid .disc-number {fill: #fff}
.strip .disc-slash {fill: none; stroke: #000; stroke-width: 2.2}
.sketch path {vector-effect: non-scaling-stroke; stroke: #000; stroke-width: 2; stroke-linejoin: round; fill: none}
.sketch .body {fill: #fff}
.sketch .glass {fill: #d4d4d4; stroke-width: 1}
.sketch .panel {fill: #fff}
.sketch .solid, .sketch .spot {fill: #000; stroke: none}
.sketch .thin {stroke-width: 1}
.sketch .cable {stroke-width: 8; stroke-linejoin: round}
.sketch .unsaid {fill: #fff; stroke-dasharray: 3 3}
.sketch .halo {fill: #fff; stroke: none}
.sketch .hub {fill: #fff; stroke: none}
.sketch .ringed {stroke-width: 1.5}
.sketch text {fill: #000; font-family: sans-serif}
"""


def alone(svg: str) -> str:
    """A drawing of ours with its paint inside, and named as SVG, so that it can stand in a file of its own."""
    head, closing, rest = svg.partition(">")
    named = head if "xmlns=" in head else f'{head} xmlns="http://www.w3.org/2000/svg"'
    return f"{named}{closing}<style>{PAPER}</style>{rest}"
