"""Plain values, names, and parts of things. Where the two languages differ the runtime is called (engine/py.js)."""

import ast
import json

from catalog.device.translate.names import BUILT_IN, LIBRARY, METHODS, js
from catalog.device.translate.source import TYPING
from catalog.device.translate.writer import Writer

GENERIC = ("tuple", "dict", "list", "set", "frozenset")
_FORMATS = ("f','", "f'.1f'", "f'%Y-%m-%d'")


class Values(Writer):
    """Writes values."""

    __slots__ = ()

    def _constant(self, node: ast.Constant) -> str:
        if node.value is None or isinstance(node.value, bool):
            return {None: "null", True: "true", False: "false"}[node.value]
        if isinstance(node.value, str | int | float):
            return json.dumps(node.value)
        raise self.refuse(node, f"the constant {node.value!r}")

    def _name(self, node: ast.Name) -> str:
        name = node.id
        if any(name in scope for scope in self.local) or name in self.module.names:
            return js(name)
        if name in self.module.imports:
            home, own = self.module.imports[name]
            if own in LIBRARY.get(home, ()):
                return f"py.{own}"
            if own and home not in self.program.modules and home not in TYPING:
                raise self.refuse(node, f"{own} of {home}")
            return js(name)
        if name == "__file__":
            return json.dumps(self.module.name.replace(".", "/"))
        if name in BUILT_IN:
            return f"py.{name}"
        raise self.refuse(node, f"the name {name}")

    def _tuple(self, node: ast.Tuple) -> str:
        return self._list(node)

    def _list(self, node: ast.Tuple | ast.List) -> str:
        return "[" + ", ".join(map(self.element, node.elts)) + "]"

    def _set(self, node: ast.Set) -> str:
        return "py.set([" + ", ".join(map(self.element, node.elts)) + "])"

    def element(self, node: ast.expr) -> str:
        return f"...{self.expr(node.value)}" if isinstance(node, ast.Starred) else self.expr(node)

    def _dict(self, node: ast.Dict) -> str:
        made = [
            f"...{self.expr(value)}.items()" if key is None else f"[{self.expr(key)}, {self.expr(value)}]"
            for key, value in zip(node.keys, node.values, strict=True)
        ]
        return f"py.dict([{', '.join(made)}])"

    def _joinedstr(self, node: ast.JoinedStr) -> str:
        parts = []
        for value in node.values:
            if isinstance(value, ast.Constant):
                parts.append(json.dumps(value.value))
            elif isinstance(value, ast.FormattedValue) and value.format_spec is None:
                parts.append(f"py.{'repr' if value.conversion == ord('r') else 'str'}({self.expr(value.value)})")
            elif isinstance(value, ast.FormattedValue) and ast.unparse(value.format_spec or node) in _FORMATS:
                form = ast.unparse(value.format_spec or node)[2:-1]
                parts.append(f"py.format({self.expr(value.value)}, {json.dumps(form)})")
            else:
                raise self.refuse(node, "a format")
        return "(" + " + ".join(parts or ['""']) + ")"

    def _attribute(self, node: ast.Attribute) -> str:
        if isinstance(node.value, ast.Name) and self.names_module(node.value.id):
            return f"{js(node.value.id)}.{js(node.attr)}"
        if node.attr == "value":  # of an enumeration's word, which is a plain string here
            return f"py.value({self.expr(node.value)})"
        owner = self.expr(node.value)
        if node.attr == "__name__":
            return f"{owner}.name"
        if self.program.is_of_word(node.attr):
            return f"py.word({owner}, {json.dumps(node.attr)})"
        if node.attr not in METHODS and self.program.methods(node.attr) and not self.program.is_property(node.attr):
            return f"py.bound({owner}, {json.dumps(node.attr)})"
        if node.attr in METHODS:  # asked for, not called: a method of a list or text, or a field of that name
            return f"py.attr({owner}, {json.dumps(node.attr)})"
        return f"{owner}.{node.attr}"

    def _subscript(self, node: ast.Subscript) -> str:
        value = self.expr(node.value)
        if isinstance(node.value, ast.Name) and node.value.id in GENERIC and not self.is_local(node.value.id):
            return value  # list[str]() makes a list
        if isinstance(node.slice, ast.Slice):
            return f"py.slice({', '.join([value, *self.slice_parts(node.slice)])})"
        return f"py.at({value}, {self.index(node.slice)})"

    def index(self, node: ast.expr) -> str:
        """What stands in brackets; of tables of numbers it may be two things, one of them a slice."""
        if isinstance(node, ast.Tuple) and self.vectors:
            return f"py.pair({', '.join(map(self.index, node.elts))})"
        if isinstance(node, ast.Slice):
            return f"py.cut({', '.join(self.slice_parts(node)[:2])})"
        return self.expr(node)

    def slice_parts(self, node: ast.Slice) -> list[str]:
        """Begin, end and, where there is one, step."""
        parts = ["null" if part is None else self.expr(part) for part in (node.lower, node.upper)]
        return [*parts, self.expr(node.step)] if node.step else parts
