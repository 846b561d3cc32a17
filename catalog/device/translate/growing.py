"""Which names of a function hold a list: += adds to that very list there, and makes another of a tuple."""

import ast
from collections.abc import Iterator, Sequence


def own_nodes(body: Sequence[ast.AST]) -> Iterator[ast.AST]:
    """What stands in a body, inner functions left out."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.Lambda):
            continue
        yield node
        yield from own_nodes(list(ast.iter_child_nodes(node)))


def growing(node: ast.FunctionDef) -> set[str]:
    """Names that hold a list: += adds to that very list, whoever else holds it."""
    arguments = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    made = {arg.arg for arg in arguments if arg.annotation and _is_list(arg.annotation)}
    before = -1
    while len(made) != before:
        before = len(made)
        for each in own_nodes(node.body):
            if isinstance(each, ast.Assign):
                for target in each.targets:
                    made |= {name for name, value in _given(target, each.value) if _holds_list(value, made)}
            if isinstance(each, ast.AnnAssign) and isinstance(each.target, ast.Name) and _is_list(each.annotation):
                made.add(each.target.id)
    return made


def _given(target: ast.expr, value: ast.expr) -> Iterator[tuple[str, ast.expr]]:
    """(name, value) of an assignment, `a, b = [], []` taken apart."""
    if isinstance(target, ast.Name):
        yield target.id, value
    elif isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        for each, part in zip(target.elts, value.elts, strict=False):
            yield from _given(each, part)


def _is_list(annotation: ast.expr) -> bool:
    return ast.unparse(annotation).startswith("list")


def _holds_list(value: ast.expr, known: set[str]) -> bool:
    if isinstance(value, ast.IfExp):
        return _holds_list(value.body, known) and _holds_list(value.orelse, known)
    if isinstance(value, ast.Call):
        made = value.func.value if isinstance(value.func, ast.Subscript) else value.func
        return isinstance(made, ast.Name) and made.id in ("list", "sorted")
    return isinstance(value, ast.List | ast.ListComp) or (isinstance(value, ast.Name) and value.id in known)
