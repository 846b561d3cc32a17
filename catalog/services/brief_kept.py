"""A composed brief as the document that is kept, and back: canonical JSON, so that its hash can be told."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from catalog.plan.brief.model import Breath, Brief, Changed, Data, Line, Point, Section, Sure
from catalog.plan.brief.spoken import SECONDS_A_WORD
from catalog.plan.scene import Said, Scene
from catalog.services.clock import moment_of, us_of

FORMAT = 1
NAMED = Sure()

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class BriefEdition:
    """The edition a brief is fixed to."""

    number: int
    hash: str
    published_at: datetime


@dataclass(frozen=True, slots=True)
class AboutVehicle:
    """A vehicle a brief may be about, at the revision it was composed from. sure: both "" where somebody named it."""

    code: str
    revision: str
    title: str
    subtitle: str
    sure: Sure = NAMED


@dataclass(frozen=True, slots=True)
class Composed:
    """What was composed, and from what; nothing of it is a caller's words.

    codes: as somebody named them. cues: attribute, values, denied and doubt of each that may be kept. shapes: the facts
    that decided what it says, without item ids. rules: hash of the rules and wording it was made by. notice: why this
    site's own steps are left out, "" where they are not.
    """

    edition: BriefEdition
    brief: Brief
    vehicles: tuple[AboutVehicle, ...]
    unlisted: Sure
    scene: Scene
    codes: tuple[str, ...]
    cues: tuple[Document, ...]
    shapes: tuple[str, ...]
    rules: str
    notice: str = ""


def document_of(composed: Composed) -> dict[str, Any]:
    """What is kept of it."""
    edition, scene = composed.edition, composed.scene
    made: dict[str, Any] = {
        "format": FORMAT,
        "edition": {
            "number": edition.number,
            "hash": edition.hash,
            "published_us": us_of(edition.published_at),
        },
        "brief": _brief_document(composed.brief),
        "vehicles": [
            {
                "code": one.code,
                "revision": one.revision,
                "title": one.title,
                "subtitle": one.subtitle,
                **_sure(one.sure),
            }
            for one in composed.vehicles
        ],
        "unlisted": _sure(composed.unlisted),
        "scene": {key: value.value for key, value in scene.values.items()},
        "caller": scene.caller,
        "codes": list(composed.codes),
        "cues": [dict(cue) for cue in composed.cues],
        "shapes": list(composed.shapes),
        "rules": composed.rules,
        "notice": composed.notice,
    }
    if scene.carried is not None:
        made["carried"] = sorted(scene.carried)
    return made


def composed_of(document: Document) -> Composed:
    """What was kept."""
    edition = document["edition"]
    carried = frozenset(document["carried"]) if "carried" in document else None
    return Composed(
        edition=BriefEdition(edition["number"], edition["hash"], moment_of(edition["published_us"])),
        brief=_brief(document["brief"]),
        vehicles=tuple(
            AboutVehicle(one["code"], one["revision"], one["title"], one["subtitle"], Sure(one["word"], one["said"]))
            for one in document["vehicles"]
        ),
        unlisted=Sure(document["unlisted"]["word"], document["unlisted"]["said"]),
        scene=Scene({key: Said(said) for key, said in document["scene"].items()}, carried, document["caller"]),
        codes=tuple(document["codes"]),
        cues=tuple(document["cues"]),
        shapes=tuple(document["shapes"]),
        rules=document["rules"],
        notice=document["notice"],
    )


def _sure(sure: Sure) -> dict[str, str]:
    return {"word": sure.word, "said": sure.said}


def _brief_document(brief: Brief) -> dict[str, Any]:
    return {
        "letter": brief.letter,
        "data": {"number": brief.data.number, "words": brief.data.words, "demo": brief.data.demo},
        "kind": brief.kind,
        # Seconds follow from the words; documents hold no fractions.
        "breaths": [{"key": one.key, "text": one.text, "words": one.words} for one in brief.breaths],
        "full": section_documents(brief.full),
        "sheet": section_documents(brief.sheet),
        "caller": list(brief.caller),
        "points": [
            {"key": one.key, "label": one.label, "words": one.words, "read_back": one.read_back} for one in brief.points
        ],
        "warnings": list(brief.warnings),
        "left_out": list(brief.left_out),
        "changes": [
            {"key": one.key, "label": one.label, "was": one.was, "now": one.now, "read_back": one.read_back}
            for one in brief.changes
        ],
        "read_back": list(brief.read_back),
    }


def _brief(document: Document) -> Brief:
    return Brief(
        letter=document["letter"],
        data=Data(**document["data"]),
        kind=document["kind"],
        breaths=tuple(_breaths(document["breaths"])),
        full=sections_of(document["full"]),
        sheet=sections_of(document["sheet"]),
        caller=tuple(document["caller"]),
        points=tuple(Point(**one) for one in document["points"]),
        warnings=tuple(document["warnings"]),
        left_out=tuple(document["left_out"]),
        changes=tuple(Changed(**one) for one in document["changes"]),
        read_back=tuple(document["read_back"]),
    )


def _breaths(documents: list[Document]) -> list[Breath]:
    made, before = [], 0
    for one in documents:
        start, seconds = round(before * SECONDS_A_WORD, 1), round(one["words"] * SECONDS_A_WORD, 1)
        made.append(Breath(one["key"], one["text"], one["words"], start, seconds))
        before += one["words"]
    return made


def section_documents(sections: tuple[Section, ...]) -> list[dict[str, Any]]:
    """Parts of a text as they are kept."""
    return [
        {
            "key": section.key,
            "title": section.title,
            "lines": [
                {
                    "text": line.text,
                    "lead": line.lead,
                    "level": line.level,
                    "number": line.number,
                    "key": line.key,
                    "state": line.state,
                    "src": list(line.src),
                }
                for line in section.lines
            ],
        }
        for section in sections
    ]


def sections_of(documents: list[Document]) -> tuple[Section, ...]:
    """Parts of a text that was kept."""
    return tuple(
        Section(one["key"], one["title"], tuple(Line(**{**line, "src": tuple(line["src"])}) for line in one["lines"]))
        for one in documents
    )
