"""The dispatcher's desk: one line to type in, and everything that follows from it."""

from dataclasses import dataclass

from flask import Blueprint, Response, request

from catalog.errors import BadInput, ChockbookError, Unavailable
from catalog.services.brief_views import BriefView
from catalog.services.desk import GeneralSteps, SceneSaid, desk_answer, general_steps
from catalog.web import wording
from catalog.web.answers import Results, results
from catalog.web.brief_shown import sent_shown
from catalog.web.outcomes import outcome_form
from catalog.web.posted import NOTHING, Posted, posted
from catalog.web.render import house, page
from catalog.web.scene_bar import scene_bar
from catalog.web.steps_shown import general_shown, steps_shown
from catalog.web.typed import count, description_of, idle, sent, settled, shown_text


def add(blueprint: Blueprint) -> None:
    """Add /desk with its live parts."""
    blueprint.add_url_rule("/desk", "desk", lambda: desk_page("desk.html"), methods=["GET", "POST"])
    blueprint.add_url_rule("/desk/live", "desk_live", lambda: desk_page("desk_live.html"), methods=["POST"])
    blueprint.add_url_rule("/desk/settled", "desk_settled", settled, methods=["POST"])


@dataclass(frozen=True, slots=True)
class Composed:
    """What came of composing a brief: the brief, why it is not kept, or what is wrong."""

    brief: BriefView | None = None
    why: str = ""
    problem: str = ""


NOT_ASKED = Composed()


def desk_page(template: str, composed: Composed = NOT_ASKED) -> Response:
    """The page for what was typed and answered, or the empty page.

    A refused text and an absent catalogue keep the page with the reason on it: the steps for any
    vehicle stand on the same page and need neither.
    """
    state, found = NOTHING, None
    problem: ChockbookError | None = None
    try:
        state = posted(request.form)
        found = desk_answer(house(), description_of(state), scene_said(state))
        if template == "desk.html":
            count(state)
    except (BadInput, Unavailable) as error:
        problem = error
    answer = found.answer if found else None
    ground = found or _general(state)
    shown = results(answer, state, port_ruled_out=found.port_ruled_out) if answer and found else None
    html = page(
        template,
        text=shown_text(answer.text if answer else None),
        results=shown,
        idle=idle(state.cues, shown),
        edition=answer.edition if answer else None,
        outcome=outcome_form(answer, show_all="all" in state.views),
        problem=problem,
        views=state.views,
        caller=state.answers.caller or "",
        state=state,
        incident=request.form.get("incident", "")[:32],
        steps=general_shown(ground) if isinstance(ground, GeneralSteps) else steps_shown(ground.steps),
        tell=ground.tell,
        draft=found.draft if found else None,
        scene=scene_bar(ground.scene, state.scene, found.as_said if found else {}),
        tab=tab_title(shown),
        hint=wording.LINE_HINT,
        **sent_shown(composed.brief, composed.why, composed.problem),
    )
    return sent(html, problem)


def scene_said(state: Posted) -> SceneSaid:
    """What a posted form says of the scene."""
    return SceneSaid(state.scene, state.answers.caller, state.letter)


def tab_title(shown: Results | None) -> str:
    """What a vehicle's tab is called: its likeliest record where that is likely, else its shape, else nothing."""
    if shown is None:
        return ""
    if shown.rows and shown.rows[0].word in wording.TAB_SURE:
        return shown.rows[0].vehicles[0].title
    shapes = [one.value for one in shown.heard.own if one.heading == "body" and one.state != "struck"]
    return shapes[0] if shapes else ""


def _general(state: Posted) -> GeneralSteps:
    """The steps for any vehicle in the scene, or in one of which nothing is known where the scene cannot be read."""
    try:
        return general_steps(house(), scene_said(state))
    except BadInput:
        return general_steps(house(), SceneSaid())
