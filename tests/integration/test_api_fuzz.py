"""Every operation under generated requests, good and bad, held to the API's own document.

schemathesis makes the requests from the document and checks the answers: status documented, content
type, headers and body as documented, bad requests refused, good ones not, no server error.
"""

from collections import Counter
from functools import cache
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import load_all_checks
from schemathesis.specs.openapi.checks import positive_data_acceptance

from catalog.api import examples
from catalog.api.operations import OPERATIONS
from catalog.services.records import read_record
from schemas.requests import NoArguments
from tests.integration.api_demo import demo_app

pytestmark = pytest.mark.usefixtures("served_demo")

EXAMPLES = 12
load_all_checks()
answered: Counter[tuple[str, int]] = Counter()


@cache
def document() -> Any:
    return schemathesis.openapi.from_wsgi("/api/v1/openapi.json", demo_app())


@cache
def real() -> dict[str, Any]:
    """Path parameters that lead somewhere."""
    house = demo_app().extensions["chockbook"]
    found = examples.sample(house)
    return {**found, "revision": read_record(house, str(found["code"])).hash}


def requests(name: str) -> st.SearchStrategy[Any]:
    """Good and bad requests of an operation, a third of them with a path that leads somewhere."""
    operation = document().find_operation_by_id(name)
    found = [operation.as_strategy(generation_mode=mode) for mode in GenerationMode]
    declared = next(entry for entry in OPERATIONS if entry.name == name)
    if declared.path and not declared.right:
        path = {key: real()[key] for key in declared.path}
        query = {key: real()[key] for key in declared.sampled}
        found.append(operation.as_strategy(path_parameters=path, query=query or None))
    # Few bodies name an edition that there is.
    if declared.shown is not None and declared.method == "POST" and not declared.files:
        there = {key: real()[key] for key in ("code", "revision") if key in declared.example}
        found.append(operation.as_strategy(body={**declared.example, **there}))
    return st.one_of(found)


@pytest.mark.parametrize("name", [operation.name for operation in OPERATIONS])
def test_every_answer_is_as_documented(name: str) -> None:
    declared = next(entry for entry in OPERATIONS if entry.name == name)

    @seed(9457)
    @settings(max_examples=EXAMPLES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(requests(name))
    def run(case: Any) -> None:
        response = case.call()
        answered[name, response.status_code] += 1
        # That edition and at exclude each other is more than OpenAPI can say of a query string; which values
        # go with which attribute of a cue, which answers with which question, which fields a scene has, and what is a
        # record's code is more than it says here.
        both = {"edition", "at"} <= set(case.query or ())
        told = ("cues", "struck", "answers", "excluded", "scene", "codes")
        cues = isinstance(case.body, dict) and any(case.body.get(name) for name in told)
        # Nor does it say what a bearer token holds.
        # Nor what is a photo, and that its report came first.
        loose = both or cues or declared.right or declared.files
        case.validate_response(response, excluded_checks=[positive_data_acceptance] if loose else None)

    run()
    assert not [status for called, status in answered if called == name and status >= 500]
    # Who asks is nobody here: what needs a right is refused, whatever is sent. tests of each service have the rest.
    # The demo holds no guide's file and no report: test_source_file_api and test_report_photos have those answers.
    absent = name in ("source_file", "report_photo")
    assert answered[name, 401 if declared.right else 404 if absent else 200]
    assert not declared.right or not answered[name, 200]


def test_every_operation_that_takes_something_was_also_given_what_it_refuses() -> None:
    refused = {name for name, status in answered if 400 <= status < 500}
    takes = {entry.name for entry in OPERATIONS if entry.path or entry.request is not NoArguments or entry.right}
    assert takes <= refused, takes - refused
    print(f"\n{sum(answered.values())} generated requests: {dict(sorted(answered.items()))}")
