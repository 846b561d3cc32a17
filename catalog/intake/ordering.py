"""The order of a list's items once a file has had its say."""

from collections.abc import Iterable, Mapping, Sequence


def ordered(before: Sequence[str], now: Iterable[str], positions: Mapping[str, int]) -> list[str]:
    """Item ids in order. before: as the list stood. now: what it holds, new ones last. positions: as the file gives
    them, from 1; an item without one stays where it stood, a new one comes last.
    """
    held = list(now)
    place = {named: at for at, named in enumerate(before, 1)}
    last = max([len(before), *positions.values()]) + 1
    # Where two meet, the one the file placed goes first.
    return sorted(held, key=lambda named: (positions.get(named, place.get(named, last)), named not in positions))
