"""Statements, functions and classes as JavaScript."""

import ast
import json
from collections.abc import Iterator, Sequence

from catalog.device.translate.expressions import GENERIC, Expressions
from catalog.device.translate.names import bound, js
from catalog.device.translate.source import TYPING, Class

_STEP = "  "
TYPING_NAMES = ("Mapping", "Sequence", "Callable", "Iterable", "Iterator", "Set", "TypeVar", "NewType", "NDArray")
Lines = Iterator[str]


class Statements(Expressions):
    """Writes one module."""

    __slots__ = ("_growing", "_labels")

    def top(self) -> Lines:
        """The statements of the module, its functions first: nothing of theirs runs before it is called."""
        self._growing: list[set[str]] = []
        self._labels: list[str] = []
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
            return self._is_type_name(node.value, (*GENERIC, *TYPING_NAMES))
        return isinstance(node, ast.Call) and self._is_type_name(node.func, ("TypeVar", "NewType"))

    def _is_type_leaf(self, node: ast.expr) -> bool:
        if not isinstance(node, ast.Name):
            return False
        return node.id in ("str", "int", "bool", "float") or self.program.class_of(self.module, node.id) is not None

    def _is_type_name(self, node: ast.expr, names: Sequence[str]) -> bool:
        if not isinstance(node, ast.Name) or node.id not in names:
            return False
        return node.id in GENERIC or self.module.imports.get(node.id, ("", ""))[0] in TYPING

    # Functions and classes.

    def function(self, node: ast.FunctionDef, owner: str = "", drop: int = 0) -> Lines:
        """A function, or a method put on its owner."""
        generator = any(isinstance(each, ast.Yield | ast.YieldFrom) for each in _own(node.body))
        arguments = node.args
        named = {a.arg for a in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)}
        named |= {rest.arg for rest in (arguments.vararg, arguments.kwarg) if rest}
        inner = {each.name for each in node.body if isinstance(each, ast.FunctionDef)}
        names = [name for name in bound(node.body) if name not in named]
        self.local.append(named | set(names) | inner)
        self._growing.append(_growing(node))
        star = "*" if generator else ""
        head = f"{owner}.{node.name} = function{star} (" if owner else f"function{star} {js(node.name)}("
        yield f"{head}{self.parameters(arguments, drop)}) {{"
        if drop:
            yield f"{_STEP}const {js(arguments.args[0].arg)} = this;"
        if names:
            yield f"{_STEP}let {', '.join(map(js, names))};"
        yield from self._block(node.body)
        yield "};" if owner else "}"
        self._growing.pop()
        self.local.pop()

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
        yield f"{_STEP}if (!new.target) return new {name}(...given);"
        if start is not None:
            yield f"{_STEP}this.__init__(...given);"
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
        yield f"{_STEP}if (!new.target) return new {name}({', '.join(map(js, made.fields))});"
        yield from (f"{_STEP}this.{field} = {js(field)};" for field in made.fields)
        if "__post_init__" in made.methods:
            yield f"{_STEP}this.__post_init__();"
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

    # Statements.

    def _block(self, body: Sequence[ast.stmt]) -> Lines:
        for node in body:
            yield from (_STEP + line for line in self.statement(node))

    def statement(self, node: ast.stmt) -> Lines:
        """One statement, in lines."""
        match node:
            case ast.Pass() | ast.Import() | ast.ImportFrom():
                return
            case ast.Expr(value=ast.Constant()):
                return
            case ast.Expr(value=ast.Yield(value=value)):
                yield f"yield {'null' if value is None else self.expr(value)};"
            case ast.Expr(value=ast.YieldFrom(value=value)):
                yield f"yield* {self.iterated(value)};"
            case ast.Expr(value=value):
                yield f"{self.expr(value)};"
            case ast.Return(value=value):
                yield "return null;" if value is None else f"return {self.expr(value)};"
            case ast.Assign(targets=targets, value=value):
                yield from self._assign(targets, value)
            case ast.AnnAssign(target=target, value=value):
                if value is not None:
                    yield from self._assign([target], value)
            case ast.AugAssign():
                yield self._augmented(node)
            case ast.If():
                yield from self._if(node)
            case ast.For():
                yield from self._for(node)
            case ast.While(test=test, body=body, orelse=[]):
                yield f"while ({self.cond(test)}) {{"
                yield from self._looped(body)
                yield "}"
            case ast.Continue():
                yield "continue;"
            case ast.Break():
                yield f"break {self._labels[-1]};".replace(" ;", ";")
            case ast.FunctionDef():
                yield from self.function(node)
            case ast.Match():
                yield from self._match(node)
            case ast.Assert(test=test):
                yield f'if (!{self.cond(test)}) throw py.error("AssertionError");'
            case ast.Raise(exc=exc):
                yield f"throw py.raised({self._raised(exc)});"
            case ast.Try(finalbody=[], orelse=[]):
                yield from self._try(node)
            case ast.Delete(targets=targets):
                yield from map(self._delete, targets)
            case _:
                raise self.refuse(node, type(node).__name__)

    def _try(self, node: ast.Try) -> Lines:
        yield "try {"
        yield from self._block(node.body)
        yield "} catch (caught) {"
        word = "if"
        for handler in node.handlers:
            kinds = [each.id for each in ast.walk(handler.type or ast.Pass()) if isinstance(each, ast.Name)]
            yield f"{_STEP}{word} ({json.dumps(kinds)}.includes(caught.kind)) {{"
            if handler.name:
                yield f"{_STEP * 2}const {js(handler.name)} = caught.message;"
            yield from (_STEP + line for line in self._block(handler.body))
            word = "} else if"
        yield f"{_STEP}}} else throw caught;"
        yield "}"

    def _raised(self, node: ast.expr | None) -> str:
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            told = ", ".join(map(self.expr, node.args))
            return f"{json.dumps(node.func.id)}, {told}" if told else json.dumps(node.func.id)
        if isinstance(node, ast.Name):
            return json.dumps(node.id)
        raise self.refuse(node or ast.Pass(), "raising this")

    def _assign(self, targets: Sequence[ast.expr], value: ast.expr) -> Lines:
        made = self.expr(value)
        if len(targets) > 1:
            yield f"{{ const made = {made};"
            for target in targets:
                yield from self._one(target, "made")
            yield "}"
        else:
            yield from self._one(targets[0], made)

    def _one(self, target: ast.expr, value: str) -> Lines:
        if isinstance(target, ast.Subscript):
            if isinstance(target.slice, ast.Slice) and self.vectors:
                yield f"py.put({self.expr(target.value)}, {self.index(target.slice)}, {value});"
            elif isinstance(target.slice, ast.Slice):
                parts = ", ".join([self.expr(target.value), *self.slice_parts(target.slice)[:2]])
                yield f"py.splice({parts}, {value});"
            else:
                yield f"py.put({self.expr(target.value)}, {self.index(target.slice)}, {value});"
        elif isinstance(target, ast.Tuple | ast.List):
            yield from self._unpacked(target, value)
        else:
            yield f"{self.target(target)} = {value};"

    def _unpacked(self, target: ast.Tuple | ast.List, value: str) -> Lines:
        stars = [place for place, each in enumerate(target.elts) if isinstance(each, ast.Starred)]
        if stars and stars[0] < len(target.elts) - 1:
            # Those after the star are taken from the end.
            after = len(target.elts) - 1 - stars[0]
            yield f"{{ const all = [...py.each({value})]; const end = all.splice(all.length - {after});"
            first = ast.Tuple(target.elts[: stars[0] + 1], ast.Store())
            yield f"{self.target(first)} = all;"
            yield f"{self.target(ast.Tuple(target.elts[stars[0] + 1 :], ast.Store()))} = end; }}"
        elif any(isinstance(each, ast.Subscript) for each in target.elts):
            yield f"{{ const all = [...py.each({value})];"
            for place, each in enumerate(target.elts):
                yield from self._one(each, f"all[{place}]")
            yield "}"
        else:
            yield f"{self.target(target)} = py.parts({value}, {-1 if stars else len(target.elts)});"

    def _augmented(self, node: ast.AugAssign) -> str:
        value = self.expr(ast.BinOp(_loaded(node.target), node.op, node.value))
        if isinstance(node.target, ast.Name):
            name = js(node.target.id)
            if self._growing and node.target.id in self._growing[-1] and isinstance(node.op, ast.Add):
                return f"py.m.extend({name}, {self.expr(node.value)});"
            return f"{name} = py.onto({name}, {value});" if self.vectors else f"{name} = {value};"
        if isinstance(node.target, ast.Attribute):
            return f"{self.target(node.target)} = {value};"
        assert isinstance(node.target, ast.Subscript)
        return f"py.put({self.expr(node.target.value)}, {self.index(node.target.slice)}, {value});"

    def _if(self, node: ast.If, word: str = "if") -> Lines:
        yield f"{word} ({self.cond(node.test)}) {{"
        yield from self._block(node.body)
        if len(node.orelse) == 1 and isinstance(node.orelse[0], ast.If):
            yield from self._if(node.orelse[0], "} else if")
            return
        if node.orelse:
            yield "} else {"
            yield from self._block(node.orelse)
        yield "}"

    def _for(self, node: ast.For) -> Lines:
        # A break leaves what stands under `else` too. The loop's names outlive it, as in Python.
        label = f"loop{node.lineno}" if node.orelse else ""
        if label:
            yield f"{label}: {{"
        yield f"for ({self.target(node.target)} of {self.iterated(node.iter)}) {{"
        yield from self._looped(node.body, label)
        yield "}"
        if label:
            yield from self._block(node.orelse)
            yield "}"

    def _looped(self, body: Sequence[ast.stmt], label: str = "") -> Lines:
        self._labels.append(label)
        yield from self._block(body)
        self._labels.pop()

    def _match(self, node: ast.Match) -> Lines:
        yield f"{{ const told = {self.expr(node.subject)};"
        word = "if"
        for case in node.cases:
            test, names = self._pattern(case.pattern)
            body = [f"{js(name)} = {part};" for name, part in names]
            if case.guard is not None:
                test = f"{test} && {self.cond(case.guard)}"
            yield f"{word} ({test}) {{"
            yield from (_STEP + line for line in body)
            yield from self._block(case.body)
            word = "} else if"
        yield "} }"

    def _pattern(self, pattern: ast.pattern) -> tuple[str, list[tuple[str, str]]]:
        """The test, and the names given a meaning, each with what it means."""
        match pattern:
            case ast.MatchValue(value=value):
                return f"py.eq(told, {self.expr(value)})", []
            case ast.MatchSingleton(value=value):
                return f"told == {json.dumps(value)}", []
            case ast.MatchOr(patterns=patterns):
                return "(" + " || ".join(self._pattern(each)[0] for each in patterns) + ")", []
            case ast.MatchAs(pattern=None, name=name):
                return "true", [(name, "told")] if name else []
            case ast.MatchClass(cls=ast.Name(id=kind), patterns=[]):
                names = []
                for attr, part in zip(pattern.kwd_attrs, pattern.kwd_patterns, strict=True):
                    if not isinstance(part, ast.MatchAs) or part.pattern is not None or part.name is None:
                        raise self.refuse(pattern, "this pattern")
                    names.append((part.name, f"told.{attr}"))
                return f"py.is(told, {js(kind)})", names
            case _:
                raise self.refuse(pattern, "this pattern")

    def _delete(self, node: ast.expr) -> str:
        if not isinstance(node, ast.Subscript):
            raise self.refuse(node, "deleting this")
        if isinstance(node.slice, ast.Slice):
            return f"py.splice({', '.join([self.expr(node.value), *self.slice_parts(node.slice)[:2]])}, []);"
        return f"py.drop({self.expr(node.value)}, {self.expr(node.slice)});"


def _own(body: Sequence[ast.AST]) -> Iterator[ast.AST]:
    """What stands in a body, inner functions left out."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.Lambda):
            continue
        yield node
        yield from _own(list(ast.iter_child_nodes(node)))


def _growing(node: ast.FunctionDef) -> set[str]:
    """Names that hold a list: += adds to that very list, whoever else holds it."""
    arguments = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    made = {arg.arg for arg in arguments if arg.annotation and _is_list(arg.annotation)}
    before = -1
    while len(made) != before:
        before = len(made)
        for each in _own(node.body):
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


def _loaded(node: ast.expr) -> ast.expr:
    """A target, to be read."""
    return ast.parse(ast.unparse(node), mode="eval").body
