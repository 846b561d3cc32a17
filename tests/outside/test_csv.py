"""CSV as RFC 4180 has it: its own examples are read as it says, and what we write keeps its rules.

Each case quotes the section of RFC 4180 (October 2005), section 2, that it is from.
"""

import csv
import io
import zipfile

import pytest

from catalog.intake.apostrophe import guarded, unguarded
from catalog.intake.csv_files import write_csv
from catalog.intake.files import read_file
from catalog.intake.groups import BY_KEY

RFC = [
    ("1", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ("2", "aaa,bbb,ccc\r\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    (
        "3",
        "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
        [["field_name"] * 3, ["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]],
    ),
    ("4", "aaa,bbb,ccc", [["aaa", "bbb", "ccc"]]),
    ("5", '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ("6", '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ("7", '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
]


@pytest.mark.parametrize(("rule", "text", "fields"), RFC, ids=[f"section 2.{row[0]}" for row in RFC])
def test_the_examples_are_read_as_written_there(rule: str, text: str, fields: list[list[str]]) -> None:
    contents = read_file(text.encode(), "example.csv")
    assert contents.findings == ()
    (sheet,) = contents.sheets
    assert [[cell.text for cell in row] for row in (sheet.headings, *sheet.rows)] == fields, rule


def test_what_is_written_keeps_the_rules() -> None:
    group = BY_KEY["notes"]
    texts = ['a "b", c', "two\nlines", "=1+1", "'tick", "plain", "", "-3", "x,y"]
    made = io.BytesIO()
    write_csv([(group, texts)], made)
    with zipfile.ZipFile(made) as packed:
        text = packed.read("notes.csv").decode("utf-8-sig")
    first, _, rest = text.partition("\r\n")
    assert first == ",".join(column.written for column in group.columns)
    # 2.6 and 2.7: quotes round what holds quotes, commas or line breaks, quotes doubled; 2.1: lines end in CRLF.
    assert rest == '"a ""b"", c","two\nlines",\'=1+1,\'\'tick,plain,,\'-3,"x,y"\r\n'
    assert [unguarded(field) for field in next(csv.reader(io.StringIO(rest, newline=""), strict=True))] == texts


@pytest.mark.parametrize("text", ["=1+1", "+4", "-3", "@x", "'tick", "''", "\tx", "\rx", "it's", "", "plain", "'"])
def test_the_apostrophe_comes_off_what_it_was_put_on(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r"))
