"""A whole module as JavaScript: its functions, its classes, and what stands at its top."""

import ast
import json
from collections.abc import Sequence

from catalog.device.translate.names import bound, js
from catalog.device.translate.source import TYPING, Class
from catalog.device.translate.statements import STEP, Lines, Statements
from catalog.device.translate.values import GENERIC

_TYPING_NAMES = ("Mapping", "Sequence", "Callable", "Iterable", "Iterator", "Set", "TypeVar", "NewType", "NDArray")


class Modules(Statements):
    """Writes one module."""

    __slots__ = ()

    def top(self) -> Lines:
        """The statements of the module, its functions first: nothing of theirs runs before it is called."""
        for node in self.module.tree.body:
            if isinstance(node, ast.FunctionDef):
                yield from self.function(node)
        names = [name for name in bound(self.module.tree.body) if not self._is_typing_name(name)]
        if names:
            yield f"let {', '.join(map(js, names))};"
        for node in self.module.tree.body:
            if isinstance(node, ast.FunctionDef):
                if any(ast.unparse(mark).startswith(("cache", "lru_cache")) for mark in node.decorator_list):
                    yield f"{js(node.name)} = py.cache({js(node.name)});"
            elif isinstance(node, ast.ClassDef):
                yield from self.class_(node, self.module.classes[node.name])
            elif not self._is_typing(node):
                yield from self.statement(node)

    def _is_typing_name(self, name: str) -> bool:
        for node in self.module.tree.body:
            if self._is_typing(node) and name in {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}:
                return isinstance(node, ast.Assign) and any(
                    isinstance(target, ast.Name) and target.id == name for target in node.targets
                )
        return False

    def _is_typing(self, node: ast.stmt) -> bool:
        """Whether a statement only names a type, or imports."""
        if isinstance(node, ast.Import | ast.ImportFrom):
            return True
        if isinstance(node, ast.Assign):
            return self._is_type(node.value)
        return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)

    def _is_type(self, node: ast.expr) -> bool:
        """Whether a value only names a type: `Mapping[str, int]`, `TypeVar("T")`."""
        if isinstance(node, ast.BinOp):
            leaves = (node.left, node.right)
            return isinstance(node.op, ast.BitOr) and any(self._is_type(e) or self._is_type_leaf(e) for e in leaves)
        if isinstance(node, ast.Name):
            return self.module.imports.get(node.id, ("", ""))[0] in TYPING
        if isinstance(node, ast.Subscript):
            return self._is_type_name(node.value, (*GENERIC, *_TYPING_NAMES))
        return isinstance(node, ast.Call) and self._is_type_name(node.func, ("TypeVar", "NewType"))

    def _is_type_leaf(self, node: ast.expr) -> bool:
        if not isinstance(node, ast.Name):
            return False
        return node.id in ("str", "int", "bool", "float") or self.program.class_of(self.module, node.id) is not None

    def _is_type_name(self, node: ast.expr, names: Sequence[str]) -> bool:
        if not isinstance(node, ast.Name) or node.id not in names:
            return False
        return node.id in GENERIC or self.module.imports.get(node.id, ("", ""))[0] in TYPING

    def class_(self, node: ast.ClassDef, made: Class) -> Lines:
        """A class: a function with `new`, its methods on the prototype."""
        name = js(node.name)
        if made.kind == "words":
            yield from self._words(node, name)
            return
        if made.kind == "plain":
            yield from self._plain(node, name)
        else:
            yield from self._record(node, made, name)
        yield from self._methods(node, name)

    def _words(self, node: ast.ClassDef, name: str) -> Lines:
        pairs = [
            f"[{json.dumps(item.targets[0].id)}, {self.expr(item.value)}]"
            for item in node.body
            if isinstance(item, ast.Assign) and isinstance(item.targets[0], ast.Name)
        ]
        yield f"{name} = py.words([{', '.join(pairs)}]);"
        for item in node.body:
            if isinstance(item, ast.FunctionDef):
                marks = {ast.unparse(mark) for mark in item.decorator_list}
                if "classmethod" in marks:
                    yield from self.function(item, name, 1)
                elif "property" in marks:
                    yield f"{{ const got = {{}}; {' '.join(self.function(item, 'got'))}"
                    yield f'py.ofWord({name}, "{item.name}", got.{item.name}); }}'
                else:
                    raise self.refuse(item, "a method of an enumeration's word")

    def _plain(self, node: ast.ClassDef, name: str) -> Lines:
        start = next((i for i in node.body if isinstance(i, ast.FunctionDef) and i.name == "__init__"), None)
        yield f"{name} = function (...given) {{"
        yield f"{STEP}if (!new.target) return new {name}(...given);"
        if start is not None:
            yield f"{STEP}this.__init__(...given);"
        yield "};"
        yield f'py.plain({name}, "{node.name}");'

    def _record(self, node: ast.ClassDef, made: Class, name: str) -> Lines:
        defaults = {
            item.target.id: self._default(item.value)
            for item in node.body
            if isinstance(item, ast.AnnAssign) and isinstance(item.target, ast.Name) and item.value is not None
        }
        fields = [js(field) + (f" = {defaults[field]}" if field in defaults else "") for field in made.fields]
        yield f"{name} = function ({', '.join(fields)}) {{"
        yield f"{STEP}if (!new.target) return new {name}({', '.join(map(js, made.fields))});"
        yield from (f"{STEP}this.{field} = {js(field)};" for field in made.fields)
        if "__post_init__" in made.methods:
            yield f"{STEP}this.__post_init__();"
        yield "};"
        kept = "row" if made.kind == "tuple" else "record"
        told = json.dumps(list(made.fields))
        yield f'py.{kept}({name}, "{node.name}", {told}, {"true" if made.kind == "alone" else "false"});'

    def _default(self, node: ast.expr) -> str:
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "field":
            for keyword in node.keywords:
                if keyword.arg == "default_factory":
                    return f"{self.expr(keyword.value)}()"
                if keyword.arg == "default":
                    return self.expr(keyword.value)
        return self.expr(node)

    def _methods(self, node: ast.ClassDef, name: str) -> Lines:
        for item in node.body:
            if not isinstance(item, ast.FunctionDef):
                if isinstance(item, ast.Assign):
                    raise self.refuse(item, "a value of a class")
                continue
            marks = {ast.unparse(mark) for mark in item.decorator_list}
            if marks & {"property", "cached_property"}:
                once = "true" if "cached_property" in marks else "false"
                lines = list(self.function(item, "got", 1))
                yield f"{{ const got = {{}}; {lines[0]}"
                yield from lines[1:]
                yield f'py.property({name}, "{item.name}", got.{item.name}, {once}); }}'
            elif "classmethod" in marks:
                yield from self.function(item, name, 1)
            elif "staticmethod" in marks:
                yield from self.function(item, name)
            elif not marks:
                yield from self.function(item, f"{name}.prototype", 1)
            else:
                raise self.refuse(item, f"the decorator {', '.join(marks)}")
