"""One JavaScript file from the entry modules and all that they import, data files beside it."""

import ast
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from catalog.device.translate.modules import Modules
from catalog.device.translate.names import js
from catalog.device.translate.source import Module, Program, read_program

_ENGINE = Path(__file__).parents[1] / "engine"


@dataclass(frozen=True, slots=True)
class Unit:
    """The engine. script: one function of (files) -> modules. files: data by path, as parsed JSON."""

    script: str
    files: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Instead:
    """Functions of a module that are written by hand: file of engine/, what it defines, and what it makes needless."""

    file: str
    functions: tuple[str, ...]
    needless: tuple[str, ...] = ()


def bundle(
    root: Path,
    entries: Sequence[str],
    native: Mapping[str, str],
    folders: Sequence[str],
    instead: Mapping[str, Instead] | None = None,
) -> Unit:
    """Translate. native: module -> file of engine/ written by hand. folders: data below root, of JSON files.

    instead: module -> what of it is written by hand.
    """
    program = read_program(root, entries)
    parts = [(_ENGINE / "py.js").read_text(encoding="utf-8"), "const $m = {};"]
    parts += ["py.paths($files);"]
    rows = any(home == "numpy" for module in program.modules.values() for home, _ in module.imports.values())
    beside = ", np" if rows else ""
    if rows:
        parts.append(f"const np = (() => {{\n{(_ENGINE / 'np.js').read_text(encoding='utf-8')}\n}})();")
    for name, module in program.modules.items():
        if name in native:
            code = (_ENGINE / native[name]).read_text(encoding="utf-8")
            parts.append(f"$m[{json.dumps(name)}] = (() => {{\n{code}\n}})();")
        else:
            parts.append(_module(program, module, (instead or {}).get(name)))
    body = "\n".join(parts)
    script = f'"use strict";\nfunction engine($files) {{\n{body}\nreturn {{ modules: $m, py{beside} }};\n}}\n'
    return Unit(script, dict(_data(root, folders)))


def _module(program: Program, module: Module, instead: Instead | None) -> str:
    beside: list[str] = []
    if instead is not None:
        beside = [(_ENGINE / instead.file).read_text(encoding="utf-8")]
        left = {name: s for name, s in module.functions.items() if name not in instead.needless}
        gone = {*instead.functions, *instead.needless}
        tree = ast.Module([each for each in module.tree.body if getattr(each, "name", "") not in gone], [])
        module = replace(module, tree=tree, functions=left)
    lines = list(Modules(program, module).top())
    exports = ", ".join(sorted(map(js, _made(module, lines))))
    inner = "\n".join([*_imports(program, module), *lines, *beside, f"return {{ {exports} }};"])
    return f"$m[{json.dumps(module.name)}] = (() => {{\n{inner}\n}})();"


def _made(module: Module, lines: Sequence[str]) -> set[str]:
    """Names that the translation really has: those of types are gone."""
    declared = {name for line in lines if line.startswith("let ") for name in line[4:-1].split(", ")}
    return {name for name in module.names if js(name) in declared or name in module.functions or name in module.classes}


def _imports(program: Program, module: Module) -> Iterator[str]:
    for name in module.imports:
        home, own = program.home(module, name)
        if home not in program.modules:
            continue
        if own == "":
            yield f"const {js(name)} = $m[{json.dumps(home)}];"
        else:
            yield f"const {js(name)} = $m[{json.dumps(home)}].{js(own)};"
    classes = [js(name) for name in module.classes]
    if classes:
        yield f"let {', '.join(classes)};"


def _data(root: Path, folders: Sequence[str]) -> Iterator[tuple[str, object]]:
    for folder in folders:
        for path in sorted((root / folder).rglob("*.json")):
            yield path.relative_to(root).as_posix(), json.loads(path.read_text(encoding="utf-8"))
