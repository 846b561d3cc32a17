"""One frozen settings object, built once in the factory; nothing reads the environment at import."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from platformdirs import user_data_path

from catalog.domain.numbers import whole_number
from catalog.errors import BadInput

_PREFIX = "CHOCKBOOK_"
_MOST_HOURS = 8760  # a year


@dataclass(frozen=True, slots=True)
class Settings:
    """Everything a process is told from outside.

    data: folder for the embedded database and the compiled editions. database_url: SQLAlchemy
    URL. driving_side: side of the road traffic keeps to ("left" or "right"), decides nearside,
    offside and kerb side only. unlisted_rate: assumed share of calls about vehicles that are not
    in the catalogue (0 to 1, exclusive). demo: mark everything as invented. site_zone: IANA zone
    that pages show times in. local_steps: file of this site's own steps and wording, None for none.
    popularity: CSV file of record codes and how common each is on this site, None for none. reading: open to all, or
    only to who is signed in ("open" or "accounts"). https: reached only through a proxy that speaks HTTPS and says whom
    it speaks for (X-Forwarded-For): cookies go over nothing else. brief_hours: how long the link of a brief works.
    """

    data: Path
    database_url: str
    driving_side: str = "left"
    unlisted_rate: float = 0.12
    demo: bool = True
    site_zone: str = "UTC"
    local_steps: Path | None = None
    popularity: Path | None = None
    reading: str = "open"
    https: bool = False
    brief_hours: int = 72

    @classmethod
    def from_environment(cls, environ: Mapping[str, str]) -> "Settings":
        """Read CHOCKBOOK_* once. Raises BadInput naming the variable and what it allows."""
        data = _data_folder(environ)
        return cls(
            data=data,
            database_url=environ.get(f"{_PREFIX}DATABASE") or f"sqlite:///{quote(str(data / 'chockbook.db'))}",
            driving_side=_one_of(environ, "DRIVING_SIDE", "left", ("left", "right")),
            unlisted_rate=_rate(environ, "UNLISTED_RATE", 0.12),
            demo=_one_of(environ, "DEMO", "yes", ("yes", "no")) == "yes",
            site_zone=_zone(environ, "ZONE", "UTC"),
            local_steps=_file(environ, "LOCAL_STEPS"),
            popularity=_file(environ, "POPULARITY"),
            reading=_one_of(environ, "READING", "open", ("open", "accounts")),
            https=_one_of(environ, "HTTPS", "no", ("yes", "no")) == "yes",
            brief_hours=_hours(environ, "BRIEF_HOURS", 72),
        )


def _data_folder(environ: Mapping[str, str]) -> Path:
    if chosen := environ.get(f"{_PREFIX}DATA"):
        return Path(chosen).expanduser()
    if shared := environ.get("XDG_DATA_HOME"):
        return Path(shared) / "chockbook"
    return user_data_path("chockbook", appauthor=False)


def _file(environ: Mapping[str, str], name: str) -> Path | None:
    chosen = environ.get(_PREFIX + name)
    return Path(chosen).expanduser() if chosen else None


def _one_of(environ: Mapping[str, str], name: str, default: str, allowed: tuple[str, ...]) -> str:
    value = environ.get(_PREFIX + name, default).strip().lower()
    if value not in allowed:
        raise BadInput(f"{_PREFIX}{name} is {value!r}.", cure=f"Set it to {' or '.join(allowed)}.")
    return value


def _rate(environ: Mapping[str, str], name: str, default: float) -> float:
    text = environ.get(_PREFIX + name, str(default))
    try:
        value = float(text)
    except ValueError:
        value = -1.0
    if not 0 < value < 1:
        raise BadInput(f"{_PREFIX}{name} is {text!r}.", cure="Set it to a share between 0 and 1, such as 0.12.")
    return value


def _hours(environ: Mapping[str, str], name: str, default: int) -> int:
    text = environ.get(_PREFIX + name, str(default)).strip()
    hours = whole_number(text)
    if hours is None or not 1 <= hours <= _MOST_HOURS:
        raise BadInput(f"{_PREFIX}{name} is {text!r}.", cure=f"Set it to whole hours, 1 to {_MOST_HOURS:,}.")
    return hours


def _zone(environ: Mapping[str, str], name: str, default: str) -> str:
    value = environ.get(_PREFIX + name, default)
    try:
        ZoneInfo(value)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise BadInput(f"{_PREFIX}{name} is {value!r}.", cure="Set it to an IANA zone such as UTC.") from error
    return value
