"""Whether a calibration still holds on an edition, and which one counts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.resolve.calibration.keys import Key, key_of
from catalog.resolve.calibration.labels import Label, labels_hash
from catalog.resolve.calibration.measure import mean_and_error, measure
from catalog.resolve.calibration.record import EXPERT, FIELD, SIMULATED, Calibration, Check
from catalog.resolve.calibration.words import word_rates
from catalog.resolve.field import Field
from catalog.resolve.parameters import Parameters, expert

# A calibration is dropped when it is worse than the expert's numbers by more standard errors than these.
_ERRORS = 2.0


@dataclass(frozen=True, slots=True)
class Of:
    """The edition that is checked, and the UTC date."""

    number: int
    hash: str
    made_on: str


def check(calibration: Calibration, labels: Sequence[Label], field: Field, of: Of) -> Check:
    """Hold it against the labels, beside the numbers that would take its place. The field's parameters are not used."""
    fitted, plain = ((replace(field, parameters=each)) for each in (applied(calibration), expert()))
    ours, theirs = measure(labels, fitted), measure(labels, plain)
    nll, error = mean_and_error(ours.nll)
    worse, worse_error = mean_and_error(ours.nll - theirs.nll)
    carried = worse <= _ERRORS * worse_error
    counts = ours if carried else theirs
    return Check(
        edition=of.number,
        edition_hash=of.hash,
        key=key_of(labels_hash(labels)),
        state=calibration.state,
        temperature=calibration.temperature,
        bias=calibration.bias,
        n=len(ours.nll),
        nll=nll,
        nll_se=error,
        nll_instead=mean_and_error(theirs.nll)[0],
        worse=worse,
        worse_se=worse_error,
        carried=carried,
        words=word_rates(counts.rows),
        firsts=counts.firsts,
        made_on=of.made_on,
    )


def applied(calibration: Calibration, basis: str = "") -> Parameters:
    """The expert's numbers with temperature and bias of the calibration. basis: what a reader is told of it."""
    return replace(
        expert(),
        origin=calibration.state,
        temperature=calibration.temperature,
        unlisted_bias=calibration.bias,
        basis=basis,
    )


@dataclass(frozen=True, slots=True)
class Standing:
    """What counts now. calibration: None for the expert's numbers alone. passed_over: why a better one does not."""

    state: str
    calibration: Calibration | None
    passed_over: tuple[str, ...] = ()


def standing(fits: Sequence[Calibration], checks: Sequence[Check], now: Key) -> Standing:
    """The first fit that holds, the field's before the simulated. now: the key of this program (labels unused).

    A fit holds for the reader and parameters it was made with, unless its check on the current edition went
    against it. A fit to simulated descriptions also holds for another reader once that one has read them again and
    the check held; confirmed outcomes are cues of the reader of their day and cannot be read again.
    """
    why: list[str] = []
    for state in (FIELD, SIMULATED):
        fit = next((one for one in fits if one.state == state), None)
        if fit is None:
            continue
        checked = next((one for one in checks if _is_of(one, fit, now)), None)
        reason = _against(fit, checked, now)
        if not reason:
            return Standing(state, fit, tuple(why))
        why.append(f"the {state} fit of {fit.made_on} {reason}")
    return Standing(EXPERT, None, tuple(why))


def _is_of(checked: Check, fit: Calibration, now: Key) -> bool:
    numbers = (checked.state, checked.temperature, checked.bias)
    return numbers == (fit.state, fit.temperature, fit.bias) and checked.key.same_engine(now)


def _against(fit: Calibration, checked: Check | None, now: Key) -> str:
    """Why a fit does not count; "" where it does."""
    if fit.key.parameters != now.parameters:
        return "is of other parameters"
    if checked is not None and not checked.carried:
        return f"does not hold on edition {checked.edition}"
    if fit.key.reader != now.reader and (fit.state == FIELD or checked is None):
        return "is of another reading of descriptions"
    return ""
