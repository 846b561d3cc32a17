"""The other systems, scored and fitted in two processes of their own while the search's own tables are made."""

from collections.abc import Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from types import TracebackType

from tests.eval.search_fit import Fit, Outcome, fitted, outcome
from tests.eval.search_ground import Ground, Query, targets
from tests.eval.search_systems import BASELINES, SLOWEST_FIRST

_PROCESSES = 2


@dataclass(frozen=True, eq=False)
class Asked:
    """What every system is given: descriptions to be fitted on, and those compared."""

    ground: Ground
    calibration: list[Query]
    compared: list[Query]


# Inherited by the workers, which are forked: a catalogue and its descriptions are much to send.
_ASKED: dict[str, Asked] = {}


class Others:
    """Every baseline on every data set that is compared, in the order the sets are given."""

    def __init__(self, asked: Mapping[str, Asked]) -> None:
        _ASKED.clear()
        _ASKED.update(asked)
        self._pool = ProcessPoolExecutor(_PROCESSES, mp_context=get_context("fork"))
        self._found: dict[tuple[str, str], Future[tuple[Fit, Outcome]]] = {
            (name, system): self._pool.submit(_fitted, name, system) for name in asked for system in SLOWEST_FIRST
        }

    def __enter__(self) -> "Others":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._pool.shutdown(cancel_futures=True)

    def fits(self, name: str) -> dict[str, Fit]:
        return {system: self._found[name, system].result()[0] for system in BASELINES}

    def outcomes(self, name: str) -> dict[str, Outcome]:
        return {system: self._found[name, system].result()[1] for system in BASELINES}


def _fitted(name: str, system: str) -> tuple[Fit, Outcome]:
    asked, score = _ASKED[name], BASELINES[system]
    ground = asked.ground
    fit = fitted(score(ground, asked.calibration), targets(asked.calibration), ground.prior)
    return fit, outcome(score(ground, asked.compared), targets(asked.compared), ground.prior, fit)
