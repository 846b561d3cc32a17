"""Files that are broken or meant to do harm, made on the fly; and small good ones beside them."""

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence

import openpyxl

_TYPES = (
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Override PartName="/xl/workbook.xml" '
    'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
    '<Override PartName="/xl/worksheets/sheet1.xml" '
    'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>'
)
_SHARED = (
    '<Override PartName="/xl/sharedStrings.xml" '
    'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/>'
)
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_RELATED = "http://schemas.openxmlformats.org/package/2006/relationships"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def workbook(sheets: Mapping[str, Sequence[Sequence[object]]]) -> bytes:
    """A workbook as a spreadsheet program writes it."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


def raw_workbook(
    rows: Iterable[str], *, before: str = "", more: Mapping[str, bytes] | None = None, strings: bool = False
) -> bytes:
    """A workbook from its parts: rows of sheet XML, what stands before its root, other members."""
    types = _TYPES.replace("</Types>", f"{_SHARED}</Types>") if strings else _TYPES
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("[Content_Types].xml", types)
        office = f'<Relationship Id="r1" Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/>'
        packed.writestr("_rels/.rels", f'<Relationships xmlns="{_RELATED}">{office}</Relationships>')
        sheets = '<sheets><sheet name="ports" sheetId="1" r:id="r1"/></sheets>'
        packed.writestr("xl/workbook.xml", f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}">{sheets}</workbook>')
        sheet = f'<Relationship Id="r1" Type="{_OFFICE}/worksheet" Target="worksheets/sheet1.xml"/>'
        packed.writestr("xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{_RELATED}">{sheet}</Relationships>')
        with packed.open("xl/worksheets/sheet1.xml", "w") as member:
            member.write(f'{before}<worksheet xmlns="{_MAIN}"><sheetData>'.encode())
            for row in rows:
                member.write(row.encode())
            member.write(b"</sheetData></worksheet>")
        for name, content in (more or {}).items():
            packed.writestr(name, content)
    return made.getvalue()


def row(number: int, *cells: tuple[str, str]) -> str:
    """A row of sheet XML: (address, text)."""
    inner = "".join(f'<c r="{at}" t="inlineStr"><is><t>{text}</t></is></c>' for at, text in cells)
    return f'<row r="{number}">{inner}</row>'


def zip_of(members: Mapping[str, bytes]) -> bytes:
    """A zip."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members.items():
            packed.writestr(name, content)
    return made.getvalue()


def bomb(megabytes: int, name: str = "ports.csv") -> bytes:
    """A zip of one member of zeros."""
    return zip_of({name: b"0" * (megabytes * 1024**2)})


# Nine lines that would become a thousand million words.
ENTITIES = "<!DOCTYPE x [<!ENTITY a0 'ha'>{}]>".format(
    "".join(f"<!ENTITY a{level} '{f'&a{level - 1};' * 10}'>" for level in range(1, 10))
)
OUTSIDE = "<!DOCTYPE x [<!ENTITY a9 SYSTEM 'file:///etc/hostname'>]>"
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 504
STRINGS = f'{ENTITIES}<sst xmlns="{_MAIN}"><si><t>&a9;</t></si></sst>'.encode()
