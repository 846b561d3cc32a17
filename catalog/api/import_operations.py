"""Bringing in guide updates."""

from catalog.api import import_views as views
from catalog.api.operation import Operation
from catalog.domain.roles import Right
from schemas import imports

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
FILES = (
    WORKBOOK, "text/csv", "text/tab-separated-values", "application/json", "application/jsonl", "application/x-ndjson",
    "application/zip", "application/octet-stream",
)  # fmt: skip

IMPORTS: tuple[Operation, ...] = (
    Operation(
        name="import_update", method="POST", rule="/updates", view=views.import_update, right=Right.UPDATE,
        request=imports.ImportRequest, answer=imports.ImportAnswer, files=FILES,
        example={"name": "quellorne-2026-10.xlsx", "propose": "false"},
    ),
)  # fmt: skip
