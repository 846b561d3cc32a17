"""Vehicle axis systems. Directions from memory of the standards; confirm before changing them.

ISO 8855: x forward, y to the left, z up. SAE J670: x forward, y to the right, z down.
"""

import pytest

from catalog.domain.places import Size, from_iso8855, from_j670, to_iso8855, to_j670

SIZE = Size(length=4000, width=2000, height=1500)
FRONT_CENTRE_GROUND = (0, 500, 0)
REAR, LEFT, RIGHT, TOP = (1000, 500, 0), (0, 0, 0), (0, 1000, 0), (0, 500, 1000)


@pytest.mark.parametrize(
    ("at", "iso8855"),
    [
        (FRONT_CENTRE_GROUND, (0, 0, 0)),
        (REAR, (-4000, 0, 0)),  # x forward: the rear is behind the origin
        (LEFT, (0, 1000, 0)),  # y to the left
        (RIGHT, (0, -1000, 0)),
        (TOP, (0, 0, 1500)),  # z up
        ((250, 250, 500), (-1000, 500, 750)),
    ],
)
def test_iso_8855(at: tuple[int, int, int], iso8855: tuple[float, float, float]) -> None:
    assert to_iso8855(at, SIZE) == pytest.approx(iso8855)
    assert from_iso8855(iso8855, SIZE) == at


@pytest.mark.parametrize(
    ("at", "j670"),
    [
        (FRONT_CENTRE_GROUND, (0, 0, 0)),
        (REAR, (-4000, 0, 0)),  # x forward
        (LEFT, (0, -1000, 0)),  # y to the right
        (RIGHT, (0, 1000, 0)),
        (TOP, (0, 0, -1500)),  # z down
        ((250, 250, 500), (-1000, -500, -750)),
    ],
)
def test_sae_j670(at: tuple[int, int, int], j670: tuple[float, float, float]) -> None:
    assert to_j670(at, SIZE) == pytest.approx(j670)
    assert from_j670(j670, SIZE) == at


def test_the_two_systems_differ_by_half_a_turn_about_x() -> None:
    """Mixing them up swaps left and right: the reason both are written out here."""
    x, y, z = to_iso8855((100, 200, 300), SIZE)
    assert to_j670((100, 200, 300), SIZE) == (x, -y, -z)


def test_both_systems_are_right_handed() -> None:
    """Forward, then the system's y, then its z turn like thumb, index and middle finger."""
    for convert in (to_iso8855, to_j670):
        origin = convert(FRONT_CENTRE_GROUND, SIZE)
        # Our own axes (rearward, right, up) are left-handed, hence the sign.
        axes = [
            [end - start for end, start in zip(convert(at, SIZE), origin, strict=True)] for at in (REAR, RIGHT, TOP)
        ]
        (a, b, c), (d, e, f), (g, h, i) = axes
        determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
        assert determinant > 0
