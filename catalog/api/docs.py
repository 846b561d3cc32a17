"""The document at openapi.json and the page that reads it to people, both made from the operations.

The page needs no script and no other host. Its example answers are what the running catalogue
answers, shortened; they are made anew with each edition, so they cannot go stale.
"""

from functools import cache
from pathlib import Path

from flask import Blueprint, Flask, Response, current_app, json, render_template, request
from markupsafe import Markup, escape

from catalog.api import examples, problems, reply, tables
from catalog.api.binding import PREFIX, document
from catalog.api.operations import OPERATIONS
from catalog.domain import cautions
from catalog.services.house import House

_POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; frame-ancestors 'none'; form-action 'none'"


def serve(app: Flask) -> None:
    """Serve the document and its page."""
    kept = examples.Kept()
    blueprint = Blueprint("api_docs", __name__, url_prefix=PREFIX, template_folder="templates")
    blueprint.add_url_rule("/openapi.json", "openapi", lambda: _file(_written(), "application/json"))
    blueprint.add_url_rule("/docs", "docs", lambda: _page(kept))
    blueprint.add_url_rule("/docs.css", "style", _style)
    blueprint.add_app_template_filter(_code, "backticks")
    app.register_blueprint(blueprint)


@cache
def _written() -> str:
    return json.dumps(document(), ensure_ascii=False, sort_keys=False, indent=2)


def _code(text: str) -> Markup:
    """`x` as code, everything else escaped."""
    parts = text.split("`")
    return Markup("").join(
        Markup("<code>{}</code>").format(part) if place % 2 else escape(part) for place, part in enumerate(parts)
    )


def _style() -> Response:
    return _file((Path(__file__).parent / "static" / "docs.css").read_text("utf-8"), "text/css")


def _file(body: str, media_type: str) -> Response:
    return reply.conditional(Response(body, mimetype=media_type), reply.NEWEST)


def _page(kept: examples.Kept) -> Response:
    house: House = current_app.extensions["chockbook"]
    told = document()
    origin = f"http://127.0.0.1:{request.environ.get('SERVER_PORT', '8000')}{PREFIX}"
    made = kept.newest(house, OPERATIONS)
    entries = [
        {
            "operation": operation,
            "path": examples.path_of(operation),
            "told": told["paths"][examples.path_of(operation)][operation.method.lower()],
            "parameters": tables.parameters(told, operation),
            "fields": tables.answer_fields(told, operation),
            "curl": examples.curl(operation, made.found, origin),
            "answer": made.answers[operation.name],
            "kinds": [kind for kind in problems.KINDS if kind.status in operation.statuses],
        }
        for operation in OPERATIONS
    ]
    page = render_template(
        "api/docs.html",
        entries=entries,
        title=told["info"]["title"],
        version=told["info"]["version"],
        kinds=problems.KINDS,
        problem=examples.problem(),
        fact_fields=tables.fields(told, {"$ref": "#/components/schemas/Fact"}),
        problem_fields=tables.fields(told, {"$ref": "#/components/schemas/Problem"}),
        cautions=cautions.FULL_POSSIBLE,
        mark=cautions.DEMO_MARK if house.settings.demo else "",
    )
    response = Response(page, mimetype="text/html")
    response.headers["Content-Security-Policy"] = _POLICY
    return reply.conditional(response, reply.NEWEST)
