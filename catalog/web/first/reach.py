"""Doors without power, and cutting high voltage off in the guide's order."""

from collections.abc import Sequence
from dataclasses import replace

from catalog.domain.facts import State
from catalog.domain.wording import sentence
from catalog.web.first.lines import Detail, Reader, Step, fact_line, joined

_CUT_WITH_TOOL = frozenset({"lv_cut_loop", "lv_negative", None})


def door_steps(reader: Reader) -> tuple[Step, ...]:
    """One step for all doors that open alike; a door nobody says how to open is no step."""
    alike: dict[tuple[Detail, Detail], list[tuple[str, str]]] = {}
    for path in reader.items("access.doors"):
        name = reader.view(f"{path}.name")
        ways = (reader.detail(f"{path}.outside", "Outside"), reader.detail(f"{path}.inside", "Inside"))
        called = name.text if name.stated else "door, which one not stated"
        alike.setdefault(ways, []).append((called, f"{path}.place"))
    if not alike:
        nothing = Detail("No release without power to count on")
        return (Step(None, "", "None stated", (nothing,), State.NOT_STATED),)
    return tuple(_door(doors, ways) for ways, doors in alike.items())


def _door(doors: Sequence[tuple[str, str]], ways: tuple[Detail, Detail]) -> Step:
    """doors: what each is called, and the path of its place."""
    names = " and ".join(name for name, _ in doors)
    if all(way.state == State.NOT_STATED for way in ways):
        return Step(None, "", sentence(names), ways, State.NOT_STATED)
    return Step(0, "solid", sentence(names), ways, at=tuple(path for _, path in doors))


def cutoff_steps(reader: Reader) -> tuple[Step, ...]:
    """The ways of the record, in its order."""
    made = tuple(_method(reader, path) for path in reader.items("cutoff.methods"))
    if made:
        return made
    nothing = Detail("High voltage stays on; work as if live")
    return (Step(None, "", "No way stated", (nothing,), State.NOT_STATED),)


def _method(reader: Reader, path: str) -> Step:
    kind, place = reader.view(f"{path}.kind"), reader.view(f"{path}.place")
    title = sentence(kind.text) if kind.plain else "Way to cut off"
    first: list[Detail] = [] if kind.plain else [fact_line(kind, "Way")]
    if place.plain:
        title = f"{title}: {place.text}"
    else:
        first.append(fact_line(place, "Where"))
    opening = reader.view(f"{path}.opening")
    if opening.stated:
        first.append(fact_line(opening, "First"))
    wait = replace(reader.detail(f"{path}.wait", "Wait"), strong=True)
    reach = reader.view(f"{path}.reachable_when")
    last = (fact_line(reach, "Reachable"),) if reach.stated else ()
    details = (*joined(first), *joined(_cut_lines(reader, path)), wait, *last)
    return Step(0, "solid", title, details, at=(f"{path}.place",))


def _cut_lines(reader: Reader, path: str) -> list[Detail]:
    """Tool, number of cuts and label; a plug pulled by hand has neither cuts nor label to count."""
    cut = reader.fact(f"{path}.kind").value in _CUT_WITH_TOOL
    made = []
    cuts, label, tool = (reader.view(f"{path}.{key}") for key in ("cuts", "label", "tool"))
    if cuts.plain:
        made.append(Detail("1 cut" if cuts.text == "1" else f"{cuts.text} cuts"))
    elif cut or cuts.stated:
        made.append(fact_line(cuts, "Cuts"))
    if label.plain:
        made.append(Detail(f"Label “{label.text}”"))
    elif cut or label.stated:
        made.append(fact_line(label, "Label"))
    made.append(fact_line(tool, "Tool"))
    return made
