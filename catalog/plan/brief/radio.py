"""The radio text: at most 320 characters and 20 seconds, the most dangerous truth for the scene first.

Everything it might say is a slot with forms from the shortest to the fullest. The shortest of all slots always fit
together (tested); then, in the order of data/brief.json, each slot takes the fullest form that still fits. So what is
left to the full text is always the same, and never the danger, how to stop it, the port, the wait or how sure.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from catalog.plan.brief.cutting import airbag_forms, cut_forms
from catalog.plan.brief.dangers import also_words, dangers_of, motion_of, told_besides
from catalog.plan.brief.model import Breath, BriefInput
from catalog.plan.brief.port import port_forms
from catalog.plan.brief.spoken import seconds_of, spoken_words
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.who import tell_forms, who_forms
from catalog.plan.brief.wording import brief_words

CHARACTERS = 320
WORDS = 50  # 20 seconds at 150 words a minute
_SIDES, _TAIL = "sides", "tail"


@dataclass(frozen=True, slots=True)
class Slot:
    """forms: shortest first; an empty first one may be left out."""

    key: str
    forms: tuple[str, ...]


def radio_of(asked: BriefInput, each: Sequence[Each]) -> tuple[tuple[Breath, ...], tuple[str, ...]]:
    """The breaths, and the keys of what is left to the full text."""
    return fitted(asked, list(slots_of(asked, each)), brief_words()["order"])


def slots_of(asked: BriefInput, each: Sequence[Each]) -> Iterator[Slot]:
    """In the order they are said."""
    dangers, motion = dangers_of(each), motion_of(each)
    yield Slot("danger", tuple(f"{called(asked)} {form}" for form in dangers[0]["forms"]))
    yield Slot("also", ("", also_words(dangers)))
    yield Slot("who", who_forms(asked))
    yield Slot("motion", tuple(motion["forms"]))
    yield from (Slot(key, ("", say)) for key, say in told_besides(each))
    yield Slot("port", port_forms(each, asked.scene))
    yield Slot("cut", cut_forms(each))
    yield Slot("airbags", airbag_forms(each))
    yield Slot("tell", tell_forms(asked))
    if asked.unlisted.word and asked.vehicles:
        yield Slot("unlisted", ("", brief_words()["unlisted"]))
    yield Slot(_SIDES, ("", brief_words()["sides"]))


def fitted(
    asked: BriefInput, slots: Sequence[Slot], order: Sequence[str], rest: str = ""
) -> tuple[tuple[Breath, ...], tuple[str, ...]]:
    """Each slot in the fullest form that fits, in the stated order of worth; one that order does not name as it is.

    order: keys; "key:1" tries no more than the first form after the shortest. rest: said where something is left out.
    """
    rest = rest or brief_words()["rest"]
    chosen = {slot.key: slot.forms[0] for slot in slots}
    by_key = {slot.key: slot for slot in slots}
    if not fits(_lines(asked, chosen, rest)):
        rest = ""  # a very long name: nothing that must be said gives way to it
    for word in order:
        key, _, most = word.partition(":")
        forms = by_key[key].forms if key in by_key else ()
        better = forms[: int(most) + 1] if most else forms
        tried = ({**chosen, key: form} for form in reversed(better) if len(form) > len(chosen[key]))
        chosen = next((each for each in tried if fits(_lines(asked, each, rest))), chosen)
    left_out = tuple(key for key, slot in by_key.items() if chosen[key] != slot.forms[-1] and key != _SIDES)
    return breaths_of(_lines(asked, chosen, rest if left_out else "")), left_out


def fits(lines: Sequence[tuple[str, str]]) -> bool:
    text = "\n".join(line for _, line in lines)
    return len(text) <= CHARACTERS and spoken_words(text) <= WORDS


def breaths_of(lines: Sequence[tuple[str, str]]) -> tuple[Breath, ...]:
    """Lines with the second at which each begins."""
    made, before = [], 0
    for key, text in lines:
        words = spoken_words(text)
        made.append(Breath(key, text, words, seconds_of(before), seconds_of(words)))
        before += words
    return tuple(made)


def _lines(asked: BriefInput, chosen: Mapping[str, str], rest: str) -> list[tuple[str, str]]:
    words = brief_words()
    lines = [(key, line) for key, text in chosen.items() if text and key != _SIDES for line in text.split("\n")]
    sided = any(words["sided"] in text for _, text in lines)
    tail = [f"Data {asked.data.number}.", "" if sided else chosen[_SIDES], rest]
    return [*lines, (_TAIL, " ".join(part for part in tail if part))]


def called(asked: BriefInput) -> str:
    """ "DEMO. Vehicle A." """
    demo = f"{brief_words()['demo']}. " if asked.data.demo else ""
    return f"{demo}Vehicle {asked.letter}."
