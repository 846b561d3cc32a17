"""Operations of crew reports and the work list."""

from catalog.api import work_views as views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from schemas import reports, source_list

WORK: tuple[Operation, ...] = (
    Operation(
        name="report", method="POST", rule="/reports", view=views.report, shown=views.report_shown,
        request=reports.ReportRequest, answer=reports.ReportAnswer, problems=(404, 409),
        example={
            "id": "k3VvX0cQ9b2LrT7mZ4aP1w8E", "device": "p8Qd2LrT7mZ4aP1w8Ek3VvX0", "code": "QK7-M3M",
            "path": "ports[a].place", "revision": "0" * 64, "words": "The port is on the other side.",
        },
    ),
    Operation(
        name="work", method="GET", rule="/work", view=views.work, right=Right.UPDATE,
        request=reports.WorkRequest, answer=reports.WorkAnswer, example={"kind": "report"},
    ),
    Operation(
        name="decide_work", method="POST", rule="/work/decisions", view=views.decide_work, right=Right.UPDATE,
        request=reports.WorkDecisionRequest, answer=reports.WorkEntryAnswer, problems=(404, 409),
        example={"entry": "report/k3VvX0cQ9b2LrT7mZ4aP1w8E", "action": "close", "reason": "Checked: it is as stated."},
    ),
    Operation(
        name="list_sources", method="GET", rule="/sources", view=views.list_sources,
        request=source_list.SourcesRequest, answer=source_list.SourcesAnswer, example={"sort": "facts", "limit": 2},
    ),
)  # fmt: skip
