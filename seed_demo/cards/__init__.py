"""Scene cards: a record as somebody sees it who never saw the catalogue.

Test descriptions are written by hand from a card, so it must not put the reader's words into
their writer's mouth: shapes, counts and places stand for every vocabulary word. What the record
does not state is left out. Names and letters are as they are, in fields of their own.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from catalog.domain.facts import Fact, State
from catalog.domain.places import Place
from catalog.domain.record import Record
from seed_demo.cards.places import pointed_at
from seed_demo.cards.wording import Wording, table

# Two rows and a rear end that opens are known from the body; elsewhere doors are only counted.
_BY_FLANK = ("hatchback", "saloon", "estate", "suv", "coupe", "convertible", "pickup", "van", "people_carrier")
_VERBATIM = ("it is called", "letters on it", "wheels")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing about the vehicle. label: what it is about, in words that are no vocabulary's."""

    label: str
    words: str

    @property
    def verbatim(self) -> bool:
        """Whether the words are the record's own (names, letters, wheels) and not the table's."""
        return self.label in _VERBATIM


@dataclass(frozen=True, slots=True)
class Card:
    """A scene card. code: the record's; lines: what is to be seen and heard, outside first."""

    code: str
    lines: tuple[Line, ...]

    def __str__(self) -> str:
        return "\n".join([f"[{self.code}]", *(f"  {line.label}: {line.words}" for line in self.lines)])


def scene_card(code: str, record: Record, seed: int = 0) -> Card:
    """The card of a record; the same seed gives the same words."""
    wording = Wording(Random(f"{seed} {code}"))  # noqa: S311 - no secret
    made = [*_identity(record), *_outside(record, wording), *_fed(record, wording), *_inside(record, wording)]
    return Card(code, tuple(Line(label, words) for label, words in made if words))


def _identity(record: Record) -> Iterator[tuple[str, str | None]]:
    identity = record.identity
    called = f"make {identity.make}, model {identity.model}"
    called += f", variant {identity.variant}" if identity.variant else ""
    yield "it is called", called + (f"; also {', '.join(identity.names)}" if identity.names else "")
    years = identity.years
    until = "still made" if years.until is None else f"last made {years.until}"
    yield "made", f"first made {years.since}, {until}"


def _outside(record: Record, wording: Wording) -> Iterator[tuple[str, str | None]]:
    yield "outline", wording.fact("body", record.fact("looks.body"))
    yield "bulk", _bulk(record, wording)
    yield "ways in", _ways_in(record, wording)
    yield "who steers", wording.say("steering", " ".join(sorted(record.identity.steering)))
    yield "coming towards one", wording.fact("front_face", record.fact("looks.front_face"))
    yield "what shines ahead", wording.fact("lamps", record.fact("looks.front_lamps"))
    yield "what glows when it slows", wording.fact("lamps", record.fact("looks.rear_lamps"))
    yield "overhead", wording.fact("roof", record.fact("looks.roof"))
    yield "wheels", _plain(record.fact("looks.wheels"))
    yield "to get in", wording.fact("handles", record.fact("looks.handles"))
    yield "waste air", _placed(record, "looks.tailpipe", wording)
    yield "letters on it", _letters(record, wording)
    yield "paint", _paint(record, wording)


def _fed(record: Record, wording: Wording) -> Iterator[tuple[str, str | None]]:
    for item in record.items.get("ports", ()):
        path = f"ports[{item}]"
        yield "where its lead goes", _place(record, record.fact(f"{path}.place"), wording)
        yield "what hides that", wording.fact("port_cover", record.fact(f"{path}.cover"))
        yield "how that moves", wording.fact("door_mechanism", record.fact(f"{path}.door.mechanism"))
        yield "what is beneath", wording.fact("connector", record.fact(f"{path}.standard"))
        yield "feeding", wording.fact("current", record.fact(f"{path}.current"))
    for fuel in dict.fromkeys(
        str(value) for item in record.items.get("energy.tanks", ()) for value in _values(record, item)
    ):
        yield "what it drinks", wording.say("fuel", fuel)


def _inside(record: Record, wording: Wording) -> Iterator[tuple[str, str | None]]:
    yield "choosing ahead or astern", wording.fact("selector", record.fact("motion.selector"))
    yield "waking it", wording.fact("wakes_again", record.fact("motion.wakes_again"))
    yield "when it can go", wording.fact("ready_shown", record.fact("motion.ready_shown"))
    yield "what one hears", wording.say("propulsion", record.identity.propulsion)


def _values(record: Record, tank: str) -> tuple[object, ...]:
    return record.fact(f"energy.tanks[{tank}].fuel").values()


def _bulk(record: Record, wording: Wording) -> str | None:
    """How big, in metres where they are stated."""
    sizes = [(_number(record, f"looks.{key}"), word) for key, word in _EXTENTS]
    metres = ", ".join(f"{_metres(size)} {word}" for size, word in sizes if size)
    return "; ".join(part for part in (wording.fact("bulk", record.fact("looks.size")), metres) if part) or None


_EXTENTS = (("length", "from end to end"), ("width", "across"), ("height", "from the ground up"))


def _metres(millimetres: int) -> str:
    return f"{millimetres / 1000:.1f} m"


def _number(record: Record, path: str) -> int | None:
    value = record.fact(path).value
    return value if isinstance(value, int) else None


def _ways_in(record: Record, wording: Wording) -> str | None:
    doors = record.fact("looks.doors").value
    if doors is None:
        return None
    by_flank = record.fact("looks.body").value in _BY_FLANK or doors == 0
    if by_flank and str(doors) in table()["ways_in"]:
        return wording.say("ways_in", str(doors))
    return wording.one_of(table()["ways_in_counted"]).format(n=doors)


def _plain(fact: Fact) -> str | None:
    return " or ".join(str(value) for value in fact.values()) or None


def _place(record: Record, fact: Fact, wording: Wording) -> str | None:
    height = _number(record, "looks.height")
    places = [pointed_at(value, height, wording) for value in fact.values() if isinstance(value, Place)]
    if fact.state is State.DISPUTED:
        return wording.say("state", "disputed").format(sides=" or ".join(f"({place})" for place in places))
    return wording.some(fact, places[0]) if places else None


def _placed(record: Record, path: str, wording: Wording) -> str | None:
    """The tube for waste air: where it shows, or that there is none."""
    fact = record.fact(path)
    if fact.state is State.NOT_FITTED:
        return wording.say("tailpipe", "absent")
    place = _place(record, fact, wording)
    return None if place is None else wording.say("tailpipe", "seen").format(place=place)


def _letters(record: Record, wording: Wording) -> str | None:
    made = []
    for item in record.items.get("looks.badges", ()):
        text = _plain(record.fact(f"looks.badges[{item}].text"))
        place = _place(record, record.fact(f"looks.badges[{item}].place"), wording)
        if text:
            made.append(f"“{text}”" + (f" {place}" if place else ""))
    return "; ".join(made) or None


def _paint(record: Record, wording: Wording) -> str:
    """A colour by seed; one of its own where the record restricts them."""
    fact = record.fact("looks.colours")
    own = [colour for value in fact.values() for colour in (value if isinstance(value, tuple) else (str(value),))]
    if own:
        return wording.one_of(table()["paint"]["only"]).format(colour=" or ".join(own))
    colour = wording.one_of(table()["paint"]["plain"])
    return wording.one_of(table()["paint"]["words"]).format(colour=colour)
