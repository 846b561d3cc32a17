"""Statements and functions as JavaScript."""

import ast
import json
from collections.abc import Iterator, Sequence

from catalog.device.translate.calls import Calls
from catalog.device.translate.growing import growing, own_nodes
from catalog.device.translate.names import bound, js
from catalog.device.translate.source import Module, Program

STEP = "  "
Lines = Iterator[str]


class Statements(Calls):
    """Writes statements."""

    __slots__ = ("_growing", "_labels")

    def __init__(self, program: Program, module: Module) -> None:
        super().__init__(program, module)
        self._growing: list[set[str]] = []
        self._labels: list[str] = []

    def function(self, node: ast.FunctionDef, owner: str = "", drop: int = 0) -> Lines:
        """A function, or a method put on its owner."""
        generator = any(isinstance(each, ast.Yield | ast.YieldFrom) for each in own_nodes(node.body))
        arguments = node.args
        named = {a.arg for a in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)}
        named |= {rest.arg for rest in (arguments.vararg, arguments.kwarg) if rest}
        inner = {each.name for each in node.body if isinstance(each, ast.FunctionDef)}
        names = [name for name in bound(node.body) if name not in named]
        self.local.append(named | set(names) | inner)
        self._growing.append(growing(node))
        star = "*" if generator else ""
        head = f"{owner}.{node.name} = function{star} (" if owner else f"function{star} {js(node.name)}("
        yield f"{head}{self.parameters(arguments, drop)}) {{"
        if drop:
            yield f"{STEP}const {js(arguments.args[0].arg)} = this;"
        if names:
            yield f"{STEP}let {', '.join(map(js, names))};"
        yield from self.block(node.body)
        yield "};" if owner else "}"
        self._growing.pop()
        self.local.pop()

    def block(self, body: Sequence[ast.stmt]) -> Lines:
        for node in body:
            yield from (STEP + line for line in self.statement(node))

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
        yield from self.block(node.body)
        yield "} catch (caught) {"
        word = "if"
        for handler in node.handlers:
            kinds = [each.id for each in ast.walk(handler.type or ast.Pass()) if isinstance(each, ast.Name)]
            yield f"{STEP}{word} ({json.dumps(kinds)}.includes(caught.kind)) {{"
            if handler.name:
                yield f"{STEP * 2}const {js(handler.name)} = caught.message;"
            yield from (STEP + line for line in self.block(handler.body))
            word = "} else if"
        yield f"{STEP}}} else throw caught;"
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
        yield from self.block(node.body)
        if len(node.orelse) == 1 and isinstance(node.orelse[0], ast.If):
            yield from self._if(node.orelse[0], "} else if")
            return
        if node.orelse:
            yield "} else {"
            yield from self.block(node.orelse)
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
            yield from self.block(node.orelse)
            yield "}"

    def _looped(self, body: Sequence[ast.stmt], label: str = "") -> Lines:
        self._labels.append(label)
        yield from self.block(body)
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
            yield from (STEP + line for line in body)
            yield from self.block(case.body)
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


def _loaded(node: ast.expr) -> ast.expr:
    """A target, to be read."""
    return ast.parse(ast.unparse(node), mode="eval").body
