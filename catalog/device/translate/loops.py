"""Comprehensions, small functions, and what a loop gives a meaning."""

import ast
from collections.abc import Callable, Sequence

from catalog.device.translate.names import js
from catalog.device.translate.operators import Operators
from catalog.device.translate.writer import is_nothing


class Loops(Operators):
    """Writes what goes through things."""

    __slots__ = ()

    def _listcomp(self, node: ast.ListComp) -> str:
        return self._collected(node.generators, lambda: f"$r.push({self.element(node.elt)});", "const $r = [];")

    def _generatorexp(self, node: ast.GeneratorExp) -> str:
        # All at once: nothing here has effects, and where the first is enough it is asked for as such.
        return self._collected(node.generators, lambda: f"$r.push({self.element(node.elt)});", "const $r = [];")

    def _setcomp(self, node: ast.SetComp) -> str:
        return self._collected(node.generators, lambda: f"$r.add({self.expr(node.elt)});", "const $r = py.set();")

    def _dictcomp(self, node: ast.DictComp) -> str:
        return self._collected(
            node.generators, lambda: f"$r.put({self.expr(node.key)}, {self.expr(node.value)});", "const $r = py.dict();"
        )

    def _quantified(self, name: str, node: ast.GeneratorExp) -> str:
        test = "if (%s) return true;" if name == "any" else "if (!%s) return false;"
        return self._loops(
            node.generators, lambda: test % self.cond(node.elt), "", f"return {'false' if name == 'any' else 'true'};"
        )

    def _first(self, node: ast.GeneratorExp, default: Sequence[ast.expr]) -> str:
        last = f"return {self.expr(default[0])};" if default else 'throw py.error("StopIteration");'
        return self._loops(node.generators, lambda: f"return {self.expr(node.elt)};", "", last)

    def _collected(self, generators: Sequence[ast.comprehension], inner: Callable[[], str], start: str) -> str:
        return self._loops(generators, inner, start, "return $r;")

    def _loops(self, generators: Sequence[ast.comprehension], inner: Callable[[], str], start: str, end: str) -> str:
        opened, closing = [], 0
        scopes = 0
        for generator in generators:
            source = self.iterated(generator.iter)
            scope = {n.id for n in ast.walk(generator.target) if isinstance(n, ast.Name)}
            self.local.append(scope)
            scopes += 1
            opened.append(f"for (const {self.target(generator.target)} of {source}) {{")
            closing += 1
            for test in generator.ifs:
                opened.append(f"if ({self.cond(test)}) {{")
                closing += 1
        body = inner()
        del self.local[-scopes:]
        return f"(() => {{ {start} {' '.join(opened)} {body} {'} ' * closing}{end} }})()"

    def _lambda(self, node: ast.Lambda) -> str:
        self.local.append({arg.arg for arg in node.args.args})
        made = f"(({self.parameters(node.args)}) => {self.expr(node.body)})"
        self.local.pop()
        return made

    def _part(self, node: ast.expr) -> str:
        if isinstance(node, ast.Starred):
            return f"...{self.target(node.value)}"
        return "" if is_nothing(node) else self.target(node)

    def parameters(self, arguments: ast.arguments, drop: int = 0) -> str:
        """The parameters of a function, with their defaults."""
        plain = [*arguments.posonlyargs, *arguments.args]
        defaults: list[ast.expr | None] = [None] * (len(plain) - len(arguments.defaults)) + list(arguments.defaults)
        pairs = [*zip(plain, defaults, strict=True)][drop:]
        named = list(zip(arguments.kwonlyargs, arguments.kw_defaults, strict=True))
        made = [self._parameter(arg, default) for arg, default in pairs]
        if arguments.vararg and named:
            made.append("{" + ", ".join(self._parameter(arg, default) for arg, default in named) + "} = {}")
        else:
            made += [self._parameter(arg, default) for arg, default in named]
        made += [f"{js(arguments.kwarg.arg)} = py.dict()"] if arguments.kwarg else []
        return ", ".join([*made, *([f"...{js(arguments.vararg.arg)}"] if arguments.vararg else [])])

    def _parameter(self, arg: ast.arg, default: ast.expr | None) -> str:
        return js(arg.arg) + ("" if default is None else f" = {self.expr(default)}")

    def iterated(self, node: ast.expr) -> str:
        """Something to go through."""
        return f"py.each({self.expr(node)})"

    def target(self, node: ast.expr) -> str:
        """What a loop or an assignment gives a meaning, as a pattern."""
        if isinstance(node, ast.Name):
            return js(node.id)
        if isinstance(node, ast.Tuple | ast.List):
            for place, each in enumerate(node.elts):
                if isinstance(each, ast.Starred) and place < len(node.elts) - 1:
                    raise self.refuse(node, "a star that is not last")
            parts = [self._part(each) for each in node.elts]
            return f"[{', '.join(parts)}]"
        if isinstance(node, ast.Attribute):
            return f"{self.expr(node.value)}.{node.attr}"
        raise self.refuse(node, "this target")
