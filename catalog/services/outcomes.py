"""What a described vehicle turned out to be: kept as cues and outcome only, to fit the confidence to.

No text, no caller, no VIN and no time beyond the day is kept. A name is kept where a listed name is like it; of
any other only that one was said, in the words of a stand-in: a name nobody listed may be somebody's own.
"""

import re
import secrets
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from catalog.domain import codes
from catalog.domain.canonical import canonical_bytes, parse_canonical
from catalog.errors import BadInput, NotFound
from catalog.resolve.calibration.keys import reader_hash
from catalog.resolve.calibration.labels import Label
from catalog.resolve.cue import ASKED, RANKING, Cue, Doubt
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.names import lexicon_of
from catalog.services.amending import cue_of
from catalog.services.clock import DAY, now_us
from catalog.services.house import House
from catalog.store.engine import read, write
from catalog.store.outcomes import StoredOutcome, add_outcome, newest_outcomes, outcome_counts
from catalog.store.read import edition, record_at
from catalog.store.tables import CONFIRMED, NOT_LISTED, NOT_THIS, OUTCOMES, PROOFS

__all__ = ["CONFIRMED", "NOT_LISTED", "NOT_THIS", "OUTCOMES", "PROOFS"]

ID = re.compile(r"[A-Za-z0-9_-]{16,64}", re.ASCII)
NEEDED = 100  # settled outcomes that a fit needs
MOST_FITTED = 2000
# Like no name: stands for each heard name that is like no listed one.
UNLIKE = "xqzxqzxqzxqz"


@dataclass(frozen=True, slots=True)
class Outcome:
    """id: random, of whoever sends it. outcome: one of OUTCOMES. code: the record's, in any spelling; "" where it is
    not listed. proof: one of PROOFS. cues: as the answer gave them."""

    id: str
    edition: int
    outcome: str
    code: str
    proof: str
    cues: tuple[Cue, ...]


@dataclass(frozen=True, slots=True)
class Noted:
    """code: None where it is in no record. kept: cues that were stored. left_out: attributes of those that were not.
    again: it was there already."""

    id: str
    edition: int
    outcome: str
    code: str | None
    proof: str
    kept: int
    left_out: tuple[str, ...]
    again: bool


@dataclass(frozen=True, slots=True)
class Collected:
    """How many outcomes there are. settled: the vehicle is known, confirmed or not listed. fitting: settled ones
    read by the reader of today, which a fit may use; denied: "not this vehicle" of the same."""

    confirmed: int
    not_this: int
    not_listed: int
    fitting: int
    denied: int

    @property
    def settled(self) -> int:
        return self.confirmed + self.not_listed

    @property
    def missing(self) -> int:
        """Settled outcomes that a fit still needs."""
        return max(0, NEEDED - self.fitting)


def outcome_of(given: Mapping[str, Any]) -> Outcome:
    """An outcome that passed its schema."""
    cues = tuple(cue_of(cue) for cue in given["cues"])
    return Outcome(given["id"], given["edition"], given["outcome"], given["code"], given["proof"], cues)


def fresh_id() -> str:
    """A random id for an outcome."""
    return secrets.token_urlsafe(18)


def note_outcome(house: House, outcome: Outcome) -> Noted:
    """Store what a vehicle turned out to be. Raises BadInput, NotFound, Conflict, Unavailable."""
    code = _checked(outcome)
    cues = tuple(kept_cues(outcome.cues, lexicon_of(house.shelf.current().tables)))
    if not cues:
        raise BadInput(
            "Nothing that was said can tell vehicles apart.",
            cure="Send the cues of the answer: shape, places, names. A VIN alone is not kept.",
        )
    house.pace.step("outcomes")
    day = now_us() // DAY
    packed = canonical_bytes([packed_cue(cue) for cue in cues])
    stored = StoredOutcome(
        outcome.id, day, outcome.edition, outcome.outcome, code, outcome.proof, packed, reader_hash()
    )
    with write(house.engine) as conn:
        _check_listed(conn, outcome.edition, code)
        new = add_outcome(conn, stored)
    kept = {cue.attribute for cue in cues}
    left_out = tuple(dict.fromkeys(cue.attribute for cue in outcome.cues if cue.attribute not in kept))
    return Noted(outcome.id, outcome.edition, outcome.outcome, code, outcome.proof, len(cues), left_out, again=not new)


