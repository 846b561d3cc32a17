"""What an edge was sent about a reading, as the resolver takes it."""

from collections.abc import Mapping
from typing import Any

from catalog.domain.attributes import value_of
from catalog.resolve.amending import Amendments, Given, Key
from catalog.resolve.cue import Cue, Doubt


def amendments_of(given: Mapping[str, Any]) -> Amendments:
    """The `cues` and `struck` of a request that passed its schema."""
    return Amendments(
        tuple(_key(one) for one in given.get("struck", ())),
        tuple(_given(one) for one in given.get("cues", ())),
    )


def _values(one: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(sorted({value_of(one["attribute"], text) or text for text in one["values"]}))


def _key(one: Mapping[str, Any]) -> Key:
    return (one["attribute"], _values(one), one["denied"], one["vehicle"])


def _given(one: Mapping[str, Any]) -> Given:
    return Given(cue_of(one), _key(one["instead_of"]) if "instead_of" in one else None)


def cue_of(one: Mapping[str, Any]) -> Cue:
    """A cue said outright that passed its schema."""
    values = _values(one)
    said = " or ".join(values)
    return Cue(one["attribute"], values, (), said, one["denied"], Doubt(one["doubt"]), vehicle=one["vehicle"])
