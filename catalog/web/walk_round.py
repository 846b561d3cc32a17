"""The walk-round strip on a record's page, with the numbers of its first screen, and its cut points close up."""

from collections.abc import Iterator
from dataclasses import dataclass

from catalog.domain.record import Record
from catalog.services.drawings import CloseUpView, Pointed, StripView, cut_points, pointed_strip
from catalog.web import wording
from catalog.web.first import FirstScreen


@dataclass(frozen=True, slots=True)
class PostureLink:
    """How the vehicle may lie. here: it is drawn so now."""

    address: str
    label: str
    here: bool


@dataclass(frozen=True, slots=True)
class WalkRound:
    """strip: with the numbers of its page. postures: to have it drawn in, none where a scene says how it lies. cuts:
    its cut points, none where no way is stated.
    """

    strip: StripView
    postures: tuple[PostureLink, ...]
    cuts: tuple[CloseUpView, ...]


def walk_round(record: Record, first: FirstScreen, posture: str, address: str) -> WalkRound:
    """address: of the page without a posture, to which one is added. Raises BadInput for an unknown posture."""
    strip = pointed_strip(record, tuple(_pointed(first)), posture)
    return WalkRound(strip, tuple(_links(posture, address)), cut_points(record))


def _pointed(first: FirstScreen) -> Iterator[Pointed]:
    for step in (*first.motion, *first.doors, *first.cutoff):
        if step.number:
            yield Pointed(step.number, step.shape, step.title, step.at, step.wheels)


def _links(posture: str, address: str) -> Iterator[PostureLink]:
    joint = "&" if "?" in address else "?"
    for key, label in wording.POSTURES:
        yield PostureLink(f"{address}{joint}posture={key}#walk" if key else f"{address}#walk", label, key == posture)
