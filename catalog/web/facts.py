"""A fact as a page shows it: state, words, every side with its sources, protective reading."""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.domain.facts import Fact, State
from catalog.domain.sources import Source, parse_reference
from catalog.domain.spec.nodes import Attr
from catalog.domain.wording import Wording, fact_wording


@dataclass(frozen=True, slots=True)
class SourceMark:
    """A page of a source. short: "OPH-204 issue 2, p. 9". page is None for kinds without pages."""

    key: str
    page: int | None
    short: str


@dataclass(frozen=True, slots=True)
class Claim:
    """One undisputed claim. state: its label. depends: what "may be fitted" hangs on, or ""."""

    state: str
    text: str
    depends: str
    sources: tuple[SourceMark, ...]


@dataclass(frozen=True, slots=True)
class FactView:
    """One fact. state: value of `State`, names the mark. claims: empty when not stated.

    reading: how to plan by it whenever it is not plainly stated; "" otherwise.
    """

    path: str
    label: str
    state: str
    state_label: str
    claims: tuple[Claim, ...]
    reading: str
    critical: bool

    @property
    def stated(self) -> bool:
        """Somebody says something (fitted or not, agreed or not)."""
        return self.state != State.NOT_STATED

    @property
    def plain(self) -> bool:
        """One agreed value for every vehicle of the record."""
        return self.state == State.STATED

    @property
    def text(self) -> str:
        """All claims in one line; "not stated" with its protective reading when there are none."""
        if not self.claims:
            return f"not stated: {self.reading}" if self.reading else "not stated"
        return " or ".join(claim.text for claim in self.claims)


def fact_view(path: str, attr: Attr, fact: Fact, sources: Mapping[str, Source]) -> FactView:
    """Build the view. sources: by key; a reference to a missing one shows its own text."""
    said = fact_wording(attr, fact)
    claims: tuple[Claim, ...] = ()
    if fact.state is not State.NOT_STATED:
        claims = tuple(_claim(side, sources) for side in (said.sides or (said,)))
    # Some readings say "not stated" themselves; the state is always shown, so it is said once.
    reading = said.reading.removeprefix(f"{State.NOT_STATED.label}: ")
    return FactView(path, attr.label, fact.state.value, said.state, claims, reading, attr.critical)


def source_marks(references: tuple[str, ...], sources: Mapping[str, Source]) -> tuple[SourceMark, ...]:
    """Source references as shown: number, issue, page."""
    return tuple(_mark(reference, sources) for reference in references)


def _claim(said: Wording, sources: Mapping[str, Source]) -> Claim:
    text = said.text or State.NOT_FITTED.label
    return Claim(said.state, text, said.depends, source_marks(said.src, sources))


def _mark(reference: str, sources: Mapping[str, Source]) -> SourceMark:
    parsed = parse_reference(reference)
    source = sources.get(parsed.key)
    name = source.short if source else parsed.key
    return SourceMark(parsed.key, parsed.page, f"{name}, p. {parsed.page}" if parsed.page else name)
