"""Calls as JavaScript: names of arguments become places, and some functions are written in another way."""

import ast
import json

from catalog.device.translate.loops import Loops
from catalog.device.translate.names import BUILT_IN, LIBRARY, METHODS, TAKES, js
from catalog.device.translate.source import Signature

_REDUCED = ("axis", "keepdims", "initial")  # what the sums and extremes of rows of numbers take


class Calls(Loops):
    """Writes calls: with them every expression has its writer."""

    __slots__ = ()

    def _call(self, node: ast.Call) -> str:
        func = node.func
        if isinstance(func, ast.Name) and not self.is_scoped(func.id):
            if (special := self._special(func.id, node)) is not None:
                return special
            made = self.program.class_of(self.module, func.id)
            if made is not None and made.kind != "words":
                return f"new {js(func.id)}({self._arguments(node, self._known(node))})"
        if isinstance(func, ast.Attribute):
            return self._method(func, node)
        return f"{self.expr(func)}({self._arguments(node, self._known(node))})"

    def _known(self, node: ast.Call) -> Signature | None:
        if isinstance(node.func, ast.Name) and not self.is_scoped(node.func.id):
            if (own := self.module.imports.get(node.func.id, ("", ""))[1]) in TAKES:
                return Signature(TAKES[own])
            return self.program.signature_of(self.module, node.func.id)
        return None

    def _special(self, name: str, node: ast.Call) -> str | None:
        """Calls that are written in another way; None for all others."""
        from_, own = self.module.imports.get(name, ("", ""))
        if name in ("cast",) and from_ == "typing":
            return self.expr(node.args[1])
        if own == "replace" and from_ == "dataclasses":
            changes = ", ".join(f"{k.arg}: {self.expr(k.value)}" for k in node.keywords)
            return f"py.replace({self.expr(node.args[0])}, {{{changes}}})"
        if own == "partial" and isinstance(node.args[0], ast.Name):
            known = self.program.signature_of(self.module, node.args[0].id)
            if known is not None:
                given = ", ".join([*map(self.element, node.args[1:]), "...a"])
                told = ", ".join(f"{k.arg}: {self.expr(k.value)}" for k in node.keywords)
                made = (
                    f"{self.expr(node.args[0])}(...py.placed([{given}], {json.dumps(list(known.names))}, {{{told}}}))"
                )
                return f"((...a) => {made})"
        if name not in BUILT_IN or name in self.module.names or name in self.module.imports:
            return None
        if name in ("any", "all") and isinstance(node.args[0], ast.GeneratorExp):
            return self._quantified(name, node.args[0])
        if name == "next" and isinstance(node.args[0], ast.GeneratorExp):
            return self._first(node.args[0], node.args[1:])
        if name == "isinstance":
            return self._isinstance(node)
        if name in ("sorted", "max", "min"):
            options = ", ".join(f"{k.arg}: {self.expr(k.value)}" for k in node.keywords)
            return f"py.{name}({{{options}}}, {self._positional(node)})"
        if name in ("enumerate", "sum", "zip", "dict"):
            named = [self.expr(k.value) for k in node.keywords if k.arg not in ("strict",)]
            return f"py.{name}({', '.join(filter(None, [self._positional(node), *named]))})"
        return f"py.{name}({self._positional(node)})" if not node.keywords else None

    def _isinstance(self, node: ast.Call) -> str:
        value, kinds = self.expr(node.args[0]), node.args[1]
        names = [each for each in ast.walk(kinds) if isinstance(each, ast.Name)]
        tests = []
        for each in names:
            if self.program.class_of(self.module, each.id) is not None:
                tests.append(f"py.is({value}, {js(each.id)})")
            else:
                tests.append(f"py.is({value}, {json.dumps(each.id)})")
        return "(" + " || ".join(tests) + ")"

    def _method(self, func: ast.Attribute, node: ast.Call) -> str:
        if isinstance(func.value, ast.Name) and self.names_module(func.value.id):
            home = self.module.imports[func.value.id][0]
            if home == "numpy":
                return self._of_rows(f"np.{func.attr}", node)
            if home == "json":
                return f"py.json.{func.attr}({self._positional(node)})"
            if home in LIBRARY or home == "math":
                given = ", ".join([*map(self.element, node.args), *(self.expr(k.value) for k in node.keywords)])
                return f"py.{'math.' if home == 'math' else ''}{func.attr}({given})"
            known = self.program.modules.get(home)
            signature = self.program.signature_of(known, func.attr) if known else None
            new = "new " if known and func.attr in known.classes and known.classes[func.attr].kind != "words" else ""
            return f"{new}{js(func.value.id)}.{js(func.attr)}({self._arguments(node, signature)})"
        if isinstance(func.value, ast.Name) and (told := self._of_class(func.value.id, func.attr, node)) is not None:
            return told
        if isinstance(func.value, ast.Call) and ast.unparse(func.value.func) == "super":
            raise self.refuse(node, "super")
        signature = self._method_signature(func.attr, node)
        owner = self.expr(func.value)
        if isinstance(func.value, ast.Attribute) and ast.unparse(func.value) in ("np.add", "np.maximum"):
            return self._of_rows(f"{ast.unparse(func.value)}.{func.attr}", node)
        if func.attr in METHODS:
            return f"py.m.{func.attr}({', '.join(filter(None, [owner, self._arguments(node, signature)]))})"
        return f"{owner}.{func.attr}({self._arguments(node, signature)})"

    def _of_rows(self, name: str, node: ast.Call) -> str:
        """A function of np.js; its names come in one object, but for the kind of number."""
        kinds = [self.expr(k.value) for k in node.keywords if k.arg == "dtype"]
        named = [f"{k.arg}: {self.expr(k.value)}" for k in node.keywords if k.arg not in ("dtype", "mode")]
        given = [*map(self.element, node.args), *kinds, *([f"{{{', '.join(named)}}}"] if named else [])]
        return f"{name}({', '.join(given)})"

    def _of_class(self, name: str, method: str, node: ast.Call) -> str | None:
        """A method asked of a class: `Record.fact(record, path)`, `frozenset.intersection(a, b)`."""
        if self.is_scoped(name):
            return None
        made = self.program.class_of(self.module, name)
        if made is not None and method in made.methods and method not in made.statics:
            return f"{js(name)}.prototype.{method}.call({self._positional(node)})"
        if not self.is_local(name) and name in ("set", "frozenset", "dict"):
            return f"py.{'dict_' if name == 'dict' else 'm.'}{method}({self._positional(node)})"
        return None

    def _method_signature(self, name: str, node: ast.Call) -> Signature | None:
        wanted = {keyword.arg for keyword in node.keywords}
        if not wanted:
            return None
        if name == "sort":
            return Signature(("key", "reverse"))
        fitting = {s for s in self.program.methods(name) if s.gathers or wanted <= set(s.names)}
        if len(fitting) == 1:
            return fitting.pop()
        if wanted <= {"encoding"}:
            return Signature(("encoding",))
        if wanted <= set(_REDUCED):
            return Signature(_REDUCED)
        raise self.refuse(node, f"a call of .{name} with {', '.join(map(str, wanted))}")

    def _positional(self, node: ast.Call) -> str:
        return ", ".join(map(self.element, node.args))

    def _arguments(self, node: ast.Call, known: Signature | None) -> str:
        """In the callee's order; what is left out between is undefined, for which the callee has its default."""
        given = list(map(self.element, node.args))
        if known is not None and known.named:
            beside = ", ".join(f"{k.arg}: {self.expr(k.value)}" for k in node.keywords)
            place = len(known.names)
            return ", ".join([*given[:place], f"{{{beside}}}", *given[place:]])
        if not node.keywords:
            return ", ".join(given)
        if known is not None and (
            any(isinstance(arg, ast.Starred) for arg in node.args) or any(k.arg is None for k in node.keywords)
        ):
            # How many are given is known only when it runs.
            told = [
                f"...py.names({self.expr(k.value)})" if k.arg is None else f"{k.arg}: {self.expr(k.value)}"
                for k in node.keywords
            ]
            return f"...py.placed([{', '.join(given)}], {json.dumps(list(known.names))}, {{{', '.join(told)}}})"
        if known is None:
            raise self.refuse(node, "a call with names of arguments that are not known here")
        named = {keyword.arg: self.expr(keyword.value) for keyword in node.keywords}
        for name in known.names[len(given) :]:
            given.append(named.pop(name, "undefined"))
        if known.gathers:
            given.append(
                "py.dict([" + ", ".join(f"[{json.dumps(name)}, {told}]" for name, told in named.items()) + "])"
            )
        elif named:
            raise self.refuse(node, f"the argument {next(iter(named))}")
        while given and given[-1] == "undefined":
            given.pop()
        return ", ".join(given)
