"""Briefs from the desk: composed and kept, or unstored and marked; given out, read back, looked after.

Unlike the line these write, and so carry the page's token (`web/acting.py`).
"""

from flask import Blueprint, Response, request

from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound, NotSignedIn, Unavailable
from catalog.services.acting import Actor
from catalog.services.brief_acts import follow_up, mark_sent, note_read_back
from catalog.services.briefs import BriefAsked, BriefView, compose_brief, compose_unstored, read_brief
from catalog.services.desk import known_scene
from catalog.web import wording
from catalog.web.acting import actor
from catalog.web.brief_shown import sent_shown
from catalog.web.errors import answered
from catalog.web.pages.desk import Composed, desk_page, scene_said
from catalog.web.posted import posted
from catalog.web.render import house, page
from catalog.web.typed import description_of

MOST = 40  # briefs looked after at once


def add(blueprint: Blueprint) -> None:
    """Add /desk/brief and what is done with one."""
    blueprint.add_url_rule("/desk/brief", "desk_brief", lambda: _shown(_composed()), methods=["POST"])
    blueprint.add_url_rule("/desk/unstored", "desk_unstored", lambda: _shown(_unstored()), methods=["POST"])
    blueprint.add_url_rule("/desk/brief/sent", "desk_brief_sent", _sent, methods=["POST"])
    blueprint.add_url_rule("/desk/brief/read-back", "desk_brief_read_back", _read_back, methods=["POST"])
    blueprint.add_url_rule("/desk/brief/now", "desk_brief_now", _now, methods=["POST"])


def _shown(composed: Composed) -> Response:
    """The pane's part for a script, which sends a key; the whole desk for a plain form."""
    if "key" not in request.form:
        return desk_page("desk.html", composed)
    return answered(page("sent.html", **sent_shown(composed.brief, composed.why, composed.problem)), kept=False)


def _composed() -> Composed:
    why = ""
    by: Actor | None = None
    try:
        asked = _asked()
        try:
            by = actor()
            follows = request.form.get("follows", "")
            view = follow_up(house(), by, follows, asked) if follows else compose_brief(house(), by, asked)
        except (NotSignedIn, Forbidden, Unavailable) as error:
            why = _why(error)
            view = compose_unstored(house(), asked)
        return Composed(view, why if view.stored else _and_say(why))
    except Conflict as error:
        return Composed(problem=f"{wording.BRIEF_SAME} {error.cure}" if "otherwise" in error.message else error.message)
    except (BadInput, NotFound, Unavailable) as error:
        return Composed(problem=f"{error.message} {error.cure}")


def _unstored() -> Composed:
    """For whoever is not signed in, or not any more: nothing is written, so no token is asked for."""
    try:
        return Composed(compose_unstored(house(), _asked()), _and_say(wording.BRIEF_UNSTORED_WHY["nobody"]))
    except (BadInput, NotFound, Unavailable) as error:
        return Composed(problem=f"{error.message} {error.cure}")


def _and_say(why: str) -> str:
    """An unstored brief follows none, so that it is a correction must be said by hand."""
    again = wording.BRIEF_UNSTORED_WHY["correction"] if request.form.get("again") else ""
    return f"{why} {again}".strip()


def _why(error: ChockbookError) -> str:
    if isinstance(error, NotSignedIn):
        return wording.BRIEF_UNSTORED_WHY["nobody"]
    return wording.BRIEF_UNSTORED_WHY["may not" if isinstance(error, Forbidden) else "away"]


def _asked() -> BriefAsked:
    """The brief for the form as it stands, with the scene whole, as the desk shows it. Raises BadInput, Unavailable."""
    state = posted(request.form)
    description = description_of(state)
    scene, caller = known_scene(house(), description, scene_said(state))
    return BriefAsked(
        text=state.text,
        scene=scene,
        letter=state.letter,
        incident=request.form.get("incident", "").strip(),
        key=request.form.get("key", ""),
        amendments=description.amendments,
        answers=state.answers,
        caller=caller,
    )


def _sent() -> Response:
    view = mark_sent(house(), actor(), request.form.get("id", ""), request.form.get("form", ""))
    return _became([view])


def _read_back() -> Response:
    view = note_read_back(house(), actor(), request.form.get("id", ""), request.form.get("who", ""))
    return _became([view])


def _now() -> Response:
    """What became of several; one that is not there any more is left out."""
    by, views = actor(), []
    for id_ in request.form.getlist("id")[:MOST]:
        try:
            views.append(read_brief(house(), by, id_))
        except NotFound:
            continue
    return _became(views)


def _became(views: list[BriefView]) -> Response:
    return answered("".join(page("became.html", **sent_shown(view)) for view in views), kept=False)
