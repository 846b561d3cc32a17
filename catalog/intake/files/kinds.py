"""What a file is, by what is in it: its name only says what it should be."""

import zipfile
from enum import StrEnum
from typing import BinaryIO

from catalog.intake.files.refusing import Refused


class Kind(StrEnum):
    """What a file holds. Values are said to people."""

    WORKBOOK = "a workbook"
    ZIP = "a zip"
    CSV = "text in columns"
    JSON = "JSON"
    LINES = "JSON Lines"


ENDINGS = {
    ".xlsx": (Kind.WORKBOOK,),
    ".zip": (Kind.ZIP,),
    ".csv": (Kind.CSV,),
    ".tsv": (Kind.CSV,),
    ".txt": (Kind.CSV,),
    ".json": (Kind.JSON,),
    ".jsonl": (Kind.LINES,),
    ".ndjson": (Kind.LINES,),
}
_TAKEN = "a workbook (.xlsx), text in columns (.csv), JSON (.json, .jsonl), or a zip of these"
_OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # the compound file of MS-CFB: old workbooks and encrypted ones


def ending(name: str) -> str:
    """The ending of a file's name in small letters, with its dot; "" where there is none."""
    last = name.replace("\\", "/").rsplit("/", 1)[-1]
    return f".{last.rsplit('.', 1)[1].lower()}" if "." in last else ""


def kind_of(file: BinaryIO, name: str) -> Kind:
    """What a file is. Raises Refused where it is nothing that is taken, or not what its name says."""
    head = file.read(8)
    file.seek(0)
    said = ENDINGS.get(ending(name))
    if not head:
        raise Refused("nothing: the file is empty", _TAKEN, "Save it again where it came from.")
    if head.startswith(_OLD):
        cure = "Open it, take the password off, and save it as a workbook (.xlsx)."
        raise Refused("a workbook locked with a password, or one of the old kind (.xls)", _TAKEN, cure)
    if ending(name) in (".xlsm", ".xltm"):
        raise Refused("a workbook with macros", _TAKEN, "Save it as a workbook without macros (.xlsx).")
    if said is None:
        cure = "Give it its proper ending, or save it as one of these."
        raise Refused(f"a name that ends in {ending(name) or 'nothing'}", _TAKEN, cure)
    held = _packed(file) if head.startswith(b"PK") else None
    if held is None and said[0] in (Kind.WORKBOOK, Kind.ZIP):
        cure = "Save it again as what it is called, or give it the ending of what it is."
        raise Refused(f"no {said[0].removeprefix('a ')}", f"{said[0]}, as its name says", cure)
    if held is not None and held is not said[0]:
        raise Refused(str(held), f"{said[0]}, as its name says", "Give it the ending of what it is.")
    return said[0]


def _packed(file: BinaryIO) -> Kind:
    try:
        with zipfile.ZipFile(file) as packed:
            names = set(packed.namelist())
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
        cure = "It was cut off or damaged on its way: fetch it again."
        raise Refused("a damaged zip or workbook", "a whole file", cure) from error
    finally:
        file.seek(0)
    return Kind.WORKBOOK if "[Content_Types].xml" in names else Kind.ZIP
