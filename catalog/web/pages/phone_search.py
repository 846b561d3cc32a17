"""The search of the responder's app until its engine is on the phone: one question, one view as JSON.

Nothing of what is asked is logged, stored or counted.
"""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from flask import Blueprint, Response, jsonify, request

from catalog.errors import ChockbookError
from catalog.services.phone_search import search_for_phone
from catalog.web.errors import status_of
from catalog.web.render import house
from schemas.phone_requests import load_phone_search


def add(blueprint: Blueprint) -> None:
    """Add /phone/search."""
    blueprint.add_url_rule("/phone/search", "phone_search", _search, methods=["POST"])


def _search() -> Response:
    try:
        given: Mapping[str, Any] = load_phone_search(request.get_json(silent=True))
        made = jsonify(asdict(search_for_phone(house(), given)))
    except ChockbookError as error:
        made = jsonify({"words": error.message, "cure": error.cure})
        made.status_code = status_of(error)
    made.headers["Cache-Control"] = "no-store"
    return made
