"""Operations of briefs and incidents."""

from catalog.api import brief_views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from schemas import briefs

_BRIEF = {"id": "The brief's id, such as B-4K7QM29XWT."}

BRIEF_OPERATIONS: tuple[Operation, ...] = (
    Operation(
        name="compose_brief", method="POST", rule="/briefs", view=brief_views.compose, right=Right.BRIEF, keyed=True,
        shown=brief_views.composed_shown, request=briefs.BriefRequest, answer=briefs.BriefAnswer, problems=(404, 409),
        example={
            "text": "white pickup, port left rear, vapour from below", "scene": {"trapped": "yes"}, "letter": "A",
            "incident": "0417",
        },
    ),
    Operation(
        name="list_briefs", method="GET", rule="/briefs", view=brief_views.list_briefs, right=Right.BRIEF,
        request=briefs.BriefsRequest, answer=briefs.BriefsAnswer, example={"day": "2026-03-02"},
    ),
    Operation(
        name="brief", method="GET", rule="/briefs/<id>", view=brief_views.brief, right=Right.BRIEF, path=_BRIEF,
        answer=briefs.BriefAnswer, problems=(404,),
    ),
    Operation(
        name="follow_up", method="POST", rule="/briefs/<id>/follow-up", view=brief_views.follow_up, right=Right.BRIEF,
        keyed=True, path=_BRIEF, request=briefs.FollowUpRequest, answer=briefs.BriefAnswer, problems=(404, 409),
        example={"scene": {"fire": "no", "water": "no"}},
    ),
    Operation(
        name="sent", method="POST", rule="/briefs/<id>/sent", view=brief_views.sent, right=Right.BRIEF, path=_BRIEF,
        request=briefs.SentRequest, answer=briefs.BriefAnswer, problems=(404,),
        example={"form": "radio", "to": "Engine 4"},
    ),
    Operation(
        name="read_back", method="POST", rule="/briefs/<id>/read-back", view=brief_views.read_back,
        right=Right.BRIEF, path=_BRIEF, request=briefs.ReadBackRequest, answer=briefs.BriefAnswer, problems=(404,),
        example={"who": "Engine 4", "words": "leave the port alone"},
    ),
    Operation(
        name="recall", method="POST", rule="/briefs/<id>/recall", view=brief_views.recall, right=Right.BRIEF,
        path=_BRIEF, request=briefs.RecallRequest, answer=briefs.BriefAnswer, problems=(404, 409),
        example={"why": "It was for vehicle B.", "instead": "Use brief B."},
    ),
    Operation(
        name="hand_over", method="POST", rule="/briefs/<id>/hand-over", view=brief_views.hand_over, right=Right.BRIEF,
        keyed=True, path=_BRIEF, request=briefs.HandOverRequest, answer=briefs.BriefAnswer, problems=(404, 409),
        example={"ticks": [{"key": "chock", "state": "done", "at": "02:55"}], "typed": {}},
    ),
    Operation(
        name="brief_link", method="POST", rule="/briefs/<id>/link", view=brief_views.link, right=Right.BRIEF,
        path=_BRIEF, answer=briefs.BriefAnswer, problems=(404,),
    ),
    Operation(
        name="incident", method="GET", rule="/incidents/<id>", view=brief_views.incident, right=Right.BRIEF,
        path={"id": "The incident's number."}, answer=briefs.IncidentAnswer, problems=(404,),
    ),
)  # fmt: skip
