"""Operations of crew reports and the work list."""

from catalog.api import work_views as views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from catalog.services import report_photos, sources
from schemas import reports, source_list

PHOTOS = ("image/jpeg", "image/png", "image/webp")
_FILE = "/sources/<number>/<issue>/file"
_SOURCE = {"number": "The document number.", "issue": "Its issue."}

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
        name="report_photo", method="POST", rule="/reports/<report>/photo", view=views.report_photo,
        shown=views.report_photo_shown, request=reports.PhotoRequest, answer=reports.ReportAnswer, problems=(404, 409),
        files=PHOTOS, largest=report_photos.LARGEST, path={"report": "The id that the report was sent under."},
        example={"device": "p8Qd2LrT7mZ4aP1w8Ek3VvX0"},
    ),
    Operation(
        name="see_report_photo", method="GET", rule="/work/report/<report>/photo", view=views.see_report_photo,
        right=Right.UPDATE, answer="Photo", media_type="image/jpeg", problems=(404,),
        path={"report": "The id that the report was sent under."},
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
    Operation(
        name="store_source_file", method="POST", rule=_FILE, view=views.store_source_file, right=Right.UPDATE,
        path=_SOURCE, request=source_list.SourceFileRequest, answer=source_list.SourceFileAnswer, problems=(404, 409),
        files=("application/pdf", "image/png", "image/jpeg", "application/octet-stream"), largest=sources.LARGEST,
        example={"name": "oph-204-issue-2.pdf", "stated_anew": "true"},
    ),
    Operation(
        name="source_file", method="GET", rule=_FILE, view=views.read_source_file, path=_SOURCE, answer="GuideFile",
        problems=(404,), media_type="application/octet-stream",
    ),
)  # fmt: skip
