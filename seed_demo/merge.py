"""How a family's shared document and a record's own lines become one document.

Objects merge key by key, lists of items merge by item id, everything else (a fact, a plain
value, a list of words) is replaced whole, so that half of an old fact never survives.
"""

import copy
import re
from collections.abc import Iterator, Mapping
from typing import Any

Document = dict[str, Any]

_STEP = re.compile(r"([a-z0-9_]+)(?:\[([a-z0-9_]+)\])?")


def member(shared: Mapping[str, Any], entry: Mapping[str, Any]) -> Document:
    """The document of one family member.

    entry: `without` drops shared paths, `cite` swaps sources in what is left of the shared part
    ({"ABC-1/1": "ABC-1/2"} a whole guide, {"ABC-1/1:9": "ABC-1/1:10"} one page), `overrides` are
    merged, `order` puts items in a new order.
    """
    made = copy.deepcopy(dict(shared))
    for path in entry.get("without", ()):
        drop(made, path)
    made = merged(_recited(made, entry.get("cite", {})), entry.get("overrides", {}))
    for path, ids in entry.get("order", {}).items():
        reorder(made, path, ids)
    return made


def changed(document: Mapping[str, Any], change: Mapping[str, Any]) -> Document:
    """A later revision: `without` drops paths, `set` puts whole facts or plain values at paths."""
    made = copy.deepcopy(dict(document))
    for path in change.get("without", ()):
        drop(made, path)
    for path, value in change.get("set", {}).items():
        put(made, path, value)
    return made


def merged(base: Mapping[str, Any], over: Mapping[str, Any]) -> Document:
    """Base with over merged in; neither is changed."""
    made = dict(base)
    for key, value in over.items():
        made[key] = _merged_value(base[key], value) if key in base else copy.deepcopy(value)
    return made


def _merged_value(old: Any, new: Any) -> Any:
    if isinstance(old, dict) and isinstance(new, dict) and not (is_fact(old) or is_fact(new)):
        return merged(old, new)
    if _has_items(old) and _has_items(new):
        by_id = {item["id"]: item for item in old}
        for item in new:
            by_id[item["id"]] = merged(by_id[item["id"]], item) if item["id"] in by_id else item
        return copy.deepcopy(list(by_id.values()))
    return copy.deepcopy(new)


def is_fact(node: Mapping[str, Any]) -> bool:
    """Whether an object is one claim (and not a group that has a member called "fitted")."""
    return "value" in node or "disputed" in node or node.get("fitted") is False


def _has_items(node: Any) -> bool:
    return isinstance(node, list) and bool(node) and all(isinstance(item, dict) and "id" in item for item in node)


def drop(document: Document, path: str) -> None:
    """Remove what is at a path. Raises ValueError when nothing is there."""
    parent, key = _find(document, path)
    del parent[key]


def put(document: Document, path: str, value: Any) -> None:
    """Set what is at a path, making missing groups (never missing items) on the way."""
    parent, key = _find(document, path, make=True)
    parent[key] = copy.deepcopy(value)


def reorder(document: Document, path: str, ids: list[str]) -> None:
    """Put a list's items in the order of ids. Raises ValueError unless ids are exactly its items."""
    parent, key = _find(document, path)
    by_id = {item["id"]: item for item in parent[key]}
    if sorted(by_id) != sorted(ids):
        raise ValueError(f"{path}: the order names {sorted(ids)}, the items are {sorted(by_id)}")
    parent[key] = [by_id[item] for item in ids]


def _find(document: Document, path: str, *, make: bool = False) -> tuple[Any, Any]:
    """The object or list that holds the path's last step, and the key or position in it."""
    parent: Any = document
    key: Any = None
    for step in _steps(path):
        if key is not None:
            parent = parent.setdefault(key, {}) if make and isinstance(parent, dict) else parent[key]
        key = _position(parent, step, path) if isinstance(parent, list) else step
        if not make and isinstance(parent, dict) and key not in parent:
            raise ValueError(f"{path}: there is no {step} to drop")
    return parent, key


def _position(items: list[Any], wanted: str, path: str) -> int:
    for position, item in enumerate(items):
        if item.get("id") == wanted:
            return position
    raise ValueError(f"{path}: there is no item {wanted}")


def _steps(path: str) -> Iterator[str]:
    """ "ports[a].door" -> ports, a, door. Keys of `complete` are paths themselves: one step."""
    if path.startswith("complete."):
        yield "complete"
        yield path.removeprefix("complete.")
        return
    for part in path.split("."):
        found = _STEP.fullmatch(part)
        if found is None:
            raise ValueError(f"{path} is not a path such as ports[a].door.mechanism")
        yield found[1]
        if found[2]:
            yield found[2]


def _recited(node: Any, swaps: Mapping[str, str]) -> Any:
    if isinstance(node, dict):
        return {key: _swapped(value, swaps) if key == "src" else _recited(value, swaps) for key, value in node.items()}
    return [_recited(value, swaps) for value in node] if isinstance(node, list) else node


def _swapped(references: list[str], swaps: Mapping[str, str]) -> list[str]:
    made = []
    for reference in references:
        key, colon, page = reference.partition(":")
        made.append(swaps.get(reference) or f"{swaps.get(key, key)}{colon}{page}")
    return made
