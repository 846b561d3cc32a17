"""What checking a guide update answers: counts, what would become of each record, and every finding with its place."""

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema, fields

from catalog.domain.findings import Severity
from schemas.answer_parts import CAUTIONS, many, texts, told
from schemas.request_fields import FlagInQuery, Request

OUTCOMES = ("added", "changed", "unchanged", "withdrawn", "left_out")


class ImportCounts(Schema):
    """How many records a file would add, change and so on."""

    added = told(fields.Integer, "New records.", minimum=0)
    changed = told(fields.Integer, "Records of which something changes.", minimum=0)
    unchanged = told(fields.Integer, "Records that are listed just so.", minimum=0)
    withdrawn = told(fields.Integer, "Records not to be used any more.", minimum=0)
    left_out = told(fields.Integer, "Records that something blocks: nothing of them is taken.", minimum=0)
    sources = told(fields.Integer, "New guides and other sources.", minimum=0)


class ImportRecord(Schema):
    """What would become of one record."""

    code = told(fields.String, "Its code; empty for a new one, which gets its code when it is proposed.")
    title = told(fields.String, "The vehicle's name.")
    outcome = told(fields.String, "What becomes of it.", enum=list(OUTCOMES))
    matched = told(fields.String, "How it was found among the listed records, in words.")
    changes = told(fields.Integer, "How many facts and fields differ.", minimum=0)


class ImportFinding(Schema):
    """Something in the file that is wrong or needs a look, with its place."""

    place = told(fields.String, 'Where it stands, as one looks it up: "update.xlsx, sheet ports, cell D7".')
    file = told(fields.String, "The file; of one in a zip its name there.")
    sheet = told(fields.String, "The sheet; empty where the file has none.")
    row = told(fields.Integer, "Counted from 1; 0 for the whole sheet or file.", minimum=0)
    column = told(fields.Integer, "Counted from 1; 0 for the whole row.", minimum=0)
    record = told(fields.String, "The record's code, or its name where it has no code yet; empty for the file.")
    path = told(fields.String, "The fact or field it is about; empty where there is none.")
    found = told(fields.String, "What stands there.")
    allowed = told(fields.String, "What may stand there, or why this cannot be right.")
    cure = told(fields.String, "What to do.")
    severity = told(fields.String, "How far it goes.", enum=[str(severity) for severity in Severity])


class ImportAnswer(Schema):
    """A guide update held against what is listed."""

    name = told(fields.String, "The file's name.")
    file_hash = told(fields.String, "SHA-256 of the file, lower-case hex.")
    edition = told(fields.Integer, "The edition it was held against; 0 where nothing is published yet.", minimum=0)
    counts = fields.Nested(ImportCounts, required=True, metadata={"description": "How many, by what becomes of them."})
    severities = fields.Dict(
        keys=fields.String(), values=fields.Integer(), required=True, metadata={"description": "Findings by severity."}
    )
    update = told(fields.String, "The number of the update it became; empty where it was only checked.")
    again = told(fields.Boolean, "Whether it had been sent to review before, so that nothing was stored now.")
    records = many(ImportRecord, "Every record that is not unchanged, in the file's order.")
    findings = many(ImportFinding, "Everything found, what blocks first.")
    cautions = texts(CAUTIONS)


class ImportRequest(Request):
    """How to take the file that is the body."""

    name = fields.String(
        required=True,
        metadata={"description": "What the file is called; its ending says what it holds.", "cure": "Add name."},
    )
    encoding = fields.String(
        load_default="",
        metadata={"description": "How text is written that is not UTF-8, such as cp1252.", "cure": "Leave it out."},
    )
    propose = FlagInQuery(
        load_default=True,
        metadata={"description": "false only checks: nothing is stored.", "cure": "Say true or false."},
    )
    dispute = fields.String(
        load_default="",
        metadata={
            "description": "Facts to keep as disputed where the file contradicts what is listed: CODE:PATH, separated "
            "by commas; all for every one.",
            "cure": "Write CODE:PATH as the findings name them.",
        },
    )


def import_document(checked: Any, findings: list[dict[str, Any]], cautions: tuple[str, ...]) -> dict[str, Any]:
    """The answer. checked: attributes as in the schema. findings: as they are answered."""
    view: Mapping[str, Any] = {
        "name": checked.name,
        "file_hash": checked.file_hash,
        "edition": checked.edition,
        "counts": checked.counts,
        "severities": checked.severities(),
        "update": checked.update,
        "again": checked.again,
        "records": checked.records,
        "findings": findings,
    }
    made: dict[str, Any] = ImportAnswer(exclude=("cautions",)).dump(view)
    return {**made, "cautions": list(cautions)}
