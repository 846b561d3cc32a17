"""The form, computed: contrast of every pair, one place for colours, sizes from the scale."""

import colorsys
import re

import pytest

from catalog.web.assets import FOLDER

TOKENS = (FOLDER / "tokens.css").read_text("utf-8")
SHEETS = {path.name: re.sub(r"/\*.*?\*/", "", path.read_text("utf-8"), flags=re.S) for path in FOLDER.rglob("*.css")}
SCALE = {12: 16, 13: 17, 14: 20, 15: 19, 16: 22, 17: 22, 20: 26, 25: 30}

# (ink, ground, least ratio by WCAG 2, ratios computed for the form: day, night, glare).
PAIRS = (
    ("ink", "panel", 7, (18.0, 14.7, 21.0)),
    ("ink", "ground", 7, (15.2, 15.9, 21.0)),
    ("ink", "wash", 7, (14.6, 11.3, 21.0)),
    ("ink", "sunk", 7, None),
    ("ink", "old", 7, None),
    ("danger-on", "danger-plate", 7, (10.8, 10.9, 21.0)),
    ("danger-text", "danger-ground", 7, (11.6, 12.7, 21.0)),
    ("danger-text", "panel", 7, None),
    ("caution-on", "caution", 7, (11.7, 9.7, 16.0)),
    ("demo-on", "demo-ground", 7, None),
    ("band-ink", "band", 7, None),
    ("head-ink", "head", 7, None),
    ("panel", "ink", 7, None),
    ("panel", "accent", 4.5, None),
    ("head-quiet", "head", 4.5, None),
    ("quiet", "panel", 4.5, (8.7, 9.3, 21.0)),
    ("quiet", "ground", 4.5, (7.3, 10.0, 21.0)),
    ("quiet", "sunk", 4.5, (8.0, 9.7, 21.0)),
    ("quiet", "old", 4.5, None),
    ("quiet", "wash", 4.5, None),
    ("accent", "panel", 4.5, (9.7, 10.1, 21.0)),
    ("accent", "wash", 4.5, (7.9, 7.8, 21.0)),
    ("accent", "ground", 4.5, None),
    ("rule", "panel", 3, (4.8, 5.5, 21.0)),
)
LIGHTS = ("day", "night", "glare")


def block(selector: str) -> dict[str, str]:
    """The tokens a rule sets."""
    found = re.search(re.escape(selector) + r"\s*\{(.*?)\}", TOKENS, re.DOTALL)
    assert found, selector
    return dict(re.findall(r"--([a-z0-9-]+):\s*([^;]+);", found[1]))


def light(name: str) -> dict[str, str]:
    made = block(":root")
    if name != "day":
        made |= block(f':root[data-light="{name}"]')
    for key, value in made.items():
        while value.startswith("var(--"):
            value = made[value[6:-1]]
        made[key] = value
    return made


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_calculator_agrees_with_known_greys() -> None:
    """#767676 on white is the last grey to pass 4.5:1, #777777 the first to fail (well-known anchors)."""
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("name", LIGHTS)
@pytest.mark.parametrize(("ink", "ground", "least", "computed"), PAIRS, ids=[f"{p[0]} on {p[1]}" for p in PAIRS])
def test_contrast(name: str, ink: str, ground: str, least: float, computed: tuple[float, ...] | None) -> None:
    tokens = light(name)
    ratio = contrast(tokens[ink], tokens[ground])
    assert ratio >= least
    if computed is not None:
        # The form's own table, to one place; caution in glare is given there as a whole number.
        assert ratio == pytest.approx(computed[LIGHTS.index(name)], abs=0.5 if computed[2] == 16.0 else 0.051)


def test_night_chosen_by_hand_is_the_devices_night() -> None:
    assert block(":root:not([data-light])") == block(':root[data-light="night"]')


@pytest.mark.parametrize("name", LIGHTS)
def test_no_green_and_no_saturated_red_at_night(name: str) -> None:
    for key, value in light(name).items():
        if not re.fullmatch(r"#[0-9a-f]{6}", value):
            continue
        hue, _, saturation = colorsys.rgb_to_hls(*(int(value[at : at + 2], 16) / 255 for at in (1, 3, 5)))
        strong = saturation > 0.25 and max(int(value[at : at + 2], 16) for at in (1, 3, 5)) > 60
        assert not (strong and 80 < hue * 360 < 165), f"{key} is green"
        if name == "night" and "text" in key:
            assert luminance(value) > 0.5, f"{key} is dark red on dark"


@pytest.mark.parametrize("name", sorted(set(SHEETS) - {"tokens.css"}))
def test_style_sheets_take_colours_sizes_and_weights_from_the_tokens(name: str) -> None:
    sheet = SHEETS[name]
    assert not re.findall(r"#[0-9a-fA-F]{3,8}\b(?![^{}]*\{)|rgba?\(|hsla?\(", sheet)
    assert not re.findall(r"box-shadow|text-shadow|gradient|transition|animation|@keyframes", sheet)
    assert set(re.findall(r"font-weight:\s*(\w+)", sheet)) <= {"400", "700"}
    assert set(re.findall(r"font:\s*(?:(?:400|700) )?(\S+) var\(--font\)", sheet)) <= {
        *(f"var(--t{size})" for size in SCALE),
        "11px",
        "13px",
    }
    assert "font-size" not in sheet


def test_the_scale_is_the_forms() -> None:
    sizes = {key: value for key, value in block(":root").items() if re.fullmatch(r"t\d\d", key)}
    assert {int(key[1:]) for key in sizes} == set(SCALE)
    for key, value in sizes.items():
        size, line = (float(part.removesuffix("rem")) * 16 for part in value.split("/"))
        assert (size, line) == (int(key[1:]), SCALE[int(key[1:])])


def test_two_weights_and_their_licence_ship_with_the_pages() -> None:
    fonts = sorted(path.name for path in (FOLDER / "fonts").iterdir())
    assert fonts == ["OFL.txt", "b612-latin-400-normal.woff2", "b612-latin-700-normal.woff2"]
    assert "SIL Open Font License" in (FOLDER / "fonts" / "OFL.txt").read_text("utf-8")
