"""The identity of a record: which vehicles it is about."""

from collections.abc import Iterator
from typing import Any

from catalog.domain import codes, vin
from catalog.domain.markets import MARKET
from catalog.domain.spec.nodes import Number, Terms
from catalog.domain.vocabulary import CATEGORY, PROPULSION, STEERING
from schemas.findings import Finding, show
from schemas.plain import list_field, number_field, sources_field, terms_field, text_field
from schemas.strict import Checked, Part, named
from schemas.values import check_text, text_schema

# Wide enough for anything on the road; plausibility narrows it and says why.
_YEAR = Number("", 1900, 2100)
_CODE_PATTERN = f"^[{codes.ALPHABET}]{{3}}-[{codes.ALPHABET}]{{3}}(?![\\s\\S])"
_VIN_PATTERN = f"^[{vin.ALPHABET}?]{{8}}[{vin.CHECK_CHARACTERS}?][{vin.ALPHABET}?]{{8}}(?![\\s\\S])"
_LONGEST_NAME = 60


def check_code(value: Any) -> Iterator[Finding]:
    """A record code as minted, its check character right."""
    if not isinstance(value, str) or codes.parse(value) != value:
        known = codes.parse(value) if isinstance(value, str) else None
        cure = f"Write {known}." if known else "Copy it again; its last character checks the others."
        yield Finding("", show(value), "a record code", cure)


def check_vin_pattern(value: Any) -> Iterator[Finding]:
    """Seventeen VIN characters, "?" for each that varies; position 9 open or a check character."""
    allowed = 'seventeen of 0-9 and A-Z without I, O, Q, or "?"'
    if not isinstance(value, str) or len(value) != vin.LENGTH:
        yield Finding("", show(value), allowed, 'Fill up with "?" to seventeen.')
        return
    for position, char in vin.illegal(value):
        cure = "Capitals only; read the source again for I, O and Q."
        yield Finding("", f"{show(char)} at position {position}", allowed, cure)
    if value[8] not in f"{vin.CHECK_CHARACTERS}?":
        yield Finding("", f"{show(value[8])} at position 9", "0-9, X or ? there", 'Write "?": it varies.')


def _codes_field(what: str) -> Checked:
    return list_field(check_code, what, {"type": "string", "pattern": _CODE_PATTERN})


_YEARS = named(
    "Years",
    {"from": number_field(_YEAR, required=True), "to": number_field(_YEAR, required=False)},
)

IDENTITY = named(
    "Identity",
    {
        "make": text_field(40, required=True),
        "model": text_field(40, required=True),
        "variant": text_field(_LONGEST_NAME),
        "years": Part(_YEARS, 'model years, both included; no "to" while still built', required=True),
        "propulsion": terms_field(Terms(PROPULSION)),
        "category": terms_field(Terms(CATEGORY)),
        "platform": text_field(40),
        "steering": terms_field(Terms(STEERING, many=True)),
        "markets": terms_field(Terms(MARKET, many=True)),
        "names": list_field(
            lambda value: check_text(value, _LONGEST_NAME), "other names and badges", text_schema(_LONGEST_NAME)
        ),
        "twin_of": _codes_field("records of the same vehicle under another badge"),
        "replaces": _codes_field("records this one replaces"),
        "replaced_by": _codes_field("records that replace this one"),
        "vins": list_field(check_vin_pattern, "VIN patterns", {"type": "string", "pattern": _VIN_PATTERN}),
        "src": sources_field(),
    },
)
