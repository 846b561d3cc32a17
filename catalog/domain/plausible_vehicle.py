"""Plausibility of the vehicle itself: years, VINs, steering, category, body, places."""

from collections.abc import Iterator

from catalog.domain import vin
from catalog.domain.findings import Finding
from catalog.domain.markets import BY_KEY as MARKETS
from catalog.domain.places import LANDMARK, Place, point_in_zone, words, zone_box
from catalog.domain.plausible_parts import HEAVY, blocks, heavy, light, look, values
from catalog.domain.record import Record, attribute_at
from catalog.domain.spec.nodes import Terms
from catalog.domain.vocabulary import BODY

EARLIEST, LATEST = 1990, 2030

# Usual UNECE R.E.3 categories per body (common practice); another one needs a look, another
# letter or a heavy class for a light body blocks.
_CATEGORIES = {
    "hatchback": "M1 N1", "saloon": "M1", "estate": "M1 N1", "suv": "M1 N1", "coupe": "M1",
    "convertible": "M1", "pickup": "N1 M1 N2", "van": "N1 M1 N2 M2", "people_carrier": "M1 M2",
    "bus": "M2 M3", "lorry": "N2 N3", "motorcycle": "L1 L2 L3 L4 L5", "microcar": "L6 L7 L2 L5 M1",
}  # fmt: skip

# Doors a caller counts, the tailgate included; common practice, no source.
_DOORS = {
    "hatchback": (2, 5), "saloon": (2, 5), "estate": (2, 6), "suv": (2, 6), "coupe": (2, 4),
    "convertible": (2, 4), "pickup": (2, 5), "van": (2, 7), "people_carrier": (3, 6), "bus": (1, 8),
    "lorry": (1, 5), "motorcycle": (0, 0), "microcar": (0, 5),
}  # fmt: skip

_LANDMARK_LEVELS = {
    "roof_rail": ("roof", "high"),
    "in_sill": ("low", "under"),
    "under_bonnet": ("low", "mid", "high"),
}

# A word that denies the others of its set.
_ALONE = ("nothing", "never")


def years(record: Record) -> Iterator[Finding]:
    since, until = record.identity.years.since, record.identity.years.until
    if until is not None and until < since:
        yield blocks("identity.years.to", str(until), f"the first model year is {since}", "Check both years.")
    for path, year in (("from", since), ("to", until)):
        if year is not None and year > LATEST:
            yield blocks(f"identity.years.{path}", str(year), f"no guide reaches beyond {LATEST}", "Check the year.")
    if since < EARLIEST:
        why = f"before {EARLIEST} hardly any vehicle had a high-voltage pack or a second airbag"
        yield look("identity.years.from", str(since), why, "Check the year against the source.")


def vins(record: Record) -> Iterator[Finding]:
    identity = record.identity
    built = range(identity.years.since, (identity.years.until or LATEST) + 1)
    for position, pattern in enumerate(identity.vins, 1):
        path = f"identity.vins[#{position}]"
        candidates = vin.model_years(pattern).candidates
        if candidates and not any(year in built for year in candidates):
            why = f"position 10 means {' or '.join(map(str, candidates))}, the record is {identity.years}"
            yield look(path, pattern, why, 'Write "?" at position 10 where the maker does not code the year.')
        if vin.check_digit_agrees(pattern) is False:
            why = f"position 9 should be {vin.check_digit(pattern)} in North America and China"
            yield look(path, pattern, why, 'Write "?" there: it changes with the serial number.')
        if vin.OPEN not in pattern[vin.SERIAL_FROM :]:
            why = "a whole serial number names one vehicle and its owner, not a kind of vehicle"
            yield look(path, pattern, why, 'Write "?" from position 12 on.')


def steering(record: Record) -> Iterator[Finding]:
    sides = record.identity.steering
    path = "identity.steering"
    if "none" in sides and len(sides) > 1:
        yield blocks(path, ", ".join(sides), "handlebars stand alone", "Use a record for each.")
    elif "none" in sides and not light(record):
        why = f"category {record.identity.category} has a steering wheel"
        yield blocks(path, "none", why, "State left, right or both.")
    elif "none" not in sides:
        for market in (MARKETS[key] for key in record.identity.markets):
            if market.steering not in sides:
                why = f"in {market.label} traffic keeps {market.traffic}, the wheel is usually on the {market.steering}"
                yield look(path, ", ".join(sides), why, "Check the side, or the markets.")


def category(record: Record) -> Iterator[Finding]:
    chosen = record.identity.category
    for body in values(record, "looks.body"):
        usual = _CATEGORIES[str(body)].split()
        if chosen in usual:
            continue
        why = f"{' or '.join(usual)} is usual for body {BODY.label_of(str(body))}"
        wrong = all(entry[0] != chosen[0] for entry in usual) or (heavy(record) and not set(usual) & set(HEAVY))
        yield (blocks if wrong else look)("identity.category", chosen, why, "Check the category and the body.")


def doors(record: Record) -> Iterator[Finding]:
    for body in values(record, "looks.body"):
        low, high = _DOORS[str(body)]
        for count in values(record, "looks.doors"):
            if isinstance(count, int) and not low <= count <= high:
                why = f"{low} to {high} is usual for body {BODY.label_of(str(body))}"
                yield (look if high else blocks)("looks.doors", str(count), why, "Check the count and the body.")


def proportions(record: Record) -> Iterator[Finding]:
    for length in values(record, "looks.length"):
        for key in ("width", "height"):
            for size in values(record, f"looks.{key}"):
                if isinstance(size, int) and isinstance(length, int) and size >= length:
                    why = f"the overall length is {length} mm"
                    yield look(f"looks.{key}", f"{size} mm", why, "Check that the figures are not swapped.")


def landmarks(record: Record) -> Iterator[Finding]:
    for path, place in places(record):
        levels = _LANDMARK_LEVELS.get(place.landmark or "")
        if levels and place.level not in levels:
            why = f"{LANDMARK.label_of(place.landmark or '')} lies {' or '.join(levels)}"
            yield look(path, words(place), why, "Check the level and the landmark.")


def points(record: Record) -> Iterator[Finding]:
    """The zone is what counts; a drawn point outside it would show the crew another place."""
    for path, place in places(record):
        if not point_in_zone(place):
            box = ", ".join(f"{axis} {low}–{high}" for axis, (low, high) in zip("xyz", zone_box(place), strict=True))
            why = f"the zone {words(place)} is {box}"
            yield blocks(f"{path}.at", str(list(place.at or ())), why, "Correct the point or the zone.")


def denials(record: Record) -> Iterator[Finding]:
    for path, fact in record.facts.items():
        kind = attribute_at(path).kind
        if not (isinstance(kind, Terms) and kind.many):
            continue
        for claim in fact.claims():
            said = claim.value if isinstance(claim.value, tuple) else ()
            alone = next((word for word in said if word in _ALONE), None)
            if alone and len(said) > 1:
                why = f"{kind.vocabulary.label_of(alone)} denies the others"
                yield blocks(path, ", ".join(said), why, "Keep one or the others.")


def places(record: Record) -> Iterator[tuple[str, Place]]:
    """(path, place) of every place anybody states."""
    for path, fact in record.facts.items():
        for claim in fact.claims():
            if isinstance(claim.value, Place):
                yield path, claim.value


CHECKS = (years, vins, steering, category, doors, proportions, landmarks, denials)
