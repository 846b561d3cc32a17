"""Reading and writing a record document at a path such as "ports[a].door.mechanism"."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

Document = dict[str, Any]
_OBJECTS = (dict, Mapping)  # nearly all are the first, which is asked ten times faster


def get(document: Mapping[str, Any], path: str) -> Any:
    """What stands at a path; None where nothing does."""
    node: Any = document
    for key, item in _steps(path):
        if not isinstance(node, _OBJECTS) or key not in node:
            return None
        node = node[key]
        if item is not None:
            node = _item(node, item)
    return node


def put(document: Document, path: str, value: Any) -> None:
    """Set a path, making objects on the way. Raises KeyError where an item of a list on the way is not there."""
    steps = _steps(path)
    node = document
    for key, item in steps[:-1]:
        if item is None:
            node = node.setdefault(key, {})
        else:
            found = _item(node.get(key, ()), item)
            if found is None:
                raise KeyError(path)
            node = found
    node[steps[-1][0]] = value


def drop(document: Document, path: str) -> None:
    """Take a path away, and the objects it leaves empty; items of lists stay, with their id alone."""
    way: list[tuple[Document, str]] = []
    node: Any = document
    for key, item in _steps(path):
        if not isinstance(node, dict) or key not in node:
            return
        if item is None:
            way.append((node, key))
            node = node[key]
        else:
            way = []  # an item keeps its place
            node = _item(node[key], item)
    if node is None or not way:
        return
    holder, key = way.pop()
    del holder[key]
    for holder, key in reversed(way):
        if holder[key]:
            return
        del holder[key]


def _item(entries: Any, named: str) -> Document | None:
    for entry in entries:
        if entry.get("id") == named:
            found: Document = entry
            return found
    return None


@lru_cache(maxsize=100_000)
def _steps(path: str) -> tuple[tuple[str, str | None], ...]:
    """ "ports[a].door.mechanism" -> (("ports", "a"), ("door", None), ("mechanism", None))."""
    made: list[tuple[str, str | None]] = []
    for part in path.split("."):
        key, bracket, item = part.partition("[")
        made.append((key, item.removesuffix("]") if bracket else None))
    return tuple(made)
