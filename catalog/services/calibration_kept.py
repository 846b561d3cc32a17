"""What a host keeps of calibrations in its data folder, so that no request asks the database for them.

compiled/calibration/field.json              the newest fit to confirmed outcomes; the database holds every one
compiled/calibration/3-0f9a6c27d1b4.json     the checks of that edition
"""

import json
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from catalog.compiled import Compiled
from catalog.compiled.files import private_folder, replace_file
from catalog.resolve.calibration.checking import Standing, applied, standing
from catalog.resolve.calibration.keys import key_of, parameters_hash
from catalog.resolve.calibration.record import (
    EXPERT,
    FIELD,
    Calibration,
    Check,
    calibration_data,
    calibration_from,
    check_data,
    check_from,
)
from catalog.resolve.calibration.shipped import simulated_fit
from catalog.resolve.parameters import BASIS, Parameters, expert

LOOK_EVERY = 1.0  # seconds
KEPT = 8  # checks of so many editions
_Mark = tuple[int, int, int] | None


@dataclass(frozen=True, slots=True)
class Known:
    """Everything known of one edition's calibration."""

    standing: Standing
    fits: tuple[Calibration, ...]
    checks: tuple[Check, ...]
    parameters: Parameters

    @property
    def check(self) -> Check | None:
        """The check that shows what counts: of the fit that does, or the one that made the expert's numbers count."""
        current = [one for one in self.checks if is_current(one)]
        of_fit = [one for one in current if one.carried and one.state == self.standing.state]
        return next(iter([*of_fit, *(one for one in current if self.standing.state == EXPERT)]), None)


class Calibrations:
    """One data folder's. Looks at the files at most once a second. Thread-safe. clock: seconds, monotonic."""

    def __init__(self, folder: Path, *, clock: Callable[[], float] = time.monotonic) -> None:
        self.folder = folder
        self._clock = clock
        self._lock = threading.Lock()
        self._looked = -float("inf")
        self._marks: tuple[str, _Mark, _Mark] | None = None
        self._known: Known | None = None

    def known(self, compiled: Compiled) -> Known:
        """What counts for an edition. A file that cannot be read counts as none."""
        with self._lock:
            held = self._known if self._marks and self._marks[0] == compiled.folder.name else None
            if held is not None and self._clock() - self._looked < LOOK_EVERY:
                return held
            self._looked = self._clock()
            paths = (self.folder / "field.json", self.checks_of(compiled))
            marks = (compiled.folder.name, _mark(paths[0]), _mark(paths[1]))
            if held is None or marks != self._marks:
                held = _known(_read(paths[0]), _read(paths[1]))
                self._known, self._marks = held, marks
            return held

    def forget(self) -> None:
        """Look at the files again at the next asking."""
        self._looked = -float("inf")

    def checks_of(self, compiled: Compiled) -> Path:
        """Where an edition's checks are."""
        return self.folder / f"{compiled.folder.name}.json"

    def keep_field(self, fit: Calibration) -> None:
        """Make a fit to outcomes the one this host uses."""
        self._write(self.folder / "field.json", {"fit": calibration_data(fit)})

    def keep_checks(self, compiled: Compiled, checks: tuple[Check, ...]) -> None:
        """Keep an edition's checks; those of editions long past go."""
        self._write(self.checks_of(compiled), {"checks": [check_data(one) for one in checks]})
        others = [path for path in self.folder.glob("[0-9]*-*.json") if path != self.checks_of(compiled)]
        for path in sorted(others, key=lambda path: path.stat().st_mtime_ns, reverse=True)[KEPT:]:
            path.unlink(missing_ok=True)

    def _write(self, path: Path, content: Mapping[str, Any]) -> None:
        private_folder(self.folder)
        replace_file(path, json.dumps(content))
        self.forget()


def _known(field: Mapping[str, Any], checked: Mapping[str, Any]) -> Known:
    fits, checks = (*_fits(field), simulated_fit()), _checks(checked)
    found = standing(fits, checks, key_of(""))
    return Known(found, fits, checks, _parameters(found))


def _fits(field: Mapping[str, Any]) -> tuple[Calibration, ...]:
    """None where there is none that can be read: of an older version, perhaps, which the database's replaces."""
    try:
        return (calibration_from(field["fit"]),)
    except (KeyError, TypeError, ValueError):
        return ()


def _checks(checked: Mapping[str, Any]) -> tuple[Check, ...]:
    try:
        return tuple(check_from(one) for one in checked["checks"])
    except (KeyError, TypeError, ValueError):
        return ()


@lru_cache(maxsize=8)
def _parameters(found: Standing) -> Parameters:
    """Equal standings give the same object, which keys caches."""
    over = "".join(f"; {reason}" for reason in found.passed_over)
    fit = found.calibration or expert_fit()
    basis = f"fitted to {fit.n} confirmed calls on {fit.made_on}" if fit.state == FIELD else BASIS[fit.state]
    return applied(fit, f"{basis}{over}")


def is_current(made: Calibration | Check) -> bool:
    """Whether this very program made it, by its reader and its parameters."""
    return made.key.same_engine(key_of(""))


def expert_fit() -> Calibration:
    """The expert's own numbers, fitted to nothing."""
    plain = expert()
    return Calibration(key_of(""), EXPERT, plain.temperature, plain.unlisted_bias, 0, 0.0, 0.0, (), "")


def shipped_fit() -> Calibration:
    """What is checked where no outcome was fitted: the simulated fit, or the expert's numbers where it is of others."""
    fit = simulated_fit()
    return fit if fit.key.parameters == parameters_hash() else expert_fit()


def _mark(path: Path) -> _Mark:
    try:
        status = path.stat()
    except OSError:
        return None
    return (status.st_ino, status.st_mtime_ns, status.st_size)


def _read(path: Path) -> Mapping[str, Any]:
    try:
        made = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return made if isinstance(made, dict) else {}
