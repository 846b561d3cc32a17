"""The modules of the engine: found by their imports, parsed, and what each of their names takes."""

import ast
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

# Packages whose names only say what type something has.
TYPING = frozenset({"typing", "collections.abc", "numpy.typing"})


# Kinds of class that are made of fields and nothing else.
HOLDING = ("record", "alone", "tuple")


class NotTranslatable(ValueError):
    """The engine uses something of Python that its JavaScript cannot: told to who changes it, and to nobody else."""


@dataclass(frozen=True, slots=True)
class Signature:
    """What a call takes, in order; the callee makes defaults.

    gathers: further names are taken as a dictionary. named: those taken by name beside any number of others; they stand
    in one object before these.
    """

    names: tuple[str, ...]
    gathers: bool = False
    named: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Class:
    """A class of the engine. fields: of a dataclass or a named tuple, in order. statics: methods asked of the class."""

    node: ast.ClassDef
    kind: str  # "record", "alone" (compared by identity), "tuple", "words" (an enumeration), "plain"
    fields: tuple[str, ...]
    methods: Mapping[str, Signature]
    properties: frozenset[str]
    statics: frozenset[str]


@dataclass(frozen=True, slots=True)
class Module:
    """One parsed module. imports: local name -> (module, name in it, "" for the module itself)."""

    name: str
    path: Path
    tree: ast.Module
    imports: Mapping[str, tuple[str, str]]
    functions: Mapping[str, Signature]
    classes: Mapping[str, Class]
    names: frozenset[str]


@dataclass(slots=True)
class Program:
    """All modules, each after those it imports."""

    modules: dict[str, Module] = field(default_factory=dict)

    def class_of(self, module: Module, name: str) -> Class | None:
        """The class that a name of a module means."""
        home, own = self.home(module, name)
        found = self.modules.get(home)
        return found.classes.get(own) if found else None

    def signature_of(self, module: Module, name: str) -> Signature | None:
        """What calling a name of a module takes; None where that is not known."""
        home, own = self.home(module, name)
        found = self.modules.get(home)
        if found is None:
            return None
        if own in found.functions:
            return found.functions[own]
        if own in found.classes:
            made = found.classes[own]
            if made.kind in HOLDING:
                return Signature(made.fields)
            return made.methods.get("__init__", Signature(()))
        return None

    def home(self, module: Module, name: str) -> tuple[str, str]:
        """(module, name) where a name was first given its meaning."""
        here, own = module.name, name
        while here in self.modules and own in self.modules[here].imports:
            here, own = self.modules[here].imports[own]
        return here, own

    def methods(self, name: str) -> list[Signature]:
        """What every method of this name takes, whichever the class."""
        return [c.methods[name] for m in self.modules.values() for c in m.classes.values() if name in c.methods]

    def is_of_word(self, name: str) -> bool:
        """Whether words of an enumeration, which are plain strings there, have something of this name."""
        return any(
            c.kind == "words" and name in c.properties for m in self.modules.values() for c in m.classes.values()
        )

    def is_property(self, name: str) -> bool:
        """Whether something of this name is read without a call on any class."""
        return any(name in c.properties or name in c.fields for m in self.modules.values() for c in m.classes.values())


def read_program(root: Path, entries: Sequence[str]) -> Program:
    """Parse the entry modules and whatever of the house they import. root: folder that holds the rooms."""
    program = Program()
    for entry in entries:
        _add(program, root, entry)
    return program


def _add(program: Program, root: Path, name: str) -> None:
    if name in program.modules:
        return
    path = _path(root, name)
    if path is None:
        raise NotTranslatable(f"There is no module {name} below {root}.")
    tree = ast.parse(path.read_text(encoding="utf-8"), str(path))
    imports = dict(_imports(tree, root))
    for home, _ in imports.values():
        if home.split(".")[0] in ("catalog", "schemas"):
            _add(program, root, home)
    program.modules[name] = Module(
        name, path, tree, imports, dict(_functions(tree)), dict(_classes(tree)), frozenset(_names(tree))
    )


def _path(root: Path, name: str) -> Path | None:
    stem = root.joinpath(*name.split("."))
    for path in (stem.with_suffix(".py"), stem / "__init__.py"):
        if path.is_file():
            return path
    return None


def _imports(tree: ast.Module, root: Path) -> Iterator[tuple[str, tuple[str, str]]]:
    for node in tree.body:
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                is_module = node.module.startswith("catalog") and _path(root, whole) is not None
                yield alias.asname or alias.name, (whole, "") if is_module else (node.module, alias.name)
        elif isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.asname or alias.name, (alias.name, "")


def _functions(tree: ast.Module) -> Iterator[tuple[str, Signature]]:
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, signature(node.args)


def signature(arguments: ast.arguments, drop: int = 0) -> Signature:
    """The names a call may use. drop: how many of the first are given by the language (self)."""
    names = [arg.arg for arg in (*arguments.posonlyargs, *arguments.args)][drop:]
    named = [arg.arg for arg in arguments.kwonlyargs]
    gathers = arguments.kwarg is not None
    if arguments.vararg is not None and named:
        return Signature(tuple(names), gathers, tuple(named))
    return Signature((*names, *named), gathers)


def _classes(tree: ast.Module) -> Iterator[tuple[str, Class]]:
    for node in tree.body:
        if isinstance(node, ast.ClassDef):
            yield node.name, _class(node)


def _class(node: ast.ClassDef) -> Class:
    methods, properties, statics = {}, set(), set()
    for item in node.body:
        if isinstance(item, ast.FunctionDef):
            marks = {ast.unparse(mark) for mark in item.decorator_list}
            if marks & {"property", "cached_property"}:
                properties.add(item.name)
            else:
                methods[item.name] = signature(item.args, 0 if "staticmethod" in marks else 1)
                if marks & {"classmethod", "staticmethod"}:
                    statics.add(item.name)
    kind = _kind(node)
    told = [
        item.target.id for item in node.body if isinstance(item, ast.AnnAssign) and isinstance(item.target, ast.Name)
    ]
    fields = tuple(told) if kind in HOLDING else ()
    return Class(node, kind, fields, methods, frozenset(properties), frozenset(statics))


def _kind(node: ast.ClassDef) -> str:
    bases = {ast.unparse(base) for base in node.bases}
    if "NamedTuple" in bases:
        return "tuple"
    if bases & {"StrEnum", "Enum", "IntEnum"}:
        return "words"
    for mark in node.decorator_list:
        if isinstance(mark, ast.Call) and ast.unparse(mark.func) == "dataclass":
            told = {keyword.arg: ast.unparse(keyword.value) for keyword in mark.keywords}
            return "alone" if told.get("eq") == "False" else "record"
        if ast.unparse(mark) == "dataclass":
            return "record"
    return "plain"


def _names(tree: ast.Module) -> Iterator[str]:
    """Every name that the module gives a meaning at its top."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        for target in _targets(node):
            yield from (each.id for each in ast.walk(target) if isinstance(each, ast.Name))


def _targets(node: ast.stmt) -> Sequence[ast.expr]:
    if isinstance(node, ast.Assign):
        return node.targets
    if isinstance(node, ast.AnnAssign | ast.AugAssign | ast.For):
        return (node.target,)
    return ()
