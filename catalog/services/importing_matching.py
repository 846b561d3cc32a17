"""Which listed record a file's record is where it gives no code; what is merely like it is shown, never taken."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import count

from rapidfuzz import fuzz, process

from catalog.domain import codes
from catalog.domain.findings import Finding, Severity
from catalog.domain.folding import fold
from catalog.domain.record import Identity, Years
from catalog.domain.vocabulary import PROPULSION
from catalog.errors import BadInput, Unavailable
from catalog.services.house import House
from catalog.services.importing_listed import Listed, who
from catalog.services.resolving import Description, resolve_description

# From here on a vehicle found by its description is shown beside a new one: about as often it as not.
_LIKE = 0.3
# Of 100: how alike two names in one file must be to be shown as perhaps the same.
_NAMES_ALIKE = 90


class _Names:
    """Names of a file's new vehicles, as they come: each is held against all before it."""

    def __init__(self) -> None:
        self._folded: list[str] = []
        self._stood: list[tuple[Years, str]] = []

    def alike(self, identity: Identity, place: str) -> str:
        """Where the first vehicle of nearly this name and of these years stands, "" for none. It is kept for the next.

        Places are never empty.
        """
        name = fold(identity.title)
        near = process.extract_iter(name, self._folded, scorer=fuzz.ratio, score_cutoff=_NAMES_ALIKE)
        stood = (self._stood[position] for _, _, position in near)
        found = next((at for years, at in stood if _overlap(identity.years, years)), "")
        self._folded.append(name)
        self._stood.append((identity.years, place))
        return found


@dataclass(frozen=True, slots=True)
class Match:
    """code: the listed record it is, "" for none. how: in words. findings: with paths in the record."""

    code: str
    how: str
    findings: tuple[Finding, ...] = ()


@dataclass(eq=False)
class Matcher:
    """Matches the records of one file, in its order, and remembers them for those that follow.

    codes: every code the file gives.
    """

    house: House
    listed: Listed
    codes: frozenset[str] = frozenset()
    twice: set[str] = field(default_factory=set)  # codes that came more than once
    _seen: dict[str, str] = field(default_factory=dict)  # code -> where it stood
    _who: dict[tuple[object, ...], str] = field(default_factory=dict)
    _new: dict[str, _Names] = field(default_factory=dict)  # by propulsion

    def by_code(self, code: str, place: str) -> Match:
        """A record that gives its code."""
        before = self._seen.setdefault(code, place)
        if before != place:
            self.twice.add(code)
            return Match(code, "by its code", (_twice(f"{code} again", f"{code} stands at {before} too"),))
        if code in self.listed.records:
            return Match(code, "by its code")
        if code in self.listed.withdrawn:
            said = f"it was taken out of use: {self.listed.withdrawn[code]}"
            cure = "Send it to review only if it is to be used again."
            return Match(code, "by its code", (Finding("", code, said, cure, Severity.LOOK),))
        return Match("", f"new, under the code {code} it came with")

    def by_identity(self, identity: Identity, place: str) -> Match:
        """A record without a code."""
        found = self.listed.by_who.get(who(identity), ())
        if len(found) > 1:
            cure = "Write the code of the one that is meant."
            said = f"{' and '.join(found)} are called so, in the same years with the same drive"
            return Match("", "", (Finding("identity", identity.title, said, cure),))
        if found and found[0] in self.codes:
            again = _twice(f"{identity.title} again", f"it is {found[0]}, which has rows of its own in this file")
            return Match("", "by who it is", (again,))
        if found:
            match = self.by_code(found[0], place)
            said = f"taken as {found[0]}: the same make, model, variant, years and propulsion"
            cure = "Write the code to be sure."
            return Match(found[0], "by who it is", (*match.findings, _note(identity, said, cure)))
        return Match("", "new", self._new_one(identity, place))

    def new_with_code(self, identity: Identity, place: str) -> tuple[Finding, ...]:
        """What a record under a code that is not listed here is like."""
        found = self.listed.by_who.get(who(identity), ())
        told = self._in_file(identity, place)
        if not found:
            return told
        said = f"{found[0]} has the same make, model, variant, years and propulsion"
        cure = "Write that code if it is the same vehicle."
        return (*told, Finding("identity", identity.title, said, cure, Severity.LOOK))

    def _new_one(self, identity: Identity, place: str) -> tuple[Finding, ...]:
        in_file = self._in_file(identity, place)
        if any(finding.severity is Severity.BLOCKS for finding in in_file):
            return in_file
        return (*in_file, *self._like(identity))

    def _in_file(self, identity: Identity, place: str) -> tuple[Finding, ...]:
        before = self._who.setdefault(who(identity), place)
        if before != place:
            return (_twice(f"{identity.title} again", f"the same vehicle stands at {before} too"),)
        near = self._new.setdefault(identity.propulsion, _Names()).alike(identity, place)
        if not near:
            return ()
        said = f"a vehicle of nearly the same name stands at {near}"
        cure = "Join them if they are the same; otherwise say what tells them apart."
        return (Finding("identity", identity.title, said, cure, Severity.LOOK),)

    def _like(self, identity: Identity) -> tuple[Finding, ...]:
        """Listed records it might be: by a VIN pattern, or as likely as the search finds them for its name."""
        cure = "Write that code if it is the same vehicle; as it stands it becomes a new record."
        made = {
            code: Finding("identity.vins", vin, f"{code} has a VIN pattern that fits the same", cure, Severity.LOOK)
            for code, vin in self.listed.with_vin(identity.vins).items()
        }
        for code, said in self._described(identity):
            made.setdefault(code, Finding("identity", identity.title, said, cure, Severity.LOOK))
        return tuple(made.values())

    def _described(self, identity: Identity) -> list[tuple[str, str]]:
        years = f"{identity.years.since}" + (f" to {identity.years.until}" if identity.years.until else "")
        text = f"{identity.title}, {PROPULSION.label_of(identity.propulsion)}, {years}"
        try:
            answer = resolve_description(self.house, Description(text, limit=3))
        except (BadInput, Unavailable):
            return []  # nothing is compiled yet, so nothing is listed that it could be
        return [
            (one.code, f"{one.code} {one.title} ({one.subtitle}) is {one.chance.word} it, {one.chance.frequency}")
            for one in answer.candidates
            if one.chance.probability >= _LIKE and one.code in self.listed.records
        ]


def minter(file_hash: str, taken: Callable[[str], bool]) -> Callable[[str], str]:
    """Codes for new records: of one file and place always the same, so that bringing it again gives no others.

    taken: whether a code was ever used.
    """
    given: set[str] = set()

    def minted(place: str) -> str:
        numbers = count()

        def choose(alphabet: str) -> str:
            drawn = hashlib.sha256(f"{file_hash}/{place}/{next(numbers)}".encode()).digest()
            return alphabet[int.from_bytes(drawn) % len(alphabet)]

        while True:
            code = codes.mint(choose)
            if code not in given and not taken(code):
                given.add(code)
                return code

    return minted


def _overlap(one: Years, other: Years) -> bool:
    return one.since <= (other.until or one.since) and other.since <= (one.until or other.since)


def _twice(found: str, said: str) -> Finding:
    return Finding("identity", found, said, "Keep one of the two; nothing was joined.")


def _note(identity: Identity, said: str, cure: str) -> Finding:
    return Finding("identity", identity.title, said, cure, Severity.NOTE)
