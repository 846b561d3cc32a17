"""Operations of review and publication."""

from catalog.api import review_views as views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from schemas import requests, review
from schemas import review_requests as asked

_LAST = requests.LAST_EDITION
_UPDATE = f"/updates/<int(min=1, max={_LAST}):update>"
_RECORD = f"{_UPDATE}/records/<code>"
_NUMBER = {"update": "The number of a guide update."}
_ONE = {**_NUMBER, "code": "A record's code, in any case, with or without its hyphen."}

REVIEW: tuple[Operation, ...] = (
    Operation(
        name="list_updates", method="GET", rule="/updates", view=views.list_updates, right=Right.UPDATE,
        request=asked.UpdatesRequest, answer=review.UpdatesAnswer, example={"state": "open"},
    ),
    Operation(
        name="update", method="GET", rule=_UPDATE, view=views.update, right=Right.UPDATE, path=_NUMBER,
        request=asked.UpdateRequest, answer=review.UpdateViewAnswer, problems=(404,), example={"only": "critical"},
    ),
    Operation(
        name="update_record", method="GET", rule=_RECORD, view=views.update_record, right=Right.UPDATE, path=_ONE,
        answer=review.RecordReviewAnswer, problems=(404,),
    ),
    Operation(
        name="decide", method="POST", rule=f"{_RECORD}/decisions", view=views.decide, right=Right.UPDATE, path=_ONE,
        request=asked.DecisionRequest, answer=review.RecordReviewAnswer, problems=(404, 409),
        example={"kind": "accept", "path": "cutoff.methods[b].wait"},
    ),
    Operation(
        name="edit", method="POST", rule=f"{_RECORD}/edits", view=views.edit, right=Right.UPDATE, path=_ONE,
        request=asked.EditRequest, answer=review.RecordReviewAnswer, problems=(404, 409),
        example={
            "path": "cutoff.methods[b].wait", "fact": {"value": 60, "src": ["OPH-204/2:9"]},
            "words": "The guide says 60 s.",
        },
    ),
    Operation(
        name="rebase", method="POST", rule=f"{_RECORD}/rebase", view=views.rebase, right=Right.UPDATE, path=_ONE,
        answer=review.RecordReviewAnswer, problems=(404, 409),
    ),
    Operation(
        name="set_aside", method="POST", rule=f"{_UPDATE}/aside", view=views.set_aside, right=Right.UPDATE,
        path=_NUMBER, request=asked.WordsRequest, answer=review.UpdateViewAnswer, problems=(404, 409),
        example={"words": "The maker took the guide back."},
    ),
    Operation(
        name="check_publication", method="POST", rule="/publications/check", view=views.check, right=Right.UPDATE,
        request=asked.CheckRequest, answer=review.GatesAnswer, problems=(404, 409), example={"updates": [1]},
    ),
    Operation(
        name="publish", method="POST", rule="/publications", view=views.publish, right=Right.APPROVE,
        request=asked.PublishRequest, answer=review.PublishedAnswer, problems=(404, 409),
        example={"updates": [1], "note": "Issue 2 of the guide: the cut point has moved."},
    ),
    Operation(
        name="go_back", method="POST", rule="/publications/back", view=views.back, right=Right.APPROVE,
        request=asked.BackRequest, answer=review.PublishedAnswer, problems=(404, 409),
        example={"edition": 1, "reason": "The new guide was for another vehicle."},
    ),
    Operation(
        name="change_file", method="GET", rule=f"/editions/<int(min=0, max={_LAST}):a>/changes/file",
        view=views.change_file, path={"a": "The edition to follow from; 0 for all of it."},
        request=requests.ChangesRequest, answer=review.ChangeFileAnswer, problems=(404,), sampled=("to",),
    ),
    Operation(
        name="watched", method="GET", rule="/watched", view=views.watched, right=Right.UPDATE,
        answer=review.WatchListAnswer,
    ),
    Operation(
        name="watch", method="POST", rule="/watched", view=views.watch, right=Right.UPDATE,
        request=asked.WatchRequest, answer=review.WatchListAnswer, problems=(404, 409),
        example={"text": "white pickup, port left rear", "code": "QPW-TF3", "rank": 3},
    ),
    Operation(
        name="unwatch", method="POST", rule="/watched/ended", view=views.unwatch, right=Right.UPDATE,
        request=asked.UnwatchRequest, answer=review.WatchListAnswer, problems=(404, 409),
        example={"number": 1, "reason": "The vehicle is not on our roads any more."},
    ),
)  # fmt: skip
