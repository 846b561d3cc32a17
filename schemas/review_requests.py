"""What the API accepts about guide updates, decisions, publication and the watch list."""

from collections.abc import Mapping
from typing import Any

from marshmallow import fields, validate

from schemas.cue_requests import MOST_CUES, CueSaid, whole_text
from schemas.part_requests import part_fields
from schemas.request_fields import OneOf, Request, Whole, list_of, loaded
from schemas.requests import LAST_EDITION

STATES = ("open", "published", "set aside")
SORTS = ("newest", "oldest", "name", "less cautious")
RECORD_SORTS = ("pressing", "title", "code", "changes")
ONLY = ("critical", "less", "moved")
KINDS = ("accept", "reject", "comment")
LONGEST_WORDS = 2000


def _text(description: str, cure: str, longest: int = LONGEST_WORDS, **more: Any) -> Any:
    needed = {"required": True} if more.pop("required", False) else {"load_default": more.pop("default", "")}
    return fields.String(
        **needed,
        validate=[validate.Length(max=longest, error="Longer than {max} characters."), whole_text],
        error_messages={"required": "Missing.", "null": "Null is not text.", "invalid": "Not text."},
        metadata={"description": description, "cure": cure, **more},
    )


def _one_of(words: tuple[str, ...], description: str, default: str = "") -> Any:
    allowed = words if default else ("", *words)
    return fields.String(
        load_default=default,
        validate=OneOf(allowed),
        metadata={"description": description, "cure": f"Use one of: {', '.join(words)}; or leave it out."},
    )


class UpdatesRequest(Request):
    """Which guide updates."""

    state = _one_of(STATES, "Only those that stand so.")
    words = _text("In the name or the author.", "Give a part of the name.", 200)
    sort = _one_of(SORTS, "In which order.", SORTS[0])
    offset, limit = part_fields()


class UpdateRequest(Request):
    """Which records of a guide update."""

    state = _text("Only records that stand so, such as open.", "Give a state named in an answer.", 40)
    only = _one_of(ONLY, "Only records with safety-critical changes, with less cautious ones, or that have moved on.")
    words = _text("In the record's title or code.", "Give a part of it.", 200)
    sort = _one_of(RECORD_SORTS, "In which order.", RECORD_SORTS[0])
    offset, limit = part_fields()


class DecisionRequest(Request):
    """What is decided of a record or of one field of it."""

    kind = fields.String(
        required=True,
        validate=OneOf(KINDS),
        error_messages={"required": "Missing.", "null": "Null is no decision.", "invalid": "Not text."},
        metadata={
            "description": "accept, reject or comment. A safety-critical change is accepted by another person than "
            "the one who brought it in or edited it.",
            "cure": f"Use one of: {', '.join(KINDS)}.",
        },
    )
    path = _text("One field, as the update names it; left out: the whole record.", "Name a field it changes.", 200)
    words = _text("Why, or the comment.", "Say it in at most 2,000 characters.")
    change = _text(
        "What was looked at, as the answer named it: if it is another by now, nothing is decided.",
        "Send `change` of the answer back, or leave it out.",
        64,
    )


class EditRequest(Request):
    """Another value in a field's place."""

    path = _text("The field.", "Name a field it changes.", 200, required=True)
    fact = fields.Dict(
        load_default=None,
        allow_none=True,
        error_messages={"invalid": "Not an object."},
        metadata={
            "description": 'As a record holds it, such as {"value": 60, "src": ["OPH-204/2:9"]}; null: not stated.',
            "cure": "Give the fact as the record's schema says, or null.",
        },
    )
    words = _text("Why.", "Say it in at most 2,000 characters.")
    change = _text("What was looked at.", "Send `change` of the answer back, or leave it out.", 64)


class WordsRequest(Request):
    """Why."""

    words = _text("Why.", "Say it in at most 2,000 characters.", required=True)


class CheckRequest(Request):
    """What would be published."""

    updates = fields.List(
        Whole(
            validate=validate.Range(min=1, max=LAST_EDITION, error="Not {min} to {max}."),
            metadata={"cure": "Give the number of a guide update."},
        ),
        required=True,
        validate=validate.Length(min=1, max=50, error="Must hold {min} to {max}."),
        error_messages={"required": "Missing.", "null": "Null is not a list.", "invalid": "Not a list."},
        metadata={"description": "Numbers of guide updates.", "cure": "Give the numbers of 1 to 50 updates."},
    )


class PublishRequest(CheckRequest):
    """What is published, and why."""

    note = _text("The edition's note: what changes and why.", "Say it in at most 2,000 characters.", required=True)
    overrides = fields.Dict(
        keys=fields.String(),
        values=fields.String(),
        load_default=dict,
        error_messages={"null": "Null is not an object.", "invalid": "Not an object of texts."},
        metadata={
            "description": "Why to publish although a check blocks, by the check's key; only the watch list can be.",
            "cure": 'Give {"watch list": "why"}, or leave it out.',
        },
    )


class BackRequest(Request):
    """Which edition to go back to, and why."""

    edition = Whole(
        required=True,
        validate=validate.Range(min=1, max=LAST_EDITION, error="Not {min} to {max}."),
        error_messages={"required": "Missing.", "null": "Null is not a number."},
        metadata={"description": "Its members are published again.", "cure": "Give the number of an edition."},
    )
    reason = _text("Why.", "Say it in at most 2,000 characters.", required=True)


class WatchRequest(Request):
    """A description that must go on finding a record."""

    text = _text("The description: read and forgotten, its cues are kept.", "Say what tells vehicles apart.")
    cues = list_of(
        fields.Nested(CueSaid),
        MOST_CUES,
        "cues",
        description="Cues as an answer understood them, with a text or without one.",
        cure='Give a list of cues such as {"attribute": "body", "values": ["pickup"]}, or leave it out.',
    )
    code = _text("The record it must find.", "Give a record's code.", 16, required=True)
    rank = Whole(
        load_default=3,
        validate=validate.Range(min=1, max=10, error="Not {min} to {max}."),
        error_messages={"null": "Null is not a number."},
        metadata={"description": "Among so many first.", "cure": "Give 1 to 10."},
    )
    name = _text("What it is called; left out, what was understood.", "Say it in at most 200 characters.", 200)


def load_watch(given: Mapping[str, Any]) -> dict[str, Any]:
    """A watch-list entry from elsewhere than a request. Raises BadInput for the first fault."""
    return loaded(WatchRequest(), given)


class UnwatchRequest(Request):
    """Which entry is watched no more, and why."""

    number = Whole(
        required=True,
        validate=validate.Range(min=1, max=LAST_EDITION, error="Not {min} to {max}."),
        error_messages={"required": "Missing.", "null": "Null is not a number."},
        metadata={"description": "The entry's number.", "cure": "Give a number of the watch list."},
    )
    reason = _text("Why.", "Say it in at most 2,000 characters.", required=True)
