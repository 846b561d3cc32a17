"""Files checked on a page that may yet be sent to review: kept in the data folder for a day, for who brought them."""

import hashlib
import json
import os
import re
import time

from catalog.domain.roles import Right
from catalog.errors import NotFound
from catalog.services.acting import Actor, require
from catalog.services.house import House
from catalog.services.importing import BroughtFile

_DAY = 24 * 60 * 60
_TOKEN = re.compile(r"[0-9a-f]{64}")


def keep_file(house: House, actor: Actor | None, file: BroughtFile) -> str:
    """Keep a file; what it is asked for by. The same file of the same person again is kept once."""
    who = require(actor, Right.UPDATE)
    folder = house.settings.data / "incoming"
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    _sweep(house)
    about = json.dumps({"by": who.name, "name": file.name, "encoding": file.encoding}).encode()
    token = hashlib.sha256(about + b"\n" + file.data).hexdigest()
    part = folder / f"{token}.{os.getpid()}.part"
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as sink:
        sink.write(about + b"\n" + file.data)
    part.replace(folder / token)
    return token


def kept_file(
    house: House, actor: Actor | None, token: str, disputed: frozenset[str] = frozenset(), reason: str = ""
) -> BroughtFile:
    """A file that this person brought. Raises NotSignedIn, Forbidden, NotFound."""
    who = require(actor, Right.UPDATE)
    gone = NotFound("That file is not here any more.", cure="Bring it again.")
    if not _TOKEN.fullmatch(token):
        raise gone
    try:
        about, _, data = (house.settings.data / "incoming" / token).read_bytes().partition(b"\n")
    except OSError as error:
        raise gone from error
    told = json.loads(about)
    if told["by"] != who.name:
        raise gone
    return BroughtFile(told["name"], data, told["encoding"], disputed, reason)


def _sweep(house: House) -> None:
    for path in (house.settings.data / "incoming").iterdir():
        try:
            if path.stat().st_mtime < time.time() - _DAY:
                path.unlink()
        except OSError:
            continue  # another process was quicker
