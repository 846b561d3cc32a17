"""Search on the responder's phone: the same engine as the dispatcher's desk."""

from flask import Blueprint, Response, request

from catalog.errors import BadInput, ChockbookError, Unavailable
from catalog.services.resolving import resolve_description
from catalog.web import wording
from catalog.web.answers import results
from catalog.web.outcomes import outcome_form
from catalog.web.posted import NOTHING, posted
from catalog.web.render import house, page
from catalog.web.typed import count, description_of, idle, sent, settled, shown_text


def add(blueprint: Blueprint) -> None:
    """Add /crew with its live part."""
    blueprint.add_url_rule("/crew", "crew", lambda: _answered("crew.html"), methods=["GET", "POST"])
    blueprint.add_url_rule("/crew/live", "crew_live", lambda: _answered("live.html"), methods=["POST"])
    blueprint.add_url_rule("/crew/settled", "crew_settled", settled, methods=["POST"])


def _answered(template: str) -> Response:
    """The page for what was typed and answered, or the empty page; a refused text keeps it with the reason on it."""
    state, answer = NOTHING, None
    problem: ChockbookError | None = None
    try:
        state = posted(request.form)
        answer = resolve_description(house(), description_of(state))
        if template != "live.html":
            count(state)
    except (BadInput, Unavailable) as error:
        problem = error
    found = results(answer, state) if answer else None
    html = page(
        template,
        text=shown_text(answer.text if answer else None),
        results=found,
        idle=idle(state.cues, found),
        edition=answer.edition if answer else None,
        outcome=outcome_form(answer, show_all="all" in state.views),
        problem=problem,
        views=state.views,
        caller=state.answers.caller or "",
        hint=wording.CREW_HINT,
    )
    return sent(html, problem)
