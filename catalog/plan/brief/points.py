"""What a crew acts on, as one brief says it: kept beside the texts, so that a later brief can tell what changed."""

from collections.abc import Iterator, Sequence

from catalog.domain.wording import claim_words
from catalog.plan.brief.dangers import dangers_of, motion_of
from catalog.plan.brief.model import BriefInput, BriefVehicle, Point
from catalog.plan.brief.port import port_forms
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.several import Kind
from catalog.plan.subject import Subject, attribute

SCENE = ("danger", "port", "motion")  # what changes with the scene
_SWITCHING_OFF = "power_off"  # is a step of its own, not a place to cut


def points_of(asked: BriefInput, each: Sequence[Each]) -> tuple[Point, ...]:
    """Of one vehicle item by item; of several, all that any of them says, since nobody knows which it is."""
    made = (_who(asked.vehicles), *_of_scene(asked, each))
    if asked.plan.kind is Kind.ANY:
        return made
    of = _of_one(each[0].subject) if len(each) == 1 else _of_several([one.subject for one in each])
    return (*made, *of)


def _who(vehicles: Sequence[BriefVehicle]) -> Point:
    words = " or ".join(f"{vehicle.title} {vehicle.record.identity.years}" for vehicle in vehicles)
    return Point("vehicle", "vehicle", words or "vehicle not known", "the vehicle")


def _of_scene(asked: BriefInput, each: Sequence[Each]) -> Iterator[Point]:
    words = brief_words()["scene_points"]
    said = (dangers_of(each)[0]["forms"][0], port_forms(each, asked.scene)[0], motion_of(each)["forms"][0])
    yield from (Point(key, words[key][0], text, words[key][1]) for key, text in zip(SCENE, said, strict=True))


def _of_one(subject: Subject) -> Iterator[Point]:
    for row in brief_words()["points"]:
        inside, mark, key = row["path"].partition("[].")
        for item in subject.items(inside) if mark else ("",):
            path = f"{item}.{key}" if mark else inside
            if not row.get("kind") or subject.plainly(f"{item}.kind") != _SWITCHING_OFF:
                yield Point(path, _label(row, subject, item), _words(subject, path), row.get("read_back", ""))


def _label(row: dict[str, str], subject: Subject, item: str) -> str:
    """ "low-voltage cut loop, wait"."""
    kind = _words(subject, f"{item}.kind") if row.get("kind") else ""
    return ", ".join(part for part in (kind, row["label"]) if part)


def _of_several(subjects: Sequence[Subject]) -> Iterator[Point]:
    for row in brief_words()["points"]:
        inside, mark, key = row["path"].partition("[].")
        paths = [
            (subject, path)
            for subject in subjects
            for path in ([f"{item}.{key}" for item in subject.items(inside)] if mark else [inside])
        ]
        said = dict.fromkeys(_words(subject, path) for subject, path in paths)
        if said:
            yield Point(row["path"], row["label"] or "where to cut", " or ".join(said), row.get("read_back", ""))


def _words(subject: Subject, path: str) -> str:
    return claim_words(attribute(path), subject.fact(path))
