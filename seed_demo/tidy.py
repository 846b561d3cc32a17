"""Write the documents one fact to a line, keys in the specification's order.

`python -m seed_demo.tidy` rewrites the files in place and names those it changed;
tests/unit/test_seed_demo.py fails while any file would change.
"""

import json
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from catalog.domain.spec import TREE, Attr, ListOf, Node, Section
from seed_demo.files import FOLDERS, documents
from seed_demo.merge import is_fact

_SHORT = 100
_SECTIONS: Mapping[str, Section | ListOf] = {section.key: section for section in TREE}

# Keys that are not the specification's, in the order they are written; others follow by name.
_PLAIN = (
    "family", "shared", "records",
    "code", "without", "order", "cite", "overrides", "set",
    "format", "identity", *_SECTIONS, "complete", "notes",
    "make", "model", "variant", "propulsion", "category", "platform", "years", "steering", "markets", "names",
    "twin_of", "replaces", "replaced_by", "vins",
    "id", "lang", "value", "fitted", "fit", "depends", "disputed", "side", "end", "level", "landmark", "at",
    "kind", "number", "issue", "title", "publisher", "issued", "retrieved", "published_at", "author", "pages",
    "page", "heading", "text", "from", "to",
    "adds", "changes", "withdraw", "reason", "sources", "sections", "src",
)  # fmt: skip
_RANK = {key: rank for rank, key in enumerate(_PLAIN)}


def tidied(document: Mapping[str, Any]) -> str:
    """The text a document is kept as, with a line feed at its end."""
    return _written(_ordered(document), 0) + "\n"


def _ordered(node: Any, nodes: Iterable[Node] = ()) -> Any:
    """The same value with its keys in order. nodes: what the specification says is in this object."""
    if isinstance(node, list):
        return [_ordered(entry, nodes) for entry in node]
    if not isinstance(node, Mapping):
        return node
    inner = {} if is_fact(node) else {child.key: child for child in nodes}
    ranks = {"id": -1} | {key: rank for rank, key in enumerate(inner)} if inner else _RANK
    made = {}
    for key in sorted(node, key=lambda key: (ranks.get(key, len(_RANK)), key)):
        child = inner.get(key) or (_SECTIONS.get(key) if not inner else None)
        made[key] = _ordered(node[key], () if child is None or isinstance(child, Attr) else child.children)
    return made


def _written(node: Any, depth: int) -> str:
    if not isinstance(node, list | Mapping) or not node or _on_one_line(node):
        return json.dumps(node, ensure_ascii=False)
    pad = "  " * (depth + 1)
    if isinstance(node, list):
        lines = [f"{pad}{_written(entry, depth + 1)}" for entry in node]
        return "[\n" + ",\n".join(lines) + f"\n{'  ' * depth}]"
    lines = [f"{pad}{json.dumps(key)}: {_written(value, depth + 1)}" for key, value in node.items()]
    return "{\n" + ",\n".join(lines) + f"\n{'  ' * depth}}}"


def _on_one_line(node: Any) -> bool:
    """A fact always is; anything else when it is short and holds no fact."""
    if isinstance(node, Mapping) and is_fact(node):
        return True
    return not _holds_fact(node) and len(json.dumps(node, ensure_ascii=False)) <= _SHORT


def _holds_fact(node: Any) -> bool:
    if isinstance(node, list):
        return any(map(_holds_fact, node))
    return isinstance(node, Mapping) and (is_fact(node) or any(map(_holds_fact, node.values())))


def main() -> None:
    """Rewrite what is not tidy, naming it."""
    for folder in FOLDERS:
        for entry, document in documents(folder):
            text = tidied(document)
            if entry.read_text(encoding="utf-8") != text:
                path = Path(str(entry))
                path.write_text(text, encoding="utf-8")
                sys.stdout.write(f"tidied {folder}/{path.name}\n")


if __name__ == "__main__":
    main()
