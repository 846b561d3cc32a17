"""The catalogue as a file over the API."""

import tempfile
from collections.abc import Mapping
from itertools import chain
from typing import Any

from catalog.api.reply import PRIVATE, FileReply
from catalog.services.exporting import Form, export_records, write_export
from catalog.services.house import House


def export(house: House, given: Mapping[str, Any]) -> FileReply:
    """An edition's sources and records as one file.

    JSON Lines as stored, a workbook, or a zip of CSV files. Workbook and CSV say every state in words and can be edited
    and brought back. That it was taken is in the trail.
    """
    form = Form(given["format"])
    documents = export_records(house, given["actor"], form, edition=given.get("edition"))
    first = next(documents)
    file = tempfile.TemporaryFile()  # noqa: SIM115  closed once it is sent
    write_export(chain([first], documents), form, file)
    file.seek(0)
    number = int(first["edition"])
    return FileReply({}, number, PRIVATE, file, f"chockbook-edition-{number}.{form.ending}")
