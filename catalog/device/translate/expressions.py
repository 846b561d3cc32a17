"""Expressions as JavaScript. Where the two languages differ the runtime is called (engine/py.js)."""

import ast
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from catalog.device.translate.names import BUILT_IN, LIBRARY, METHODS, TAKES, js
from catalog.device.translate.source import Module, NotTranslatable, Program, Signature

_COMPREHENSION = ast.GeneratorExp | ast.ListComp | ast.SetComp
_COMPARE = {ast.Lt: "lt", ast.LtE: "le", ast.Gt: "gt", ast.GtE: "ge"}
_PLAIN = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
_BINARY = {
    ast.Add: "add", ast.Sub: "sub", ast.Mult: "mul", ast.BitOr: "bitor", ast.BitAnd: "bitand", ast.BitXor: "bitxor",
    ast.Div: "div", ast.FloorDiv: "floordiv", ast.Mod: "mod", ast.Pow: "pow", ast.MatMult: "matmul",
}  # fmt: skip
_NUMBERS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*"}
GENERIC = ("tuple", "dict", "list", "set", "frozenset")
_FORMATS = ("f','", "f'.1f'")
_ALWAYS_BOOLEAN = frozenset({"any", "all", "isinstance", "bool", "hasattr"})


@dataclass(slots=True)
class Expressions:
    """Writes the expressions of one module. local: names bound in the functions around."""

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
        return NotTranslatable(f"{self.module.path}:{line}: {what} has no translation.", cure="Write it more plainly.")

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
            and not self._is_local(node.func.id)
        )

    def _is_local(self, name: str) -> bool:
        return any(name in scope for scope in self.local) or name in self.module.names or name in self.module.imports

    # Plain values.

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
            return js(name)
        if name == "__file__":
            return json.dumps(self.module.name.replace(".", "/"))
        if name in BUILT_IN:
            return f"py.{name}"
        raise self.refuse(node, f"the name {name}")

    def _tuple(self, node: ast.Tuple) -> str:
        return self._list(node)

    def _list(self, node: ast.Tuple | ast.List) -> str:
        return "[" + ", ".join(map(self._element, node.elts)) + "]"

    def _set(self, node: ast.Set) -> str:
        return "py.set([" + ", ".join(map(self._element, node.elts)) + "])"

    def _element(self, node: ast.expr) -> str:
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

    # Operators.

    def _boolop(self, node: ast.BoolOp) -> str:
        first, *rest = node.values
        made = self.expr(first)
        for value in rest:
            if self._gives_boolean(node.values[0]) and self._gives_boolean(value):
                made = f"({made} {'&&' if isinstance(node.op, ast.And) else '||'} {self.expr(value)})"
            else:
                made = f"py.{'and' if isinstance(node.op, ast.And) else 'or'}({made}, () => {self.expr(value)})"
        return made

    def _gives_boolean(self, node: ast.expr) -> bool:
        if isinstance(node, ast.BoolOp):
            return all(map(self._gives_boolean, node.values))
        return isinstance(node, ast.Compare) or self._is_boolean(node) or _is_not(node)

    def _unaryop(self, node: ast.UnaryOp) -> str:
        if isinstance(node.op, ast.Not):
            return f"!{self.cond(node.operand)}"
        if isinstance(node.op, ast.USub):
            operand = self.expr(node.operand)
            return f"py.neg({operand})" if self.vectors and not _is_number(node.operand) else f"-{operand}"
        if isinstance(node.op, ast.Invert):
            return f"py.invert({self.expr(node.operand)})"
        raise self.refuse(node, "this sign")

    def _binop(self, node: ast.BinOp) -> str:
        left, right = self.expr(node.left), self.expr(node.right)
        if isinstance(node.op, ast.LShift | ast.RShift):
            return f"({left} {'<<' if isinstance(node.op, ast.LShift) else '>>'} {right})"
        kind = type(node.op)
        if kind in _NUMBERS and _is_number(node) and not self.vectors:
            return f"({left} {_NUMBERS[kind]} {right})"
        if kind is ast.Add and (_is_text(node.left) or _is_text(node.right)):
            return f"({left} + {right})"
        if kind not in _BINARY:
            raise self.refuse(node, "this operator")
        return f"py.{_BINARY[kind]}({left}, {right})"

    def _compare(self, node: ast.Compare) -> str:
        values = [node.left, *node.comparators]
        for middle in values[1:-1]:
            if not isinstance(middle, ast.Name | ast.Constant | ast.Attribute | ast.Call | ast.Subscript | ast.BinOp):
                raise self.refuse(node, "a chain of comparisons over this")
        pairs = [self._compared(left, op, right) for left, op, right in zip(values, node.ops, values[1:], strict=False)]
        return pairs[0] if len(pairs) == 1 else "(" + " && ".join(pairs) + ")"

    def _compared(self, left: ast.expr, op: ast.cmpop, right: ast.expr) -> str:
        a, b = self.expr(left), self.expr(right)
        match op:
            case ast.Is() | ast.IsNot():
                same = "==" if isinstance(op, ast.Is) else "!="
                # Nothing returned is undefined here and None there.
                return f"({a} {same}{'' if b == 'null' else '='} {b})"
            case ast.Eq() | ast.NotEq() if self.vectors:
                return f"py.{'same' if isinstance(op, ast.Eq) else 'other'}({a}, {b})"
            case ast.Eq() | ast.NotEq():
                if _is_plain(left) or _is_plain(right):
                    return f"({a} {'===' if isinstance(op, ast.Eq) else '!=='} {b})"
                return f"{'' if isinstance(op, ast.Eq) else '!'}py.eq({a}, {b})"
            case ast.In() | ast.NotIn():
                no = "" if isinstance(op, ast.In) else "!"
                if isinstance(right, ast.Tuple | ast.Set | ast.List) and all(map(_is_plain, right.elts)):
                    return f"{no}[{', '.join(map(self.expr, right.elts))}].includes({a})"
                return f"{no}py.in({a}, {b})"
        if (_is_number(left) or _is_number(right)) and not self.vectors:
            return f"({a} {_PLAIN[type(op)]} {b})"
        return f"py.{_COMPARE[type(op)]}({a}, {b})"

    def _ifexp(self, node: ast.IfExp) -> str:
        return f"({self.cond(node.test)} ? {self.expr(node.body)} : {self.expr(node.orelse)})"

    def _namedexpr(self, node: ast.NamedExpr) -> str:
        return f"({js(node.target.id)} = {self.expr(node.value)})"

    # Parts of things.

    def _attribute(self, node: ast.Attribute) -> str:
        if isinstance(node.value, ast.Name) and self._names_module(node.value.id):
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

    def _names_module(self, name: str) -> bool:
        return (
            name in self.module.imports and not self.module.imports[name][1]
        ) and not any(name in scope for scope in self.local)  # fmt: skip

    def _subscript(self, node: ast.Subscript) -> str:
        value = self.expr(node.value)
        if isinstance(node.value, ast.Name) and node.value.id in GENERIC and not self._is_local(node.value.id):
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

    # Calls.

    def _call(self, node: ast.Call) -> str:
        func = node.func
        if isinstance(func, ast.Name) and not self._is_scoped(func.id):
            if (special := self._special(func.id, node)) is not None:
                return special
            made = self.program.class_of(self.module, func.id)
            if made is not None and made.kind != "words":
                return f"new {js(func.id)}({self._arguments(node, self._known(node))})"
        if isinstance(func, ast.Attribute):
            return self._method(func, node)
        return f"{self.expr(func)}({self._arguments(node, self._known(node))})"

    def _is_scoped(self, name: str) -> bool:
        return any(name in scope for scope in self.local)

    def _known(self, node: ast.Call) -> Signature | None:
        if isinstance(node.func, ast.Name) and not self._is_scoped(node.func.id):
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
                given = ", ".join([*map(self._element, node.args[1:]), "...a"])
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
        if isinstance(func.value, ast.Name) and self._names_module(func.value.id):
            home = self.module.imports[func.value.id][0]
            if home == "numpy":
                return self._of_rows(f"np.{func.attr}", node)
            if home == "json":
                return f"py.json.{func.attr}({self._positional(node)})"
            if home in LIBRARY or home == "math":
                return f"py.{'math.' if home == 'math' else ''}{func.attr}({self._positional(node)})"
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
        given = [*map(self._element, node.args), *kinds, *([f"{{{', '.join(named)}}}"] if named else [])]
        return f"{name}({', '.join(given)})"

    def _of_class(self, name: str, method: str, node: ast.Call) -> str | None:
        """A method asked of a class: `Record.fact(record, path)`, `frozenset.intersection(a, b)`."""
        if self._is_scoped(name):
            return None
        made = self.program.class_of(self.module, name)
        if made is not None and method in made.methods and method not in made.statics:
            return f"{js(name)}.prototype.{method}.call({self._positional(node)})"
        if not self._is_local(name) and name in ("set", "frozenset", "dict"):
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
        if wanted <= {"axis"}:
            return Signature(("axis",))
        raise self.refuse(node, f"a call of .{name} with {', '.join(map(str, wanted))}")

    def _positional(self, node: ast.Call) -> str:
        return ", ".join(map(self._element, node.args))

    def _arguments(self, node: ast.Call, known: Signature | None) -> str:
        """In the callee's order; what is left out between is undefined, for which the callee has its default."""
        given = list(map(self._element, node.args))
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

    # Comprehensions and small functions.

    def _listcomp(self, node: ast.ListComp) -> str:
        return self._collected(node.generators, lambda: f"r.push({self._element(node.elt)});", "const r = [];")

    def _generatorexp(self, node: ast.GeneratorExp) -> str:
        # All at once: nothing here has effects, and where the first is enough it is asked for as such.
        return self._collected(node.generators, lambda: f"r.push({self._element(node.elt)});", "const r = [];")

    def _setcomp(self, node: ast.SetComp) -> str:
        return self._collected(node.generators, lambda: f"r.add({self.expr(node.elt)});", "const r = py.set();")

    def _dictcomp(self, node: ast.DictComp) -> str:
        return self._collected(
            node.generators, lambda: f"r.put({self.expr(node.key)}, {self.expr(node.value)});", "const r = py.dict();"
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
        return self._loops(generators, inner, start, "return r;")

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
        return "" if _is_nothing(node) else self.target(node)

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


def _is_nothing(node: ast.expr) -> bool:
    """What is taken and thrown away."""
    return isinstance(node, ast.Name) and node.id == "_"


def _is_number(node: ast.expr) -> bool:
    """Whether it is a number for certain."""
    if isinstance(node, ast.Constant):
        return isinstance(node.value, int | float) and not isinstance(node.value, bool)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return _is_number(node.operand)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return node.func.id in ("len", "abs")
    if isinstance(node, ast.BinOp):
        sides = _is_number(node.left), _is_number(node.right)
        # A list times a number is a list.
        return all(sides) if isinstance(node.op, ast.Mult) else isinstance(node.op, ast.Add | ast.Sub) and any(sides)
    return False


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _is_plain(node: ast.expr) -> bool:
    """Whether it is equal to nothing but itself."""
    return (isinstance(node, ast.Constant) and node.value is not None) or _is_number(node) or _is_text(node)


def _is_not(node: ast.expr) -> bool:
    return isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)
