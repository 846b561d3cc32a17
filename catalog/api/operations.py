"""Every operation of the API, in the order of the docs page."""

from catalog.api import drawing_views, export_views, people_views, views
from catalog.api.brief_operations import BRIEF_OPERATIONS
from catalog.api.doubt_operations import DOUBTS
from catalog.api.import_operations import IMPORTS
from catalog.api.operation import Operation
from catalog.api.review_operations import REVIEW
from catalog.api.work_operations import WORK
from catalog.domain.roles import Right
from schemas import answers, cue_answers, drawings, fact_answers, history, outcomes, part_requests, people, requests
from schemas import steps as step_schemas

_CODE = {"code": "A record's code, in any case, with or without its hyphen."}
_LAST = requests.LAST_EDITION

OPERATIONS: tuple[Operation, ...] = (
    Operation(
        name="resolve", method="POST", rule="/resolve", view=views.resolve,
        request=requests.ResolveRequest, answer=answers.ResolveAnswer,
        example={
            "text": "white pickup, port left rear", "limit": 3, "include": ["why", "facts", "groups", "questions"],
            "answers": {"tailpipe": "none", "roof": "cannot_tell"}, "caller": "away",
        },
    ),
    Operation(
        name="read", method="POST", rule="/read", view=views.read,
        request=requests.ReadRequest, answer=cue_answers.ReadAnswer,
        example={
            "text": "white van, no smoke, port left rear, ring me on 07700 900123",
            "cues": [
                {
                    "attribute": "body", "values": ["pickup"],
                    "instead_of": {"attribute": "body", "values": ["van"]},
                }
            ],
            "struck": [{"attribute": "colour", "values": ["white"]}],
        },
    ),
    Operation(
        name="steps", method="POST", rule="/steps", view=views.steps,
        request=step_schemas.StepsRequest, answer=step_schemas.StepsAnswer, problems=(404,),
        example={
            "text": "Muldrake electric pickup on a slope, no smoke, no flames", "scene": {"water": "no"},
            "carried": ["ccs1", "type1"],
        },
    ),
    Operation(
        name="outcome", method="POST", rule="/outcomes", view=views.outcome,
        request=outcomes.OutcomeRequest, answer=outcomes.OutcomeAnswer, problems=(404, 409),
        shown=views.outcome_shown,
        example={
            "id": "k3VvX0cQ9b2LrT7mZ4aP1w8E", "edition": 1, "outcome": "not_listed", "proof": "badge",
            "cues": [{"attribute": "body", "values": ["pickup"]}],
        },
    ),
    *BRIEF_OPERATIONS,
    Operation(
        name="list_records", method="GET", rule="/records", view=views.list_records,
        request=requests.RecordsRequest, answer=answers.RecordsAnswer, problems=(404,), example={"limit": 2},
    ),
    Operation(
        name="record", method="GET", rule="/records/<code>", view=views.record, path=_CODE,
        request=requests.RecordRequest, answer="Record", problems=(404,), example={"edition": 1},
    ),
    Operation(
        name="strip", method="GET", rule="/records/<code>/strip", view=drawing_views.strip, path=_CODE,
        request=drawings.StripRequest, answer=drawings.StripAnswer, problems=(404,), example={"posture": "left_down"},
    ),
    Operation(
        name="history", method="GET", rule="/records/<code>/history", view=views.history_of, path=_CODE,
        request=part_requests.PartRequest, answer=history.HistoryAnswer, problems=(404,), example={"limit": 2},
    ),
    Operation(
        name="lookalikes", method="GET", rule="/records/<code>/lookalikes", view=views.lookalikes, path=_CODE,
        request=requests.LookalikesRequest, answer=fact_answers.LookalikesAnswer, problems=(404,),
        example={"observer": "crew", "limit": 2},
    ),
    Operation(
        name="list_editions", method="GET", rule="/editions", view=views.list_editions,
        request=part_requests.LongPartRequest, answer=answers.EditionsAnswer, example={"limit": 2},
    ),
    Operation(
        name="changes", method="GET", rule=f"/editions/<int(min=1, max={_LAST}):a>/changes", view=views.changes,
        path={"a": "The edition to compare from."}, request=requests.ChangesRequest, answer=history.ChangesAnswer,
        problems=(404,), sampled=("to",),
    ),
    Operation(
        name="find", method="GET", rule="/find", view=views.find,
        request=requests.FindRequest, answer=answers.FindAnswer, example={"q": "cut loop", "limit": 2},
    ),
    Operation(
        name="sayings", method="GET", rule="/sayings", view=views.sayings,
        request=requests.SayingsRequest, answer=cue_answers.SayingsAnswer,
        example={"about": "tailpipe", "words": "exhaust"},
    ),
    Operation(
        name="source", method="GET", rule="/sources/<number>/<issue>", view=views.source,
        path={"number": "The document number.", "issue": "Its issue."}, answer=answers.SourceAnswer, problems=(404,),
    ),
    Operation(
        name="schema", method="GET", rule="/schema", view=views.schema, answer="RecordSchema",
        media_type="application/schema+json",
    ),
    Operation(
        name="export", method="GET", rule="/export", view=export_views.export, right=Right.UPDATE,
        request=requests.ExportRequest, answer="ExportFile", problems=(404,), example={"format": "xlsx"},
        media_type="application/octet-stream",
    ),
    Operation(
        name="trail", method="GET", rule="/trail", view=people_views.trail, shown=people_views.trail_shown,
        right=Right.ADMINISTER, request=people.TrailRequest, answer=people.TrailAnswer,
        example={"action": "account add"},
    ),
    *IMPORTS,
    *REVIEW,
    *DOUBTS,
    *WORK,
)  # fmt: skip
