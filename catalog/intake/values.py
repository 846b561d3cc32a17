"""One value of any kind: as a cell says it, and as a document stores it. The pair is the identity (property test)."""

import unicodedata
from typing import Any

from catalog.domain import codes, vin
from catalog.domain.sources import REFERENCE_PATTERN
from catalog.domain.spec.nodes import Attr, Equipment, Number, Terms, Text, Where, YesNo
from catalog.intake.kinds import CellKind, Codes, Day, LastYear, ListState, Names, Paragraphs, References, Vins
from catalog.intake.names import names_text, read_names
from catalog.intake.places import place_text, read_place
from catalog.intake.readings import Problem, Read, refused
from catalog.intake.synonyms import words
from catalog.intake.terms import BETWEEN, read_term, read_terms, term_text, terms_text
from catalog.intake.units import number_text, read_number

FITTED = "FITTED"
STILL_BUILT = "STILL BUILT"
ALL_LISTED = "ALL LISTED"


def value_text(kind: CellKind, stored: Any) -> str:
    """A stored value as it is written out."""
    match kind:
        case Terms(vocabulary, many):
            return terms_text(vocabulary, stored) if many else term_text(vocabulary, stored)
        case Number():
            return number_text(kind, stored)
        case YesNo():
            return "yes" if stored else "no"
        case Equipment():
            return FITTED
        case Where():
            return place_text(stored)
        case Names():
            return names_text(stored)
        case Codes() | Vins() | References():
            return BETWEEN.join(stored)
        case ListState():
            return ALL_LISTED
    return str(stored)


def read_value(kind: CellKind, text: str, assumed: str | None = None, attr: Attr | None = None) -> Read:
    """What a cell says, as documents store it. text: not empty, ends trimmed, in NFC. assumed: the heading's unit."""
    match kind:
        case Text() | Day() | Paragraphs():
            return Read(text)
        case Terms(vocabulary, many):
            return read_terms(vocabulary, text) if many else read_term(vocabulary, text)
        case Number():
            return read_number(kind, text, assumed, attr)
        case Where():
            return read_place(text)
        case YesNo():
            return _yes_no(text)
        case Equipment():
            return _fitted(text)
        case Names():
            return Read(read_names(text))
        case Codes():
            return _each(text, _code)
        case Vins():
            return _each(text, _vin)
        case References():
            return _each(text, _reference)
        case LastYear():
            return Read("") if text.lower() in words("still built") else read_number(_YEAR, text, assumed)
        case ListState():
            return _list_state(kind, text)


_YEAR = Number("", 1900, 2100)


def tidy(text: str) -> str:
    """A cell's text as it is read: NFC, line breaks as one character, ends trimmed."""
    return unicodedata.normalize("NFC", text).replace("\r\n", "\n").replace("\r", "\n").strip()


def _yes_no(text: str) -> Read:
    bare = text.lower()
    if bare in words("yes") or bare in words("no"):
        return Read(bare in words("yes"))
    return refused(text, "yes or no", "Write yes or no; NOT STATED where the guide does not say.")


def _fitted(text: str) -> Read:
    if text.lower() in words("fitted"):
        return Read(True)
    cure = "Write NOT FITTED if the guide says so." if text.lower() in words("no") else "Its details belong in a note."
    return refused(text, "FITTED, NOT FITTED, MAY BE FITTED or NOT STATED", cure)


def _list_state(kind: ListState, text: str) -> Read:
    if text.lower() in ("all listed", "complete", "all"):
        return Read(True)
    cure = f"ALL LISTED: there is no {kind.item} beyond those listed. NOT FITTED: there is none. Otherwise NOT STATED."
    return refused(text, "ALL LISTED, NOT FITTED or NOT STATED", cure)


def _each(text: str, read: Any) -> Read:
    """Several short values with semicolons, commas, spaces or line breaks between."""
    parts = text.replace(";", " ").replace(",", " ").split()
    made, problems = [], []
    for part in parts:
        value, problem = read(part)
        made.append(value)
        problems += [problem] if problem else []
    if not problems and len(set(made)) < len(made):
        problems.append(Problem(f'"{text}"', "each once", "Remove the repeat."))
    return Read(None if problems else made, tuple(problems))


def _code(text: str) -> tuple[str | None, Problem | None]:
    found = codes.parse(text)
    if found is None:
        return None, Problem(f'"{text}"', "a record code", "Copy it again; its last character checks the others.")
    return found, None


def _vin(text: str) -> tuple[str | None, Problem | None]:
    value = vin.clean(text.replace("*", vin.OPEN))
    if len(value) != vin.LENGTH:
        allowed = f"{vin.LENGTH} characters, this has {len(value)}"
        return None, Problem(f'"{text}"', allowed, 'Write "?" for each character that varies.')
    for position, char in vin.illegal(value):
        allowed = "0-9 and A-Z without I, O, Q"
        return None, Problem(f'"{text}", {char} at position {position}', allowed, "Read the source again.")
    return value, None


def _reference(text: str) -> tuple[str | None, Problem | None]:
    if REFERENCE_PATTERN.fullmatch(text.upper()):
        return text.upper(), None
    return None, Problem(
        f'"{text}"', "a source such as NUMBER/ISSUE:PAGE", "Capitals, digits and hyphens; issue; page."
    )
