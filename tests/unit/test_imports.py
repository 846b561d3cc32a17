"""Who may import whom, read from the source text of every module.

Tiers run from the core outwards; a room imports only rooms of earlier tiers, never one of its
own tier. Outside packages are allowed room by room. catalog/app.py puts the house together and
may import everything.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = ("catalog", "schemas", "seed_demo", "migrations")

TIERS = (
    ("catalog", "catalog.errors"),
    ("catalog.domain",),
    ("schemas", "catalog.resolve", "catalog.plan", "catalog.draw", "seed_demo", "migrations"),
    ("catalog.intake", "catalog.search", "catalog.store"),
    ("catalog.compiled",),
    ("catalog.device",),
    ("catalog.config",),
    ("catalog.services",),
    ("catalog.api", "catalog.web"),
    ("catalog.app",),
    ("catalog.cli",),
    ("catalog.__main__",),
)
TIER = {room: tier for tier, rooms in enumerate(TIERS) for room in rooms}

# Beyond the tiers: the migration environment compares with the store's tables; the demo
# catalogue is opened by the terminal's demo command alone; the terminal is no page.
ALSO = {("migrations", "catalog.store")}
NEVER = {(room, "seed_demo") for room in TIER if room not in ("catalog.cli", "seed_demo")} | {
    ("catalog.cli", "catalog.api"),
    ("catalog.cli", "catalog.web"),
}

# Packages from outside, by room.
OUTSIDE = {
    "catalog.resolve": {"numpy"},
    "schemas": {"marshmallow"},
    "catalog.intake": {"PIL", "defusedxml", "openpyxl", "pint", "rapidfuzz"},
    "catalog.search": {"numpy", "whoosh"},
    "catalog.store": {"sqlalchemy", "alembic"},
    "migrations": {"sqlalchemy", "alembic"},
    "catalog.compiled": {"numpy"},
    "catalog.device": {"numpy", "rjsmin"},
    "catalog.config": {"platformdirs"},
    "catalog.services": {"argon2", "numpy", "rapidfuzz", "segno", "structlog"},
    "catalog.api": {
        "apispec",
        "flask",
        "flask_smorest",
        "markupsafe",
        "marshmallow",
        "structlog",
        "webargs",
        "werkzeug",
    },
    "catalog.web": {
        "flask",
        "flask_login",
        "flask_wtf",
        "itsdangerous",
        "jinja2",
        "markupsafe",
        "structlog",
        "werkzeug",
        "wtforms",
    },
    "catalog.app": {"flask", "werkzeug", "structlog"},
    "catalog.cli": {"click", "gunicorn"},
}

# Names a room may take from a package it may not use otherwise: types of what the store hands out.
NAMES = {"catalog.services": {"sqlalchemy.Engine", "sqlalchemy.Connection"}}


def room_of(module: str) -> str:
    """The longest room name that the module lies in."""
    parts = module.split(".")
    names = (".".join(parts[:length]) for length in range(len(parts), 0, -1))
    return next((name for name in names if name in TIER), parts[0])


def imported(source: str, module: str, *, package: bool = False) -> Iterator[str]:
    """Every module a source text imports, wherever in the text, with relative names resolved."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parts = module.split(".")
                inside = parts[: len(parts) - node.level + package]
                base = ".".join([*inside, *filter(None, [node.module])])
            # "from catalog import errors" imports catalog.errors; a name of a module lies in its room.
            yield from (f"{base}.{alias.name}" for alias in node.names)


def offences(source: str, module: str, *, package: bool = False) -> list[str]:
    """What a module imports and may not."""
    found = []
    room = room_of(module)
    allowed = OUTSIDE.get(room, set())
    for name in imported(source, module, package=package):
        top = name.split(".")[0]
        if top in FOLDERS:
            other = room_of(name)
            inward = TIER[other] < TIER[room] or (room, other) in ALSO
            if other != room and ((room, other) in NEVER or not inward):
                found.append(f"{module} imports {name}: {room} may not import {other}")
        elif top not in sys.stdlib_module_names and top not in allowed and name not in NAMES.get(room, ()):
            found.append(f"{module} imports {name}: {room} may not use {top}")
    return found


def modules() -> Iterator[tuple[str, Path]]:
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts), path


def test_every_room_imports_inwards_only() -> None:
    found = [
        offence
        for module, path in modules()
        for offence in offences(path.read_text("utf-8"), module, package=path.name == "__init__.py")
    ]
    assert not found, "\n".join(found)


def test_every_module_lies_in_a_room_with_a_tier() -> None:
    homeless = [module for module, _ in modules() if room_of(module) in ("catalog",) and module != "catalog"]
    assert not homeless, f"give {homeless} a tier"


def test_every_room_says_what_it_may_import() -> None:
    silent = [
        module
        for module, path in modules()
        if module in TIER
        and path.name == "__init__.py"
        and module != "catalog"
        and "May import:" not in (ast.get_docstring(ast.parse(path.read_text("utf-8"))) or "")
    ]
    assert not silent


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("catalog.domain.facts", "import numpy"),
        ("catalog.domain.facts", "from catalog.resolve.cue import Cue"),
        ("catalog.resolve.reading.reader", "from schemas.record import load_record"),
        ("catalog.resolve.reading.reader", "import sqlalchemy.orm"),
        ("catalog.search.index", "from catalog.store import editions"),
        ("catalog.services.resolving", "from sqlalchemy import Engine, select"),
        ("catalog.services.resolving", "import sqlalchemy"),
        ("catalog.services.finding", "import whoosh"),
        ("catalog.services.seeding", "from seed_demo import load"),
        ("catalog.web.pages", "from catalog.api.problems import problem"),
        ("catalog.api.problems", "import click"),
        ("catalog.cli.main", "from flask import Flask"),
        ("catalog.cli.main", "from catalog.web import pages"),
        ("catalog.services.house", "def late():\n    from catalog.app import create_app"),
        ("catalog.domain.facts", "from ..resolve import cue"),
        ("catalog.domain.facts", "from .. import resolve"),
        ("catalog.store.tables", "from catalog import services"),
        ("schemas.record", "if TYPE_CHECKING:\n    from catalog.store import tables"),
        ("seed_demo.load", "import catalog.services.seeding"),
    ],
)
def test_an_offending_import_is_reported(module: str, source: str) -> None:
    assert offences(source, module)


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("catalog.domain.facts", "import json, hashlib\nfrom catalog.domain.places import Place"),
        ("catalog.domain.facts", "from .places import Place"),
        ("catalog.resolve.tables", "import numpy as np\nfrom catalog.errors import BadInput"),
        ("catalog.services.house", "from sqlalchemy import Connection, Engine"),
        ("catalog.cli.demo", "import seed_demo\nimport click"),
        ("migrations.env", "from alembic import context\nfrom catalog.store.schema import metadata"),
    ],
)
def test_an_allowed_import_is_not(module: str, source: str) -> None:
    assert not offences(source, module)
