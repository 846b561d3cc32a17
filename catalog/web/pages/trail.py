"""The trail of who did what, for administrators and approvers."""

import json
from collections.abc import Iterator

from flask import Blueprint, Response, request, stream_with_context

from catalog.services.trail import TrailAsked, export_trail, read_trail, value_words
from catalog.web.acting import actor
from catalog.web.errors import answered
from catalog.web.paging import asked_part, one_page
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /steward/trail and its file."""
    blueprint.add_url_rule("/steward/trail", "trail", _trail)
    blueprint.add_url_rule("/steward/trail.jsonl", "trail_file", _file, methods=["POST"])


def _trail() -> Response:
    asked = TrailAsked(*(request.args.get(name, "").strip() for name in ("person", "action", "day")))
    offset, limit = asked_part()
    part = read_trail(house(), actor(), asked, offset // limit + 1, limit)
    shown = one_page(part.entries, offset, part.total)
    html = page("trail.html", part=part, paged=shown, asked=asked, value_words=value_words)
    return answered(html, kept=False)


def _file() -> Response:
    """One entry a line. That it was taken out is in the trail itself, so it is posted for."""
    documents = export_trail(house(), actor(), TrailAsked())

    def lines() -> Iterator[str]:
        for document in documents:
            yield json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n"

    made = Response(stream_with_context(lines()), mimetype="application/jsonl")
    made.headers["Content-Disposition"] = 'attachment; filename="trail.jsonl"'
    made.headers["Cache-Control"] = "no-store"
    return made
