"""Names: what JavaScript reserves, what Python has built in, and what is bound where."""

import ast
from collections.abc import Iterator, Sequence

_RESERVED = frozenset((
    "arguments", "await", "case", "catch", "const", "debugger", "default", "delete", "do", "enum", "eval",
    "export", "extends", "function", "implements", "instanceof", "interface", "let", "new", "null", "of",
    "package", "private", "protected", "public", "static", "super", "switch", "this", "throw", "typeof",
    "undefined", "var", "void", "true", "false", "py",
))  # fmt: skip

# Built-in functions of Python that engine/py.js has, under the same names.
BUILT_IN = frozenset((
    "abs", "all", "any", "bool", "chr", "dict", "divmod", "enumerate", "float", "frozenset", "getattr",
    "hasattr", "id", "int", "isinstance", "iter", "len", "list", "map", "max", "min", "next", "ord", "print",
    "range", "repr", "reversed", "round", "set", "sorted", "str", "sum", "tuple", "zip", "filter",
))  # fmt: skip
# From the standard library, likewise.
LIBRARY = {
    "bisect": ("bisect_left", "bisect_right", "insort"),
    "collections": ("Counter", "defaultdict", "deque"),
    "dataclasses": ("replace",),
    "functools": ("cache", "lru_cache", "partial"),
    "itertools": ("pairwise", "product", "chain", "islice", "combinations", "groupby", "accumulate", "takewhile"),
    "pathlib": ("Path",),
    "operator": ("attrgetter", "itemgetter"),
    "sys": ("intern",),
}
# What those take by name.
TAKES = {
    "bisect_left": ("row", "x", "lo", "hi", "key"), "bisect_right": ("row", "x", "lo", "hi", "key"),
    "lru_cache": ("maxsize",), "product": ("many",),
}  # fmt: skip
# Methods of strings, lists, sets and dictionaries: called through the runtime, which asks what the object is.
METHODS = frozenset((
    "add", "append", "encode", "capitalize", "clear", "copy", "count", "difference", "discard", "endswith", "extend",
    "find", "fromkeys", "get", "index", "insert", "intersection", "isalnum", "isalpha", "isascii", "isdecimal",
    "isdigit", "isdisjoint", "islower", "isspace", "issubset", "issuperset", "istitle", "isupper", "items",
    "join", "keys", "ljust", "lower", "lstrip", "partition", "pop", "popitem", "remove", "removeprefix",
    "removesuffix", "replace", "reverse", "rfind", "rjust", "rpartition", "rsplit", "rstrip", "setdefault",
    "sort", "split", "splitlines", "startswith", "strip", "symmetric_difference", "title", "translate", "union",
    "update", "upper", "values", "zfill", "difference_update", "intersection_update", "most_common", "total",
    "casefold", "elements",
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
