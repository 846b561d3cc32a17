"""What an operation of the API is: one row from which route, document and docs page are made."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from marshmallow import Schema

from catalog.api.problems import LARGEST_FILE
from catalog.api.reply import Reply
from catalog.domain.roles import Right
from catalog.services.house import House
from schemas.request_fields import Request
from schemas.requests import NoArguments

View = Callable[[House, Mapping[str, Any]], Reply]


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation. The view's docstring is its summary and description.

    rule: Flask rule below /api/v1. request: schema of the query, or of the body when method is
    POST. answer: schema, or the name of a component. problems: statuses besides 400, 500 and 503.
    path: what the path's parameters are, by name. example: arguments of the example request;
    path parameters and those named in `sampled` are taken from the running catalogue. shown: the view that
    answers the docs page's example where asking would write something down or needs somebody signed in. right: what
    whoever asks must have; the view's arguments then hold "actor", and 401 and 403 are among the problems. keyed: takes
    an Idempotency-Key header, which the view's arguments hold as "key". files: media types of a file that is the body
    of a POST, which the view's arguments hold as "file"; request is then the schema of the query. largest: bytes of it.
    """

    name: str
    method: str
    rule: str
    view: View
    answer: type[Schema] | str
    request: type[Request] = NoArguments
    problems: tuple[int, ...] = ()
    path: Mapping[str, str] = field(default_factory=dict)
    example: Mapping[str, Any] = field(default_factory=dict)
    sampled: tuple[str, ...] = ()
    shown: View | None = None
    media_type: str = "application/json"
    right: Right | None = None
    keyed: bool = False
    files: tuple[str, ...] = ()
    largest: int = LARGEST_FILE

    @property
    def takes_json(self) -> bool:
        """Whether the body is a JSON document."""
        return self.method == "POST" and not self.files

    @property
    def statuses(self) -> tuple[int, ...]:
        """Every problem status the operation may answer with."""
        return tuple(sorted({400, 500, 503, *self.problems, *self._of_method, *self._of_right}))

    @property
    def _of_method(self) -> tuple[int, ...]:
        return (413, 415) if self.method == "POST" else ()

    @property
    def _of_right(self) -> tuple[int, ...]:
        return (401, 403) if self.right else ()
