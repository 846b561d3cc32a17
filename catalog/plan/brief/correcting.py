"""A correction: opens with CORRECTION, says what was and what is now, and asks for the worst of it to be read back."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from catalog.domain.wording import sentence
from catalog.plan.brief.composing import compose
from catalog.plan.brief.cutting import wait_words
from catalog.plan.brief.dangers import dangers_of, motion_of
from catalog.plan.brief.full import joined
from catalog.plan.brief.model import Brief, BriefInput, Changed, Line, Point, Section
from catalog.plan.brief.places import spoken_place
from catalog.plan.brief.points import SCENE
from catalog.plan.brief.port import port_forms
from catalog.plan.brief.radio import Slot, called, fitted
from catalog.plan.brief.vehicles import each_of
from catalog.plan.brief.who import who_forms
from catalog.plan.brief.wording import brief_words

_ASKED_BACK = 2  # at once: more is not read back well
_VEHICLE = "vehicle"


def correct(earlier: Brief, new: BriefInput) -> Brief:
    """The brief that follows one that was sent. Of `earlier` only its points are read.

    Where no point reads differently it is an ordinary brief: nothing is to be corrected.
    """
    brief = compose(new)
    changes = tuple(changes_of(earlier.points, brief.points))
    if not changes:
        return brief
    back = read_back(changes)
    words = brief_words()["correction"]
    slots = list(_slots(new, changes, back))
    breaths, left_out = fitted(new, slots, words["order"], words["rest"] if len(changes) > 1 else "")
    changed = Section("changed", words["title"], tuple(change_lines(changes)))
    return replace(
        brief,
        breaths=breaths,
        left_out=left_out,
        changes=changes,
        read_back=back,
        full=(changed, *brief.full),
        sheet=(changed, *brief.sheet),
    )


def changes_of(before: Sequence[Point], now: Sequence[Point]) -> Iterator[Changed]:
    """What reads differently, what costs most to get wrong first. Another vehicle comes alone: all of it is new."""
    silent = brief_words()["correction"]["not_stated"]
    was = {point.key: point for point in before}
    for point in now:
        earlier = was.pop(point.key, None)
        told = earlier.words if earlier else silent
        if told == point.words:
            continue
        yield Changed(point.key, point.label, told, point.words, point.read_back)
        if point.key == _VEHICLE:
            return
    yield from (Changed(point.key, point.label, point.words, silent, point.read_back) for point in was.values())


def read_back(changes: Sequence[Changed]) -> tuple[str, ...]:
    """What the crew is asked to say again."""
    return tuple(dict.fromkeys(change.read_back for change in changes if change.read_back))[:_ASKED_BACK]


def change_lines(changes: Sequence[Changed]) -> Iterator[Line]:
    """Each change in full words."""
    for change in changes:
        yield Line(
            f"was {change.was.removesuffix('.')}; now {change.now.removesuffix('.')}",
            lead=sentence(change.label),
            key=change.key,
        )


def change_forms(change: Changed) -> tuple[str, ...]:
    """A change as it is said, shortest form first."""
    words = brief_words()["correction"]
    kinds = {_VEHICLE: (_VEHICLE,), **dict.fromkeys(SCENE, ("scene",))}
    forms = [words[kind] for kind in kinds.get(change.key, ("changed", "now", "was_now"))]
    label = change.label
    for whole, short in words["short_labels"].items():
        label = label.replace(whole, short)
    said = {"{label}": sentence(label), "{was}": spoken_place(change.was), "{now}": spoken_place(change.now)}
    for mark, text in said.items():
        forms = [form.replace(mark, text) for form in forms]
    return tuple(forms)


def _slots(new: BriefInput, changes: Sequence[Changed], back: Sequence[str]) -> Iterator[Slot]:
    """The first change as whole as it can be; then the others, and what an ordinary brief says."""
    words, each = brief_words()["correction"], each_of(new)
    first, *others = changes
    yield Slot("opening", (f"{words['opening']} {called(new)}",))
    yield Slot("changed", change_forms(first))
    yield from (Slot(f"changed_{number}", ("", *change_forms(change))) for number, change in enumerate(others))
    said = {change.key for change in changes}
    yield Slot("who", who_forms(new) if _VEHICLE in said else ("", *who_forms(new)))
    yield Slot("read_back", (words["read_back"].replace("{what}", joined(back) if back else words["all"]),))
    more = (("danger", dangers_of(each)[0]["forms"]), ("port", port_forms(each, new.scene)))
    for key, forms in (*more, ("motion", motion_of(each)["forms"])):
        yield Slot(key, ("",) if key in said else ("", *forms))
    yield Slot("cut", ("", wait_words(each, "alone")))
    yield Slot("sides", ("", brief_words()["sides"]))
