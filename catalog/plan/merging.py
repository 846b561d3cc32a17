"""Several vehicles' steps as one: lines that all say stand once, the others say whose they are."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from catalog.plan.lines import Line
from catalog.plan.steps import Plan, Step
from catalog.plan.table import PARTS

# Steps for any vehicle that a step of a record says better.
_INSTEAD = {"plug_any": "plug", "identify_any": "identify"}


@dataclass(frozen=True, slots=True)
class Variant:
    """The steps of one group of vehicles. letter: "" in a wide field. name: what its own lines are headed by."""

    letter: str
    share: float
    plan: Plan
    name: str = ""


@dataclass(frozen=True, slots=True)
class _Said:
    """One group's form of a step. letter: tells the groups apart. name: said before its own lines."""

    letter: str
    share: float
    step: Step
    name: str = ""


def in_turn(variants: Sequence[Variant]) -> Sequence[Step]:
    """Two groups: every step of either, in A's order, B's own after them; the caller sorts.

    Ways of cutting off keep the order of each guide: they are put together only where both have the same ways.
    """
    ways = {tuple(step.id for step in variant.plan.steps if _is_way(step)) for variant in variants}
    found: dict[tuple[str, int, str], list[_Said]] = defaultdict(list)
    for variant in variants:
        seen: dict[str, int] = defaultdict(int)
        for step in variant.plan.steps:
            apart = variant.letter if _is_way(step) and len(ways) > 1 else ""
            found[step.id, seen[step.id], apart].append(_Said(variant.letter, variant.share, step, variant.name))
            seen[step.id] += 1
    total = sum(variant.share for variant in variants)
    return [_branched(forms, total, len(variants)) for forms in found.values()]


def _is_way(step: Step) -> bool:
    return step.item.startswith("cutoff.methods[")


def _branched(forms: Sequence[_Said], total: float, groups: int) -> Step:
    first = forms[0]
    if len(forms) == groups and all(form.step.texts() == first.step.texts() for form in forms):
        return replace(first.step, share=total, sources=_sources(forms))
    if len(forms) == 1:
        only = (f"it is {first.name}", *first.step.only_if)
        return replace(
            first.step, only_if=only, share=first.share, differs=True, key=f"{first.step.key}/{first.letter}"
        )
    parts = {part: tuple(_lettered(forms, part)) for part in PARTS if any(form.step.parts.get(part) for form in forms)}
    return replace(
        first.step,
        only_if=_together(form.step.only_if for form in forms),
        holds=_together(form.step.holds for form in forms),
        parts=parts,
        share=min(form.share for form in forms),
        differs=True,
        sources=_sources(forms),
        cautions=_together(form.step.cautions for form in forms),
    )


def _lettered(forms: Sequence[_Said], part: str) -> Iterator[Line]:
    """Lines that all say, then each group's own under its letter."""
    said = [form.step.parts.get(part, ()) for form in forms]
    shared = _shared(said)
    yield from shared
    for form, lines in zip(forms, said, strict=True):
        own = [line for line in lines if line.text not in _texts(shared)]
        yield from (replace(line, text=f"{form.name}: {line.text}") for line in own)
        if not lines:
            yield Line(f"{form.name}: nothing stated")


def pooled(any_plan: Plan, variants: Sequence[Variant], some: str) -> Sequence[Step]:
    """A wide field: the steps for any vehicle, and of the vehicles what agrees, and each port, cut place and wait.

    some: what is to be made sure of where only some have it, in words.
    """
    found: dict[str, list[_Said]] = defaultdict(list)
    for number, variant in enumerate(variants):
        for step in variant.plan.steps:
            found[step.id].append(_Said(str(number), variant.share, step))
    general = {step.id: step for step in any_plan.steps if _INSTEAD.get(step.id) not in found}
    pool = _Pool(len(variants), sum(variant.share for variant in variants), some)
    made = [pool.step(general.get(id_), forms) for id_, forms in found.items()]
    return [*made, *(replace(step, share=0.0) for id_, step in general.items() if id_ not in found)]


@dataclass(frozen=True, slots=True)
class _Pool:
    """groups: how many groups of vehicles there are, total: their probability together."""

    groups: int
    total: float
    some: str

    def step(self, general: Step | None, forms: Sequence[_Said]) -> Step:
        """One id's step, from all the forms it takes. general: as it reads for any vehicle."""
        first = forms[0].step
        if len(forms) == self.groups and all(form.step.texts() == first.texts() for form in forms):
            return replace(first, share=self.total, sources=_sources(forms))
        all_have_it = len({form.letter for form in forms}) == self.groups
        open_ = _together(form.step.only_if for form in forms)
        if general is not None:
            open_ = _together((open_, general.only_if))
        base = general or first
        parts = {part: tuple(self._lines(general, forms, part)) for part in PARTS}
        return replace(
            base,
            key=base.id,
            item="",
            only_if=open_ if general or all_have_it else (self.some, *open_),
            holds=_together(form.step.holds for form in forms),
            parts={part: lines for part, lines in parts.items() if lines},
            share=min(form.share for form in forms),
            differs=True,
            sources=_sources(forms),
            cautions=_together((*(general.cautions if general else ()), *form.step.cautions) for form in forms),
        )

    def _lines(self, general: Step | None, forms: Sequence[_Said], part: str) -> Iterator[Line]:
        """What all say, what holds for any vehicle, and of a port, a way and a wait what each says, with its share."""
        said = [form.step.parts.get(part, ()) for form in forms]
        shared = _shared(said)
        yield from shared
        own = [line for line in (general.parts.get(part, ()) if general else ()) if line.text not in _texts(shared)]
        yield from own
        if part == "wait" or (part == "where" and forms[0].step.item):
            yield from _with_shares(forms, part, _texts((*shared, *own)))


def _with_shares(forms: Sequence[_Said], part: str, but: frozenset[str]) -> Iterator[Line]:
    shares: dict[str, float] = defaultdict(float)
    lines: dict[str, Line] = {}
    for form in forms:
        for line in form.step.parts.get(part, ())[:1]:
            if line.text not in but:
                shares[line.text] += form.share
                lines[line.text] = line
    for text in sorted(shares, key=lambda text: (-shares[text], text)):
        yield replace(lines[text], text=f"{text.removesuffix('.')} ({in_ten(shares[text])})")


def in_ten(share: float) -> str:
    """ "about 7 in 10"; never ten in ten."""
    tenths = round(share * 10)
    if tenths < 1:
        return "fewer than 1 in 10"
    return f"about {tenths} in 10" if tenths < 10 else "more than 9 in 10"


def _shared(said: Sequence[Sequence[Line]]) -> Sequence[Line]:
    """The lines that all say, as the first does."""
    everywhere = frozenset.intersection(*map(_texts, said))
    return [line for line in said[0] if line.text in everywhere]


def _texts(lines: Sequence[Line]) -> frozenset[str]:
    return frozenset(line.text for line in lines)


def _together(groups: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text for group in groups for text in group))


def _sources(forms: Sequence[_Said]) -> tuple[str, ...]:
    return _together(form.step.sources for form in forms)
