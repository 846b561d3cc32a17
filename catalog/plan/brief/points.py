"""What a crew acts on, as one brief says it: kept beside the texts, so that a later brief can tell what changed."""

from collections.abc import Iterator, Sequence

from catalog.domain.wording import sentence
from catalog.plan.brief.model import BriefInput, BriefVehicle, Point
from catalog.plan.brief.wording import brief_words
from catalog.plan.lines import claim_words
from catalog.plan.subject import Subject, attribute, subject_of


def points_of(asked: BriefInput) -> tuple[Point, ...]:
    """Of one vehicle item by item; of several, all that any of them says, since nobody knows which it is."""
    if len(asked.vehicles) == 1:
        return (_who(asked.vehicles), *_of_one(subject_of(asked.vehicles[0].record, asked.scene)))
    subjects = [subject_of(vehicle.record, asked.scene) for vehicle in asked.vehicles]
    return (_who(asked.vehicles), *(_of_several(subjects) if subjects else ()))


def _who(vehicles: Sequence[BriefVehicle]) -> Point:
    words = " or ".join(f"{vehicle.title} {vehicle.record.identity.years}" for vehicle in vehicles)
    return Point("vehicle", "vehicle", words or "not known", "the vehicle")


def _of_one(subject: Subject) -> Iterator[Point]:
    for row in brief_words()["points"]:
        inside, mark, key = row["path"].partition("[].")
        kind = row.get("kind", "")
        for item in subject.items(inside) if mark else ("",):
            path = f"{item}.{key}" if mark else inside
            label = f"{_words(subject, f'{item}.{kind}')}, {row['label']}" if kind else row["label"]
            yield Point(path, label, _words(subject, path), row.get("read_back", ""))


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
            yield Point(row["path"], row["label"], "; or ".join(said), row.get("read_back", ""))


def _words(subject: Subject, path: str) -> str:
    return claim_words(attribute(path), subject.fact(path))


def said_words(point: Point) -> str:
    """ "Wait after it: 2 min"."""
    return f"{sentence(point.label)}: {point.words}"
