"""An answer as the search pages show it: rows on one scale, what was understood, one danger line."""

from dataclasses import dataclass

from catalog.resolve.answering.danger import danger_line
from catalog.resolve.answering.rows import Row
from catalog.resolve.answering.scale import Share, scaled, status
from catalog.services.views import Answer
from catalog.web.asked import Asking, Told, asking, told
from catalog.web.counted import Counted, counted
from catalog.web.heard import Heard, heard
from catalog.web.posted import NOTHING, Posted


@dataclass(frozen=True, slots=True)
class Results:
    """Everything a search page shows of one answer. rows are empty when nothing said can rank.

    told: what was answered and ruled out. asking, counted: None where not asked for, or where nothing can rank.
    rates: what the probabilities rest on, in a word; calibration: the same with why.
    """

    heard: Heard
    danger: str
    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None
    message: str
    warnings: tuple[str, ...]
    calibration: str
    rates: str
    status: str
    told: tuple[Told, ...] = ()
    asking: Asking | None = None
    counted: Counted | None = None


def results(answer: Answer, state: Posted = NOTHING, *, port_ruled_out: bool = False) -> Results:
    """Build the view. Vehicles left out of view count among the others, so the page adds up.

    port_ruled_out: something said of the scene does that, beside what calls for a danger line.
    """
    known = {candidate.code: candidate for candidate in answer.candidates}
    size = len(answer.candidates) + answer.others_count
    scale = scaled(answer.groups, answer.unlisted, size, known, "all" in state.views)
    ask = asking(answer.questions) if answer.questions else None
    danger = danger_line([view.cue for view in answer.cues], state.scene)
    return Results(
        heard=heard(answer, state.cues),
        danger=danger,
        rows=scale.rows,
        unlisted=scale.unlisted,
        others=scale.others,
        message=answer.message,
        warnings=answer.warnings,
        calibration=answer.calibration,
        rates=answer.calibration.partition(":")[0],
        status=status(scale, answer.message, ask.ask if ask else ""),
        told=told(state.answers, answer.excluded),
        asking=ask,
        counted=counted(answer.facts, every="facts" in state.views, danger=bool(danger) or port_ruled_out),
    )
