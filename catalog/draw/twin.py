"""The strip in words: the same facts as the picture, line by line, for those who hear it and for paper."""

from collections.abc import Iterator, Sequence

from catalog.domain.wording import sentence
from catalog.draw.areas import views_of
from catalog.draw.faces import VIEW_WORDS, Stance, view_of, views_held
from catalog.draw.model import Drawn, Numbered, Zone
from catalog.draw.wording import BLANK, KINDS, SHAPES, SIDES, body_words, place_words, size_words


def twin_of(drawn: Drawn, stance: Stance) -> tuple[str, ...]:
    """The lines: what is drawn and how it lies, each side in walking order, the ground, what blank means."""
    return tuple(_lines(drawn, stance))


def _lines(drawn: Drawn, stance: Stance) -> Iterator[str]:
    yield f"{sentence(body_words(drawn))}. {size_words(drawn)}."
    yield f"{stance.words}."
    order = ", ".join(VIEW_WORDS[view] for view, _ in stance.walked)
    yield f"Walk to your right from the front face: {order}{_top_words(stance)}."
    views = [view for view, _ in stance.walked]
    for view in [*views, stance.top] if stance.top else views:
        yield from _side(drawn, stance, view)
    yield from _held(drawn, stance)
    if stance.ground:
        yield from _ground(drawn, stance)
    yield BLANK
    yield SIDES


def _top_words(stance: Stance) -> str:
    return f"; on top, reached from above: {VIEW_WORDS[stance.top]}" if stance.top else ""


def _side(drawn: Drawn, stance: Stance, view: str) -> Iterator[str]:
    name = sentence(VIEW_WORDS[view])
    numbered = [each for each in _placed(drawn, stance) if view in _views(each, stance)]
    zones = [zone for zone in drawn.zones if view in views_of(zone, stance)]
    for each in sorted(numbered, key=_number):
        yield f"{name}: {number_words(each)}"
    for zone in zones:
        yield f"{name}: {zone_words(zone)}"
    if not numbered and not zones:
        yield f"{name}: nothing drawn; that is no fact."


def _placed(drawn: Drawn, stance: Stance) -> Sequence[Numbered]:
    """What has a place of its own: a vehicle that lies is held on its long sides, wherever its wheels are."""
    return [each for each in drawn.numbered if not (each.wheel and stance.ground)]


def _views(each: Numbered, stance: Stance) -> tuple[str, ...]:
    return views_held(each.place, stance) if each.wheel else (view_of(each.place, stance),)


def _held(drawn: Drawn, stance: Stance) -> Iterator[str]:
    if not stance.ground:
        return
    said: list[tuple[int, str]] = []
    for each in drawn.numbered:
        if each.wheel and (each.number, each.label) not in said:
            said.append((each.number, each.label))
            sides = " and ".join(VIEW_WORDS[view] for view in views_held(each.place, stance))
            yield f"Both long sides, {sides}: {each.number}{SHAPES[each.shape]}: {each.label}."


def _ground(drawn: Drawn, stance: Stance) -> Iterator[str]:
    name = VIEW_WORDS[stance.ground]
    yield f"On the ground: {name}."
    for each in sorted(_placed(drawn, stance), key=_number):
        if view_of(each.place, stance) == stance.ground:
            yield f"On the ground, out of reach: {each.number}: {each.label} ({place_words(each.place)})."
    for zone in drawn.zones:
        if stance.ground in views_of(zone, stance):
            yield f"On the ground: {zone_words(zone)}"


def number_words(each: Numbered) -> str:
    """A number with what it says and where."""
    return f"{each.number}{SHAPES[each.shape]}: {each.label} ({place_words(each.place)})."


def zone_words(zone: Zone) -> str:
    """A zone with what must not be done there."""
    said, label = KINDS[zone.kind], zone.label.removesuffix(".")
    told = said if said.startswith(label.lower()) else f"{said}: {label}"
    return f"{told} ({place_words(zone.place)})."


def _number(each: Numbered) -> int:
    return each.number