def collected(house: House) -> Collected:
    """What there is to fit to. Raises Unavailable."""
    with read(house.engine) as conn:
        counts = outcome_counts(conn)
        read_today = _read_today(conn)
    by = {name: sum(n for (outcome, _), n in counts.items() if outcome == name) for name in OUTCOMES}
    denied = sum(row.outcome == NOT_THIS for row in read_today)
    return Collected(by[CONFIRMED], by[NOT_THIS], by[NOT_LISTED], len(read_today) - denied, denied)


def labels_of(house: House) -> tuple[Label, ...]:
    """The newest outcomes that were read by the reader of today. Raises Unavailable."""
    with read(house.engine) as conn:
        rows = _read_today(conn)
    return tuple(Label(unpacked_cues(row.cues), row.code or "", row.outcome == NOT_THIS) for row in rows)


def _read_today(conn: Connection) -> list[StoredOutcome]:
    return [row for row in newest_outcomes(conn, MOST_FITTED) if row.reader == reader_hash()]


def _checked(outcome: Outcome) -> str | None:
    """The code as stored."""
    if not ID.fullmatch(outcome.id):
        raise BadInput("The id is no random id.", cure="Give 16 to 64 letters, digits, - and _ drawn at random.")
    if outcome.outcome not in OUTCOMES:
        raise BadInput(f"outcome is {outcome.outcome!r}.", cure=f"Use one of: {', '.join(OUTCOMES)}.")
    if outcome.proof not in PROOFS:
        raise BadInput(f"proof is {outcome.proof!r}.", cure=f"Use one of: {', '.join(PROOFS)}.")
    if (outcome.outcome == NOT_LISTED) is bool(outcome.code):
        raise BadInput(
            "A vehicle that is not listed has no code, every other outcome has one.",
            cure="Leave the code out with not_listed; give it with confirmed and not_this.",
        )
    code = codes.parse(outcome.code) if outcome.code else None
    if outcome.code and code is None:
        raise BadInput(f"{outcome.code!r} is not a record code.", cure="Check the code: six characters.")
    return code


def _check_listed(conn: Connection, number: int, code: str | None) -> None:
    if edition(conn, number) is None:
        raise NotFound(f"There is no edition {number}.", cure="Send the edition of the answer.")
    if code is not None and record_at(conn, code, number) is None:
        raise NotFound(f"Edition {number} has no record {code}.", cure="Send a code of the answer's candidates.")


def may_be_kept(cue: Cue) -> bool:
    """What ranks, of the vehicle asked about, without VINs."""
    return cue.vehicle == ASKED and cue.attribute in RANKING and cue.attribute != "vin"


def kept_cues(cues: Iterable[Cue], lexicon: Lexicon) -> Iterator[Cue]:
    """What of them is stored, without the words they were said in."""
    made: dict[object, Cue] = {}
    for cue in filter(may_be_kept, cues):
        values = cue.values
        if cue.attribute == "name":
            values = tuple(sorted({value if lexicon.levels(value) else UNLIKE for value in values}))
        kept = Cue(cue.attribute, values, (), "", cue.denied, cue.doubt)
        made.setdefault((kept.key, kept.doubt), kept)
    yield from sorted(made.values(), key=lambda cue: (cue.key, cue.doubt))


def packed_cue(cue: Cue) -> dict[str, Any]:
    """A cue as it is stored."""
    return {"attribute": cue.attribute, "values": list(cue.values), "denied": cue.denied, "doubt": str(cue.doubt)}


def unpacked_cues(content: bytes) -> tuple[Cue, ...]:
    """Cues as they were stored."""
    return tuple(
        Cue(one["attribute"], tuple(one["values"]), (), "", one["denied"], Doubt(one["doubt"]))
        for one in parse_canonical(content)
    )
