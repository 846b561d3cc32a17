"""Views made by hand for the tests of the terminal's pages."""

from datetime import UTC, datetime

from catalog.domain.documents import record_from_document
from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.chances import Chance
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.chance import frequency, word
from catalog.resolve.cue import Cue, Span
from catalog.services.views import Answer, EditionView, RecordView

EDITION = EditionView(2, "ab" * 32, datetime(2026, 3, 2, 9, 30, tzinfo=UTC), "R. Quill", "A cut point moved.", 14)

DOCUMENT = {
    "format": 1,
    "identity": {
        "make": "Corrabeck",
        "model": "Trundlock",
        "propulsion": "battery",
        "category": "N1",
        "years": {"from": 2023},
        "steering": ["right"],
        "markets": ["britain_ireland"],
        "src": ["CMJ-52/1:3"],
    },
    "looks": {"body": {"value": "pickup", "src": ["CMJ-52/1:3"]}},
    "ports": [
        {"id": "a", "place": {"value": {"side": "left", "end": "rear_quarter", "level": "mid"}, "src": ["CMJ-52/1:7"]}}
    ],
    "motion": {
        "switch_off": {"value": "Hold OFF for 5 seconds", "src": ["CMJ-52/1:5"]},
        "selector": {"value": "dial", "src": ["CMJ-52/1:5"]},
        "engine_autostart": {"fitted": False, "src": ["CMJ-52/1:6"]},
        "coupled": {
            "selects_park": {
                "disputed": [{"value": True, "src": ["CMJ-52/1:5"]}, {"value": False, "src": ["CRW-19/1"]}]
            }
        },
    },
    "restraints": {
        "airbags": [{"id": "d", "kind": {"value": "driver", "src": ["CMJ-52/1:13"]}}],
        "active_bonnet": {"value": True, "fit": "some", "depends": "option pack", "src": ["CMJ-52/1:13"]},
    },
    "complete": {"energy.tanks": {"value": True, "src": ["CMJ-52/1:11"]}},
}

RECORD_VIEW = RecordView(
    code="QK7-M2T",
    edition=EDITION,
    latest=3,
    seq=2,
    hash="cd" * 32,
    record=record_from_document(DOCUMENT),
    document=DOCUMENT,
    sources={},
)


def chance(probability: float) -> Chance:
    return Chance(probability, word(probability), frequency(probability))


def candidate(title: str, probability: float, subtitle: str = "battery electric pickup, 2023 on") -> Candidate:
    return Candidate("QK7-M2T", title, subtitle, chance(probability), "body pickup, as said")


def answer(*candidates: Candidate, unlisted: float = 0.12, others: float = 0.0, message: str = "") -> Answer:
    return Answer(
        edition=EDITION,
        text="white pickup zorble",
        cues=(
            CueView(Cue("colour", ("white",), (Span(0, 5),), "white"), "colour white", False, "0 bits: any paint"),
            CueView(Cue("body", ("pickup",), (Span(6, 12),), "pickup"), "body pickup", True),
        ),
        unread=(Span(13, 19),),
        candidates=candidates,
        others=others,
        others_count=10,
        unlisted=chance(unlisted),
        calibration="expert",
        message=message,
        driving_side="left",
    )
