"""The translated engine as the files a phone fetches: a script module, and its tables as JSON."""

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from rjsmin import jsmin

from catalog.device.engine_made import engine

_BY_HAND = Path(__file__).parents[1] / "engine"


@dataclass(frozen=True, slots=True)
class EngineFiles:
    """script: exports `engine`, a function of the tables. hash: SHA-256 over both, lower-case hex."""

    script: bytes
    tables: bytes
    hash: str


@cache
def engine_files() -> EngineFiles:
    """Made once a process. Raises NotTranslatable, naming file and line."""
    unit = engine()
    script = f"{jsmin(unit.script)}\nexport {{ engine }};\n".encode()
    tables = json.dumps(dict(unit.files), ensure_ascii=False, separators=(",", ":")).encode()
    running = hashlib.sha256()
    for part in (script, tables):
        running.update(len(part).to_bytes(8, "big") + part)
    return EngineFiles(script, tables, running.hexdigest())


@cache
def engine_sum() -> str:
    """SHA-256 over what of the engine is written by hand in JavaScript, lower-case hex."""
    running = hashlib.sha256()
    for path in sorted(_BY_HAND.glob("*.js")):
        content = path.read_bytes()
        running.update(f"{path.name} {len(content)}\n".encode() + content)
    return running.hexdigest()
