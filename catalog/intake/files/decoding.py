"""Bytes -> text: UTF-8, UTF-16 where a mark says so, or what the steward said. Never guessed."""

import codecs

from catalog.intake.files.refusing import Refused

_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_ASK = "Save it as UTF-8, or say how it is written, such as --encoding cp1252 (on the page: Written in)."


def decoded(data: bytes, encoding: str) -> str:
    """The text. encoding: as said; "" for none. Raises Refused with the place that cannot be read."""
    marked = next((name for mark, name in _MARKS if data.startswith(mark)), "")
    name = marked or _known(encoding) or "utf-8"
    try:
        text = data.decode(name)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"byte {data[error.start]:02X} hex in line {line}, which is not {name.removesuffix('-sig').upper()}"
        raise Refused(found, "text in UTF-8, or in UTF-16 with its mark", _ASK, row=line) from error
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        cure = "If it is UTF-16 without its mark, say --encoding utf-16-le; otherwise fetch it again."
        raise Refused(f"a null character in line {line}", "text", cure, row=line)
    return text


def _known(encoding: str) -> str:
    if not encoding:
        return ""
    try:
        # Only those that turn bytes into text: others unpack, or turn letters round.
        "".encode(encoding)
        return codecs.lookup(encoding).name
    except LookupError as error:
        cure = "Say one such as cp1252, iso-8859-15, mac-roman or utf-16-le."
        raise Refused(f"{encoding}, which is no encoding of text", "the name of an encoding", cure) from error
