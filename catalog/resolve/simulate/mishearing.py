"""Names as they arrive: right, spelt as they sound, with slips, or another name altogether."""

from collections.abc import Mapping, Sequence
from random import Random
from typing import Any

from catalog.resolve.simulate.tables import law_table

LETTERS = "abcdefghijklmnoprstuvwyz"


def heard_shares(careless: bool, kept: float = 1.0) -> dict[str, float]:
    """Share of each way a name arrives; the careless get half of it wrong. kept: of what arrives right otherwise."""
    shares: Mapping[str, float] = law_table()["heard"]
    if not careless and kept == 1:
        return dict(shares)
    right = shares["exact"] * kept * (0.6 if careless else 1.0)
    rest = (1 - right) / (1 - shares["exact"])
    return {way: right if way == "exact" else share * rest for way, share in shares.items()}


def misheard(name: str, others: Sequence[str], shares: Mapping[str, float], draw: Random) -> str:
    """A name as it arrives. others: what it may be mistaken for. shares: as of `heard_shares`."""
    way = draw.choices(list(shares), list(shares.values()))[0]
    lower = name.lower()
    if way == "exact" or len(lower) < 4:
        return name
    if way == "another":
        return draw.choice(others)
    if way == "sound":
        return _sounding(lower, draw)
    return _slip(_slip(lower, draw), draw) if way == "two_edits" else _slip(lower, draw)


def _sounding(name: str, draw: Random) -> str:
    """One sound written otherwise; a slip where none can be."""
    pairs: list[list[Any]] = [pair for pair in law_table()["sound_alike"] if pair[0] in name]
    if not pairs:
        return _slip(name, draw)
    old, new = draw.choice(pairs)
    return name.replace(old, new, 1)


def _slip(name: str, draw: Random) -> str:
    """One letter lost, doubled, swapped with the next, or another."""
    at = draw.randrange(1, len(name) - 1)
    after = name[at + 1 :]
    return draw.choice(
        (
            name[:at] + after,
            name[:at] + name[at] + name[at:],
            name[:at] + after[:1] + name[at] + after[1:],
            name[:at] + draw.choice(LETTERS) + after,
        )
    )
