"""Whether the probabilities hold, as the steward's page shows it: a drawing, the same as a table, the words."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from catalog.resolve.calibration.bounds import exact_bounds
from catalog.resolve.calibration.isotonic import Level, Reliability, levels, reliability
from catalog.resolve.calibration.record import EXPERT, FIELD, Check
from catalog.resolve.calibration.words import WordRate, holds, promised
from catalog.services.fitting_outcomes import CalibrationView
from catalog.services.outcomes import NEEDED

SIDE = 300  # of the drawing's square, in its own units
_TICKS = (0, 2, 4, 6, 8, 10)
_NEVER = "never shown"


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on both axes. at: distance from the lower left corner."""

    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Picture:
    """Points "x,y x,y ..." of a square of SIDE, y downwards: the band's outline, the line. rug: x of each probability
    said."""

    band: str
    line: str
    rug: tuple[float, ...]
    ticks: tuple[Tick, ...]
    summary: str


@dataclass(frozen=True, slots=True)
class Step:
    """A level part of the line. All in words: which answers, how many were right, where that share lies."""

    given: str
    shown: int
    right: int
    share: str
    chance: str
    verdict: str


@dataclass(frozen=True, slots=True)
class WordRow:
    """A word: what it is used for, how often shown and right, its share with bounds, what that says."""

    word: str
    used: str
    shown: int
    right: int
    share: str
    verdict: str
    wrong: bool


@dataclass(frozen=True, slots=True)
class Confidence:
    """Everything the page shows beside the sentence that every answer carries."""

    said: str
    rests: tuple[tuple[str, str], ...]
    checked: tuple[tuple[str, str], ...]
    field: bool
    picture: Picture | None
    steps: tuple[Step, ...]
    words: tuple[WordRow, ...]
    outcomes: tuple[tuple[str, str], ...]


def confidence_view(view: CalibrationView) -> Confidence:
    """Put it into words and shapes."""
    check = view.known.check
    drawn = None if check is None or not check.firsts else _reliability(check.firsts)
    steps = () if drawn is None else tuple(_step(level) for level in levels(drawn))
    return Confidence(
        said=f"{view.known.parameters.calibration}.",
        rests=_rests(view),
        checked=() if check is None else _checked(check),
        field=check is not None and check.state == FIELD,
        picture=None if drawn is None else _picture(drawn, steps),
        steps=steps,
        words=tuple(_word(rate) for rate in check.words) if check else (),
        outcomes=_outcomes(view),
    )


@lru_cache(maxsize=4)
def _reliability(firsts: tuple[tuple[float, bool], ...]) -> Reliability:
    """Some hundred thousand steps: once per check."""
    return reliability(firsts)


def _rests(view: CalibrationView) -> tuple[tuple[str, str], ...]:
    fit = view.known.standing.calibration
    rows = [("state", view.known.standing.state)]
    if fit is not None:
        rows += [
            ("fitted to", f"{fit.n:,} descriptions, {fit.made_on}"),
            ("temperature; bias of not listed", f"{fit.temperature:g}; {fit.bias:+.2f}"),
            ("surprise where not fitted", f"{fit.nll:.3f} nats (standard error {fit.nll_se:.3f})"),
            ("key of those descriptions", fit.key.labels[:12]),
        ]
    then = "" if fit is None or fit.key.reader == view.now.reader else f"; fitted with {fit.key.reader[:12]}"
    rows.append(("key of the reader", view.now.reader[:12] + then))
    rows.append(("key of the parameters", view.now.parameters[:12]))
    return tuple(rows)


def _checked(check: Check) -> tuple[tuple[str, str], ...]:
    rows = [("edition", f"{check.edition}, checked {check.made_on}"), ("descriptions", f"{check.n}")]
    rows.append(("surprise", f"{check.nll:.3f} nats (standard error {check.nll_se:.3f})"))
    if check.state != EXPERT:
        worse = f"{check.worse:+.3f} (standard error {check.worse_se:.3f})"
        rows.append(("of the expert's numbers", f"{check.nll_instead:.3f} nats; difference {worse}"))
        rows.append(("carried on", "yes" if check.carried else "no: the expert's numbers count"))
    return tuple(rows)


def _outcomes(view: CalibrationView) -> tuple[tuple[str, str], ...]:
    found = view.outcomes
    if found is None:
        return (("outcomes", "the database that holds them is away"),)
    needed = f"{found.missing} more of {NEEDED}" if found.missing else "nothing: run chockbook calibration fit"
    return (
        ("confirmed by badge, VIN or steward", f"{found.confirmed:,}"),
        ("not in this catalogue", f"{found.not_listed:,}"),
        ("not this vehicle", f"{found.not_this:,}"),
        ("of these read by this version, vehicle known", f"{found.fitting:,}"),
        ("a fit to them needs", needed),
    )


def _picture(found: Reliability, steps: Sequence[Step]) -> Picture:
    low = [_at(x, y) for x, y in zip(found.given, found.low, strict=True)]
    high = [_at(x, y) for x, y in zip(found.given, found.high, strict=True)]
    line = [_at(x, y) for x, y in zip(found.given, found.seen, strict=True)]
    out = sum(step.shown for step in steps if step.verdict != _FITS)
    total = sum(step.shown for step in steps)
    return Picture(
        band=" ".join((*low, *reversed(high))),
        line=" ".join(line),
        rug=tuple(round(float(x) * SIDE, 1) for x in found.given),
        ticks=tuple(Tick(tick * SIDE / 10, f"{tick}") for tick in _TICKS),
        summary=f"{total - out:,} of {total:,} first answers lie where the line is within the hatched band.",
    )


def _at(x: float, y: float) -> str:
    return f"{x * SIDE:.1f},{(1 - y) * SIDE:.1f}"


_FITS, _LESS, _MORE = "fits", "less often than said", "more often than said"
_ROUNDING = 1e-9


def _step(level: Level) -> Step:
    verdict = _LESS if level.seen < level.low - _ROUNDING else _MORE if level.seen > level.high + _ROUNDING else _FITS
    same = level.first == level.last
    given = _percent(level.first) if same else _span(level.first, level.last)
    share = f"{_percent(level.seen)} ({_bounds(level.right, level.shown)})"
    chance = _span(level.low, level.high)
    return Step(given, level.shown, level.right, share, chance, verdict)


def _word(rate: WordRate) -> WordRow:
    low, high = promised(rate.word)
    used = _span(low, high) if high < 1 else f"over {_percent(low)}"
    if rate.shown == 0:
        return WordRow(rate.word, used, 0, 0, "", _NEVER, wrong=False)
    verdict = _FITS if holds(rate) else _LESS if rate.high < low else _MORE
    share = f"{_percent(rate.right / rate.shown)} ({_bounds(rate.right, rate.shown)})"
    return WordRow(rate.word, used, rate.shown, rate.right, share, verdict, wrong=not holds(rate))


def _bounds(right: int, shown: int) -> str:
    return _span(*exact_bounds(right, shown))


def _span(low: float, high: float) -> str:
    """ "52 to 94 %"; "7.5 to 15 %"."""
    return f"{_percent(low).removesuffix(' %')} to {_percent(high)}"


def _percent(share: float) -> str:
    """ "7.5 %", "85 %": whole ones but for the bound of a word that lies between."""
    percent = 100 * share
    return f"{percent:.1f} %" if abs(percent - 7.5) < _ROUNDING else f"{percent:.0f} %"
