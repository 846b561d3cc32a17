"""Which vehicles a record is about, in words."""

from catalog.domain.facts import State
from catalog.domain.markets import MARKET
from catalog.domain.record import Record, attribute_at
from catalog.domain.vocabulary import PROPULSION, STEERING
from catalog.domain.wording import value_words


def identity_words(record: Record) -> tuple[tuple[str, str], ...]:
    """(label, words) of everything its identity says; what it leaves out has no row."""
    one = record.identity
    rows = (
        ("Make", one.make),
        ("Model", one.model),
        ("Variant", one.variant or ""),
        ("Also called", ", ".join(one.names)),
        ("Model years", str(one.years)),
        ("Propulsion", PROPULSION.label_of(one.propulsion)),
        ("UNECE category", one.category),
        ("Steering", ", ".join(STEERING.label_of(key) for key in one.steering)),
        ("Markets", ", ".join(MARKET.label_of(key) for key in one.markets)),
        ("Platform family", one.platform or ""),
        ("VIN patterns", ", ".join(one.vins)),
    )
    return tuple((label, text) for label, text in rows if text)


def vehicle_line(record: Record) -> str:
    """ "pickup 2021–2024, battery electric"."""
    path = "looks.body"
    body = record.fact(path)
    shape = value_words(attribute_at(path), body.value) if body.state is State.STATED and body.value else "vehicle"
    return f"{shape} {record.identity.years}, {PROPULSION.label_of(record.identity.propulsion)}"
