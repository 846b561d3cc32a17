"""The document at openapi.json and the page that reads it to people, both made from the operations.

The page needs no script and no other host. Its example answers are what the running catalogue
answers, shortened; they are made anew with each edition, so they cannot go stale.
"""

from pathlib import Path
from typing import Any

from flask import Blueprint, Flask, Response, current_app, json, render_template, request
from markupsafe import Markup, escape

from catalog.api import examples, problems, reply, tables
from catalog.api.operations import OPERATIONS
from catalog.domain import cautions
from catalog.services.house import House

PREFIX = "/api/v1"
_POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; frame-ancestors 'none'; form-action 'none'"


def serve(app: Flask, spec: Any) -> None:
    """Serve the document and its page. spec: the finished APISpec."""
    document = _in_order(spec.to_dict())
    body = json.dumps(document, ensure_ascii=False, sort_keys=False, indent=2)
    kept = examples.Kept()
    blueprint = Blueprint("api_docs", __name__, url_prefix=PREFIX, template_folder="templates")
    blueprint.add_url_rule("/openapi.json", "openapi", lambda: _file(body, "application/json"))
    blueprint.add_url_rule("/docs", "docs", lambda: _page(document, kept))
    blueprint.add_url_rule("/docs.css", "style", _style)
    blueprint.add_app_template_filter(_code, "backticks")
    app.register_blueprint(blueprint)


def _in_order(document: dict[str, Any]) -> dict[str, Any]:
    """The document with the good answer before the problems."""
    for path in document["paths"].values():
        for operation in path.values():
            if isinstance(operation, dict):
                operation["responses"] = dict(sorted(operation["responses"].items()))
    return document


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


def _page(document: dict[str, Any], kept: examples.Kept) -> Response:
    house: House = current_app.extensions["chockbook"]
    origin = f"http://127.0.0.1:{request.environ.get('SERVER_PORT', '8000')}{PREFIX}"
    made = kept.newest(house, OPERATIONS)
    entries = [
        {
            "operation": operation,
            "path": examples.path_of(operation),
            "told": document["paths"][examples.path_of(operation)][operation.method.lower()],
            "parameters": tables.parameters(document, operation),
            "fields": tables.answer_fields(document, operation),
            "curl": examples.curl(operation, made.found, origin),
            "answer": made.answers[operation.name],
            "kinds": [kind for kind in problems.KINDS if kind.status in operation.statuses],
        }
        for operation in OPERATIONS
    ]
    page = render_template(
        "api/docs.html",
        entries=entries,
        title=document["info"]["title"],
        version=document["info"]["version"],
        kinds=problems.KINDS,
        problem=examples.problem(),
        fact_fields=tables.fields(document, {"$ref": "#/components/schemas/Fact"}),
        problem_fields=tables.fields(document, {"$ref": "#/components/schemas/Problem"}),
        cautions=cautions.FULL_POSSIBLE,
        mark=cautions.DEMO_MARK if house.settings.demo else "",
    )
    response = Response(page, mimetype="text/html")
    response.headers["Content-Security-Policy"] = _POLICY
    return reply.conditional(response, reply.NEWEST)
