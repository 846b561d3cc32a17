"""Text in columns (CSV as RFC 4180 has it, with other separators too)."""

import csv
import io

from catalog.intake.apostrophe import unguarded
from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused
from catalog.intake.files.rows import Rows
from catalog.intake.files.wire import Writer

SEPARATORS = ",;|\t"
_SAMPLE = 4_000


def read_columns(text: str, file: str, limits: Limits, out: Writer) -> None:
    """One sheet, named as the file without its ending. Raises Refused."""
    name = file.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
    rows = Rows(file, name, limits, out)
    csv.field_size_limit(limits.text * 4)
    # newline="" leaves the ends of lines to the reader, which lets them stand inside quotes.
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator_of(text), strict=True)
    try:
        for number, fields in enumerate(reader, 1):
            texts = ((column, unguarded(field.strip())) for column, field in enumerate(fields, 1))
            rows.take(number, ((column, text) for column, text in texts if text))
    except csv.Error as error:
        cure = "Look for a quotation mark without its partner, there or above."
        raise Refused(f"a line that cannot be cut into columns ({error})", "CSV", cure, row=reader.line_num) from error


def separator_of(text: str) -> str:
    """What stands between the columns: as the first lines show it, else the commonest in the first one."""
    first = next((line for line in text[:_SAMPLE].splitlines() if line.strip()), "")
    try:
        sniffed = csv.Sniffer().sniff(text[:_SAMPLE], SEPARATORS).delimiter
    except csv.Error:
        sniffed = ""
    # A sniffer may find a separator in the middle of sentences: one that the headings do not have is none.
    if sniffed and sniffed in SEPARATORS and sniffed in first:
        return sniffed
    return max(SEPARATORS, key=first.count)
