"""What the writers of one module share: what names mean, and how an expression finds its writer."""

import ast
from collections.abc import Callable
from dataclasses import dataclass, field

from catalog.device.translate.source import Module, NotTranslatable, Program

_ALWAYS_BOOLEAN = frozenset({"any", "all", "isinstance", "bool"})


@dataclass(slots=True)
class Writer:
    """What is known while one module is written. local: names bound in the functions around."""

    program: Program
    module: Module
    local: list[set[str]] = field(default_factory=list)

    @property
    def vectors(self) -> bool:
        """Whether the module reckons with rows of numbers: every operator may then be elementwise."""
        return any(home == "numpy" for home, _ in self.module.imports.values())

    def refuse(self, node: ast.AST, what: str) -> NotTranslatable:
        """To be raised: what cannot be translated, and where it stands."""
        line = getattr(node, "lineno", 0)
        return NotTranslatable(f"{self.module.path}:{line}: {what} has no translation. Write it more plainly.")

    def expr(self, node: ast.expr) -> str:
        """The value of an expression."""
        writer: Callable[[ast.expr], str] | None = getattr(self, f"_{type(node).__name__.lower()}", None)
        if writer is None:
            raise self.refuse(node, type(node).__name__)
        return writer(node)

    def cond(self, node: ast.expr) -> str:
        """An expression of which only the truth is asked."""
        if isinstance(node, ast.BoolOp):
            return "(" + (" && " if isinstance(node.op, ast.And) else " || ").join(map(self.cond, node.values)) + ")"
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            return f"!{self.cond(node.operand)}"
        if isinstance(node, ast.Compare) or self._is_boolean(node):
            return self.expr(node)
        return f"py.t({self.expr(node)})"

    def _is_boolean(self, node: ast.expr) -> bool:
        if isinstance(node, ast.Constant):
            return isinstance(node.value, bool)
        return (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in _ALWAYS_BOOLEAN
            and not self.is_local(node.func.id)
        )

    def is_scoped(self, name: str) -> bool:
        """Whether a function around gives the name a meaning."""
        return any(name in scope for scope in self.local)

    def is_local(self, name: str) -> bool:
        """Whether the module or a function around does."""
        return self.is_scoped(name) or name in self.module.names or name in self.module.imports

    def names_module(self, name: str) -> bool:
        """Whether it means another module as a whole."""
        return name in self.module.imports and not self.module.imports[name][1] and not self.is_scoped(name)


def is_nothing(node: ast.expr) -> bool:
    """What is taken and thrown away."""
    return isinstance(node, ast.Name) and node.id == "_"


def is_number(node: ast.expr) -> bool:
    """Whether it is a number for certain."""
    if isinstance(node, ast.Constant):
        return isinstance(node.value, int | float) and not isinstance(node.value, bool)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return is_number(node.operand)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return node.func.id in ("len", "abs")
    if isinstance(node, ast.BinOp):
        sides = is_number(node.left), is_number(node.right)
        # A list times a number is a list.
        return all(sides) if isinstance(node.op, ast.Mult) else isinstance(node.op, ast.Add | ast.Sub) and any(sides)
    return False


def is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def is_plain(node: ast.expr) -> bool:
    """Whether it is equal to nothing but itself."""
    return (isinstance(node, ast.Constant) and node.value is not None) or is_number(node) or is_text(node)


def is_not(node: ast.expr) -> bool:
    return isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)
