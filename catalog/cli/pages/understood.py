"""What was understood of a text, and what was not, as lines."""

from collections.abc import Iterator

from catalog.cli.paper import Paper
from catalog.domain.places import FRAME_NOTE
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.notes import scene_words
from catalog.resolve.answering.understood import BLANK
from catalog.resolve.cue import ASKED
from catalog.services.views import Answer, ReadView

_HEARD = 28  # column of the meanings


def read_lines(view: ReadView, paper: Paper) -> list[str]:
    """A whole page about one text."""
    nothing = [] if view.cues else [*paper.wrap("Nothing in this was understood."), ""]
    return [*nothing, *understood_lines(view, paper), *paper.wrap(FRAME_NOTE)]


def understood_lines(view: ReadView | Answer, paper: Paper) -> Iterator[str]:
    """Cues of the vehicle asked about, those of another, the proposed scene, and what was not read or not kept."""
    own = [cue for cue in view.cues if cue.cue.vehicle == ASKED]
    other = [cue for cue in view.cues if cue.cue.vehicle != ASKED]
    for title, cues in (("Understood as", own), ("Of the other vehicle, which does not rank", other)):
        if cues:
            yield paper.heading(title)
            for cue in cues:
                yield from paper.entry(f"“{cue.cue.heard}”", _meaning(cue), column=_HEARD)
    if view.scene:
        yield from paper.entry("proposed scene", "; ".join(scene_words(view.scene)), column=_HEARD)
    unread = [view.text[span.start : span.end] for span in view.unread]
    if unread:
        yield from paper.entry("not read", f"“{' … '.join(unread)}”", column=_HEARD)
    if view.masked:
        kept_out = " … ".join(BLANK * (span.end - span.start) for span in view.masked)
        yield from paper.entry("not used, not kept", f"{kept_out} (number, name or address)", column=_HEARD)
    if view.cues or unread or view.masked:
        yield ""


def _meaning(view: CueView) -> str:
    label = view.label if view.cue.vehicle == ASKED else view.label.removeprefix("other vehicle ")
    # Under its own heading there is no need to say of each that it is the other vehicle's.
    return f"{label} ({view.note})" if view.note and view.cue.vehicle == ASKED else label
