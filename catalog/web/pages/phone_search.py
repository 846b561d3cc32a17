"""The search of the responder's app until its engine is on the phone: one question, one view as JSON.

What is asked is what the API takes. Nothing of it is logged, stored or counted.
"""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from flask import Blueprint, Response, jsonify, request

from catalog.errors import BadInput, Unavailable
from catalog.resolve.answering.asked import Answers
from catalog.services.amending import amendments_of
from catalog.services.resolving import Description, resolve_description
from catalog.web.answers import results
from catalog.web.errors import status_of
from catalog.web.phone_view import search_view
from catalog.web.posted import Posted
from catalog.web.render import house
from schemas.request_fields import loaded
from schemas.requests import ResolveRequest

LISTED = 20


def add(blueprint: Blueprint) -> None:
    """Add /phone/search."""
    blueprint.add_url_rule("/phone/search", "phone_search", _search, methods=["POST"])


def _search() -> Response:
    try:
        made = jsonify(_found(request.get_json(silent=True)))
    except (BadInput, Unavailable) as error:
        made = jsonify({"words": error.message, "cure": error.cure})
        made.status_code = status_of(error)
    made.headers["Cache-Control"] = "no-store"
    return made


def _found(body: Any) -> Mapping[str, Any]:
    """Raises BadInput, Unavailable."""
    if not isinstance(body, dict):
        raise BadInput("The question is not a JSON object.", cure="Load the page again.")
    given = loaded(ResolveRequest(), body)
    answers = Answers(given["answers"], tuple(given["excluded"]), given.get("caller"))
    asked = Description(
        given["text"],
        limit=LISTED,
        include=frozenset({"groups", "questions"}),
        amendments=amendments_of(given),
        answers=answers,
    )
    answer = resolve_description(house(), asked)
    return asdict(search_view(answer, results(answer, Posted(given["text"], (), answers, frozenset()))))
