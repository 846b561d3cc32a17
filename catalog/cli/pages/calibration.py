"""What the confidence rests on, and outcomes, as lines."""

from collections.abc import Iterator

from catalog.cli.paper import Paper, joined
from catalog.domain.numbers import counted
from catalog.resolve.calibration.record import EXPERT, FIELD, Check
from catalog.resolve.calibration.words import WordRate, holds, promised
from catalog.services.fitting_outcomes import CalibrationView, FitView
from catalog.services.outcomes import NEEDED, Collected, Noted

_OUTCOMES = {"confirmed": "it is {}", "not_this": "it is not {}", "not_listed": "it is in no record of the catalogue"}
_PROOFS = {"badge": "by its badge", "vin": "by its VIN", "steward": "as a steward found out"}


def calibration_lines(view: CalibrationView, paper: Paper) -> list[str]:
    """State, key, check, words, outcomes."""
    known = view.known
    fit, check = known.standing.calibration, known.check
    lines = [paper.heading("How sure"), *paper.wrap(f"{known.parameters.calibration}.", 2), ""]
    lines += [paper.heading("Key")]
    lines += paper.entry("reader", view.now.reader[:12])
    lines += paper.entry("parameters", view.now.parameters[:12])
    if fit is not None:
        lines += paper.entry("fitted to", f"{counted(fit.n, 'description')} ({fit.key.labels[:12]}) on {fit.made_on}")
        lines += paper.entry("surprise, held out", f"{fit.nll:.3f} nats (standard error {fit.nll_se:.3f})")
        lines += paper.entry("bias of not listed", f"{fit.bias:+.2f}")
    lines.append("")
    lines += [*_check(check, paper), *_outcomes(view.outcomes, paper)]
    return lines


def _check(check: Check | None, paper: Paper) -> Iterator[str]:
    if check is None:
        yield from paper.wrap("Not checked on this edition yet.")
        yield ""
        return
    yield paper.heading(f"Checked on edition {check.edition}, {check.made_on}")
    kind = "confirmed outcomes" if check.state == FIELD else "simulated descriptions"
    yield from paper.entry("descriptions", f"{check.n} {kind}")
    yield from paper.entry("surprise", f"{check.nll:.3f} nats (standard error {check.nll_se:.3f})")
    if check.state != EXPERT:
        said = f"{check.nll_instead:.3f} nats; difference {check.worse:+.3f} (standard error {check.worse_se:.3f})"
        yield from paper.entry("expert's numbers", said)
        yield from paper.entry("carried on", "yes" if check.carried else "no: expert numbers count")
    yield ""
    yield paper.heading("How often each word was right, of rows shown (exact 95 % bounds)")
    for rate in check.words:
        yield from paper.entry(f"{rate.word}, {_span(*promised(rate.word))}", _rate(rate), column=34)
    yield ""


def _rate(rate: WordRate) -> str:
    if rate.shown == 0:
        return "never shown"
    verdict = "" if holds(rate) else "; not what the word says"
    return f"{rate.right} of {rate.shown}: {_span(rate.low, rate.high)}{verdict}"


def _span(low: float, high: float) -> str:
    return f"{100 * low:.3g} to {100 * high:.3g} %"


def _outcomes(found: Collected | None, paper: Paper) -> Iterator[str]:
    yield paper.heading("Confirmed outcomes")
    if found is None:
        yield from paper.wrap("The database that holds them is away.", 2)
        return
    yield from paper.entry("confirmed", f"{found.confirmed:,}")
    yield from paper.entry("not in this catalogue", f"{found.not_listed:,}")
    yield from paper.entry("not this vehicle", f"{found.not_this:,}")
    yield from paper.entry("read by this version", f"{found.fitting:,} settled, {found.denied:,} denied")
    missing = (
        f"{found.missing} of {NEEDED} settled outcomes are missing" if found.missing else "chockbook calibration fit"
    )
    yield from paper.entry("to fit to them", missing)


def fit_lines(view: FitView, paper: Paper) -> list[str]:
    """What was fitted and what it gains."""
    fit, gained = view.calibration, f"gained {view.gained:+.3f} (standard error {view.gained_se:.3f})"
    return [
        *paper.wrap(f"Fitted to {counted(fit.n, 'confirmed outcome')}, stored, and used from now on."),
        *paper.entry("T", f"{fit.temperature:g}"),
        *paper.entry("bias of not listed", f"{fit.bias:+.2f}"),
        *paper.entry("surprise, held out", f"{fit.nll:.3f} nats (standard error {fit.nll_se:.3f})"),
        *paper.entry("before", f"{view.before:.3f} nats; {gained}"),
    ]


def noted_lines(noted: Noted, paper: Paper) -> list[str]:
    """What was kept of an outcome."""
    said = _OUTCOMES[noted.outcome].format(noted.code)
    left = f"Left out: {joined(noted.left_out)}." if noted.left_out else ""
    kept = f"Noted: {said}, {_PROOFS[noted.proof]}. Kept with it: {counted(noted.kept, 'cue')} and the day."
    return [*paper.wrap(kept), *(paper.wrap(left) if left else ())]
