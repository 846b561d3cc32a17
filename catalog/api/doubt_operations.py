"""Operations of doubt, and of who is told of it."""

from catalog.api import doubt_views as views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from schemas import doubts

_CODE = {"code": "A record's code, in any case, with or without its hyphen."}

DOUBTS: tuple[Operation, ...] = (
    Operation(
        name="newest", method="GET", rule="/editions/newest", view=views.newest,
        request=doubts.NewestRequest, answer=doubts.NewestAnswer, example={"since": 1},
    ),
    Operation(
        name="list_doubts", method="GET", rule="/doubts", view=views.list_doubts, answer=doubts.DoubtsAnswer,
    ),
    Operation(
        name="doubt", method="POST", rule="/doubts", view=views.doubt, right=Right.DOUBT,
        request=doubts.DoubtRequest, answer=doubts.DoubtedAnswer, problems=(404, 409),
        example={"code": "QK7-M3M", "path": "ports[a].place", "reason": "A crew found it on the other side."},
    ),
    Operation(
        name="fact_history", method="GET", rule="/records/<code>/fact", view=views.history_of_fact, path=_CODE,
        request=doubts.FactHistoryRequest, answer=doubts.FactHistoryAnswer, problems=(404,), sampled=("path",),
    ),
    Operation(
        name="shown", method="GET", rule="/records/<code>/shown", view=views.shown, right=Right.UPDATE, path=_CODE,
        request=doubts.ShownRequest, answer=doubts.ShownAnswer, problems=(404,), example={"path": "looks.body"},
    ),
    Operation(
        name="tell_holders", method="POST", rule="/records/<code>/shown", view=views.tell, right=Right.UPDATE,
        path=_CODE, request=doubts.TellRequest, answer=doubts.ToldAnswer, problems=(404,),
        example={"path": "looks.body", "words": "The port is on the right.", "edition": 1},
    ),
)  # fmt: skip
