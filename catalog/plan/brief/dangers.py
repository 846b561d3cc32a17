"""The most dangerous truths of a scene, and how it is stopped: rows of data/brief.json, worst or narrowest first."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.conditions import holds
from catalog.plan.scene import Said

Row = Mapping[str, Any]


def dangers_of(each: Sequence[Each]) -> Sequence[Row]:
    """Those that hold whichever vehicle it is, worst first. There is always one."""
    return [row for row in brief_words()["dangers"] if _on_all(row, each)]


def also_words(dangers: Sequence[Row]) -> str:
    """ "Also: leak, charger attached." The first danger leads and what it covers is not named again; "" for none."""
    covered = ("", dangers[0]["also"], *dangers[0].get("covers", ()))
    named = [row["also"] for row in dangers[1:] if row["also"] not in covered]
    return f"Also: {', '.join(dict.fromkeys(named))}." if named else ""


def motion_of(each: Sequence[Each]) -> Row:
    """How it is stopped: the first row that holds whichever vehicle it is."""
    return next(row for row in brief_words()["motion"] if _on_all(row, each))


def told_besides(each: Sequence[Each]) -> Iterator[tuple[str, str]]:
    """(key, sentence) of what may be there: said where it may be so of any of the vehicles."""
    for row in brief_words()["besides"]:
        if any(holds(row["when"], one.values.of("")) is Said.YES for one in each):
            yield row["id"], row["say"]


def _on_all(row: Row, each: Sequence[Each]) -> bool:
    return all(holds(row["when"], one.values.of("")) is Said.YES for one in each)
