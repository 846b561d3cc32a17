"""What the responder's app asks while its engine is not on the phone yet."""

from collections.abc import Mapping
from typing import Any

from marshmallow import fields

from catalog.errors import BadInput
from schemas.cue_requests import cues_field
from schemas.request_fields import Flag, loaded
from schemas.requests import ResolveRequest

_KEY = ("attribute", "values", "denied", "vehicle")


class PhoneSearchRequest(ResolveRequest):
    """A search as the app holds it: its cues are taps."""

    taps = cues_field()
    scene = fields.Dict(
        keys=fields.String(),
        values=fields.String(),
        load_default=dict,
        metadata={"cure": "Give fields of the scene, each yes, no or unknown."},
    )
    every = Flag(load_default=False, metadata={"cure": "Give true or false."})
    questions = Flag(load_default=True, metadata={"cure": "Give true or false."})


def load_phone_search(page: Any) -> Mapping[str, Any]:
    """The page's object once it is checked, as it is. Raises BadInput for the first fault."""
    if not isinstance(page, dict):
        raise BadInput("The question is not a JSON object.", cure="Load the page again.")
    struck = page.get("struck", [])
    named = [dict(zip(_KEY, key, strict=False)) if isinstance(key, list) else key for key in struck]
    given = {key: value for key, value in page.items() if key != "caller" or value}
    loaded(PhoneSearchRequest(), {**given, "struck": named})
    return page
