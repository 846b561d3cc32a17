"""What the app on a phone is made of: every file that must be there before it works without signal."""

import hashlib
from dataclasses import dataclass

from catalog.services.phone import engine_for_phones, program_for_phones
from catalog.web.assets import FOLDER, Assets

# Besides everything under phone/.
_SHARED = (
    "tokens.css", "base.css", "draw.css", "record.css", "sketch.css", "light.js", "icon.svg",
    "fonts/b612-latin-400-normal.woff2", "fonts/b612-latin-700-normal.woff2",
)  # fmt: skip
PAGES = ("/phone", "/phone/app.webmanifest")


@dataclass(frozen=True, slots=True)
class Shell:
    """version: changes with any of its files. files: (address, SHA-256), "" for what is made anew each time."""

    version: str
    files: tuple[tuple[str, str], ...]


def version_of(assets: Assets, html: str) -> str:
    """Which app this program serves. html: its page, without the version in it. Made without translating the engine,
    for which no first visit should wait."""
    running = hashlib.sha256(f"{assets.version} {program_for_phones()}".encode())
    running.update(html.encode())
    return running.hexdigest()[:16]


def shell_of(assets: Assets, version: str) -> Shell:
    """The app of that version."""
    engine = engine_for_phones()
    names = [name for name in sorted(assets.names) if name in _SHARED or name.startswith("phone/")]
    files = [(assets.path(name), hashlib.sha256((FOLDER / name).read_bytes()).hexdigest()) for name in names]
    for kind, content in (("js", engine.script), ("json", engine.tables)):
        files.append((f"/phone/engine/{engine.hash}.{kind}", hashlib.sha256(content).hexdigest()))
    return Shell(version, (*((page, "") for page in PAGES), *files))
