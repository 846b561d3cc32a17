"""Operations onto flask-smorest: routes, argument parsing, and the OpenAPI 3.1 document."""

import http
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, NoReturn

from apispec.ext.marshmallow import MarshmallowPlugin
from flask import Flask, Response, current_app, request
from flask_smorest import Api, Blueprint
from marshmallow import Schema, ValidationError
from webargs.flaskparser import FlaskParser
from werkzeug.datastructures import MultiDict
from werkzeug.exceptions import HTTPException, UnsupportedMediaType, default_exceptions

from catalog import __version__
from catalog.api import acting, components, problems, reply, requests_log
from catalog.api.operation import Operation
from catalog.api.operations import OPERATIONS
from catalog.errors import BadInput, ChockbookError
from catalog.services.acting import require
from schemas.request_fields import Refusal, Request
from schemas.requests import NoArguments

PREFIX = "/api/v1"


class Parser(FlaskParser):
    """Reads arguments; what does not fit becomes one RefusedRequest with a cure for each refusal."""

    DEFAULT_VALIDATION_STATUS = 400
    DEFAULT_UNKNOWN_BY_LOCATION: dict[str, str | None] = {}  # noqa: RUF012 - each schema says: refused

    def load_querystring(self, req: Any, schema: Schema) -> Any:
        _refuse_repeats(req.args, schema)
        return super().load_querystring(req, schema)

    def _raw_load_json(self, req: Any) -> Any:
        if not req.is_json:
            raise UnsupportedMediaType
        return super()._raw_load_json(req)

    def _handle_invalid_json_error(self, error: Any, req: Any, *args: Any, **kwargs: Any) -> NoReturn:
        where = f" at line {error.lineno}, column {error.colno}" if hasattr(error, "lineno") else ""
        raise BadInput(f"The body is not JSON{where}.", cure="Send one JSON object in UTF-8.") from error

    def handle_error(
        self, error: ValidationError, req: Any, schema: Schema, *, error_status_code: Any, error_headers: Any
    ) -> NoReturn:
        assert isinstance(schema, Request)
        assert isinstance(error.messages, dict)  # by location, as webargs puts them
        [(location, messages)] = error.messages.items()
        where = "body" if location == "json" else "query"
        raise problems.RefusedRequest(where, tuple(schema.refusals(messages))) from error


def _refuse_repeats(args: MultiDict[str, str], schema: Schema) -> None:
    twice = [name for name in args if len(args.getlist(name)) > 1 and name in schema.fields]
    if twice:
        told = tuple(Refusal(name, "Given more than once.", "Give it once.") for name in twice)
        raise problems.RefusedRequest("query", told)


class CatalogueApi(Api):  # type: ignore[misc]  # flask-smorest has no types
    """flask-smorest with RFC 9457 problems, documented as what they are."""

    ERROR_SCHEMA = problems.Problem
    DEFAULT_ERROR_RESPONSE_NAME = None  # every operation lists its problems

    def _register_error_handlers(self) -> None:
        """None for the application: the pages have their own. The blueprint's are in `_blueprint`."""

    def _register_responses(self) -> None:
        for status in http.HTTPStatus:
            told: dict[str, Any] = {"description": status.phrase}
            if status >= 400:
                told["content"] = {problems.MEDIA_TYPE: {"schema": self.ERROR_SCHEMA}}
            self.spec.components.response(status.name, told, lazy=True)

    def _register_pagination_header(self) -> None:
        """None: lists are answered in parts in the body."""


class _Blueprint(Blueprint):  # type: ignore[misc]
    ARGUMENTS_PARSER = Parser()


def bind(app: Flask) -> None:
    """Register every operation."""
    app.register_blueprint(_blueprint())


@cache
def document() -> dict[str, Any]:
    """The OpenAPI document of every operation; made when it is first asked for, and the same in every application."""
    app = Flask("document", static_folder=None, template_folder=None)
    api = CatalogueApi(
        spec_kwargs={
            "title": "Chockbook",
            "version": __version__,
            "openapi_version": "3.1.0",
            "marshmallow_plugin": MarshmallowPlugin(schema_name_resolver=components.name_of),
            "info": {"description": components.DESCRIPTION, "license": components.LICENSE},
        }
    )
    api.init_app(app)
    components.add(api.spec)
    api.register_blueprint(_blueprint())
    told: dict[str, Any] = api.spec.to_dict()
    for path in told["paths"].values():
        for operation in path.values():
            if isinstance(operation, dict):
                # The good answer before the problems.
                operation["responses"] = dict(sorted(operation["responses"].items()))
    return told


@cache
def _blueprint() -> Any:
    blueprint = _Blueprint("api", __name__, url_prefix=PREFIX, description="The catalogue, version 1.")
    for operation in OPERATIONS:
        _add(blueprint, operation)
    blueprint.before_request(_allowed)
    # By code, so that no handler of the application for that code comes first.
    for code in default_exceptions:
        blueprint.register_error_handler(code, _refuse)
    blueprint.register_error_handler(HTTPException, _refuse)
    blueprint.register_error_handler(ChockbookError, _refuse)
    blueprint.register_error_handler(Exception, _refuse)
    return blueprint


def _allowed() -> None:
    """Whoever may not ask is told so before anything of what was sent is looked at."""
    name = (request.endpoint or "").removeprefix("api.")
    asked = next((operation for operation in OPERATIONS if operation.name == name), None)
    if asked and asked.right:
        require(acting.actor(), asked.right)
    if asked and asked.files:
        # Only now, and only here: nothing else makes the server take so much.
        request.max_content_length = asked.largest
        if request.mimetype not in asked.files:
            raise problems.NotAFile(request.mimetype)


def _refuse(error: Exception) -> Any:
    if isinstance(error, HTTPException) and (error.code or 500) < 400:
        return error
    if problems.kind_of(error).status >= 500:
        requests_log.log_failure(error)
    return problems.respond(error)


def _add(blueprint: Any, operation: Operation) -> None:
    view: Any = _endpoint(operation)
    answer = operation.answer
    view = blueprint.response(
        200, answer, content_type=operation.media_type, description="The answer.", headers=components.headers(operation)
    )(view)
    if operation.method == "GET":
        view = blueprint.alt_response(304, response="NOT_MODIFIED")(view)
    for status in operation.statuses:
        view = blueprint.alt_response(status, response=http.HTTPStatus(status).name)(view)
    if operation.takes_json:
        view = blueprint.arguments(operation.request, location="json", example=dict(operation.example))(view)
    # A query string beside a body is refused too: nothing sent may be passed over in silence.
    query = NoArguments if operation.takes_json else operation.request
    view = blueprint.arguments(query, location="query")(view)
    told = {**components.security(operation), **components.file_body(operation)}
    view = blueprint.doc(operationId=operation.name, **told)(view)
    blueprint.add_url_rule(
        operation.rule,
        operation.name,
        view,
        methods=[operation.method],
        parameters=components.parameters(operation),
    )


def _endpoint(operation: Operation) -> Callable[..., Response]:
    def run(*parts: Mapping[str, Any], **path: Any) -> Response:
        house = current_app.extensions["chockbook"]
        given = {**path, **{name: value for part in parts for name, value in part.items()}}
        if operation.right:
            given["actor"] = require(acting.actor(), operation.right)
        if operation.files:
            given["file"] = request.get_data(cache=False)
        if operation.keyed:
            given["key"] = request.headers.get(components.KEY, "").strip().strip('"')
        return reply.respond(operation.view(house, given), operation.media_type)

    run.__name__ = operation.name
    run.__doc__ = operation.view.__doc__
    return run
