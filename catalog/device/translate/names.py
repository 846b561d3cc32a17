"""Names: what JavaScript reserves, what Python has built in, and what is bound where."""

import ast
from collections.abc import Iterator, Sequence

_RESERVED = frozenset((
    "arguments", "await", "case", "catch", "const", "debugger", "default", "delete", "do", "enum", "eval",
    "export", "extends", "function", "implements", "instanceof", "interface", "let", "new", "null", "of",
    "package", "private", "protected", "public", "static", "super", "switch", "this", "throw", "typeof",
    "undefined", "var", "void", "true", "false", "py",
))  # fmt: skip

# What engine/py.js has of Python, under the same names; all else is refused (tests/unit/test_translate.py holds the two
# together). Built-in functions:
BUILT_IN = frozenset((
    "abs", "all", "any", "bool", "chr", "dict", "divmod", "enumerate", "float", "frozenset", "getattr", "id", "int",
    "isinstance", "iter", "len", "list", "map", "max", "min", "next", "ord", "range", "repr", "reversed", "round",
    "set", "sorted", "str", "sum", "tuple", "zip", "filter",
))  # fmt: skip
# From the standard library:
LIBRARY = {
    "bisect": ("bisect_left", "bisect_right"),
    "collections": ("Counter", "defaultdict"),
    "dataclasses": ("replace",),
    "functools": ("cache", "lru_cache"),
    "itertools": ("accumulate", "pairwise", "product"),
    "pathlib": ("Path",),
    "sys": ("intern",),
}
# What of it takes arguments by name.
TAKES = {"bisect_left": ("row", "x", "lo", "hi", "key"), "lru_cache": ("maxsize",)}
# Methods of strings, lists, sets and dictionaries, called through the runtime, which asks what the object is:
METHODS = frozenset((
    "add", "append", "clear", "copy", "count", "discard", "encode", "endswith", "extend", "find", "get", "index",
    "insert", "intersection", "isalpha", "isascii", "isdigit", "isdisjoint", "isspace", "issuperset", "items", "join",
    "keys", "lower", "partition", "pop", "remove", "removeprefix", "removesuffix", "replace", "reverse", "rpartition",
    "rstrip", "setdefault", "sort", "split", "startswith", "strip", "union", "update", "upper", "values",
))  # fmt: skip


def js(name: str) -> str:
    """A Python name as a JavaScript one."""
    return f"{name}$" if name in _RESERVED else name


def bound(body: Sequence[ast.stmt]) -> list[str]:
    """Names that a function's body gives a meaning, in order, its inner functions' and comprehensions' left out."""
    return list(dict.fromkeys(_bound(body)))


def _bound(body: Sequence[ast.AST]) -> Iterator[str]:
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            continue
        if isinstance(node, ast.Lambda | ast.ListComp | ast.SetComp | ast.DictComp | ast.GeneratorExp):
            # Of these only what := names belongs to the function.
            yield from (n.target.id for n in ast.walk(node) if isinstance(n, ast.NamedExpr))
            continue
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id
        if isinstance(node, ast.MatchAs) and node.name:
            yield node.name
        if isinstance(node, ast.ExceptHandler) and node.name:
            yield node.name
        yield from _bound(list(ast.iter_child_nodes(node)))
