"""Briefs by their link, by their id for who looks after them, the briefs of a day, and incidents."""

from flask import Blueprint, Response, jsonify, make_response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from catalog.errors import BadInput, Conflict, NotFound
from catalog.services import brief_acts as acts
from catalog.services.brief_openings import mark_opened
from catalog.services.brief_views import BriefView
from catalog.services.briefs import brief_by_token, list_briefs, new_link, read_brief, read_incident
from catalog.services.drawings import brief_strips
from catalog.services.handing_over import SlipAsked, Temperature, Tick, slip_form, typed_fields, write_slip
from catalog.web import brief_wording
from catalog.web.acting import actor
from catalog.web.brief_sheet import MOST_NEWER, grouped, qr_code, sheet_of
from catalog.web.brief_standing import ended, standing
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /b/<token> with what became of it, /briefs, /briefs/<id> with what is done there, and /incidents/<id>."""
    blueprint.add_url_rule("/b/<token>", "brief_link", _by_link)
    blueprint.add_url_rule("/b/<token>/standing", "brief_standing", _standing)
    blueprint.add_url_rule("/briefs", "briefs", _day)
    blueprint.add_url_rule("/briefs/<id_>", "brief", lambda id_: _kept(read_brief(house(), actor(), id_)))
    blueprint.add_url_rule("/briefs/<id_>/hand-over", "hand_over", _hand_over, methods=["GET", "POST"])
    blueprint.add_url_rule("/briefs/<id_>/<act>", "brief_act", _act, methods=["POST"])
    blueprint.add_url_rule("/incidents/<id_>", "incident", _incident)


def _by_link(token: str) -> Response:
    """For whoever has the link, without a sign-in. That it was opened is marked; a page fetched ahead, or for the copy
    on a device, is not opened."""
    view = brief_by_token(house(), token)
    by_somebody = "prefetch" not in request.headers.get("Sec-Purpose", "") and "X-Kept-Copy" not in request.headers
    if request.method == "GET" and by_somebody:
        mark_opened(house(), view.id)
    return _page(view, own=False, address=request.base_url)


def _standing(token: str) -> Response:
    """For devices that keep a copy: whether it was recalled or corrected since. Not an opening."""
    try:
        told = standing(brief_by_token(house(), token))
    except NotFound:
        told = ended()
    return _private(jsonify(told))


def _kept(view: BriefView, problem: str = "") -> Response:
    """For who looks after it. The code of a link is there only when the link has just been made."""
    address = f"{request.host_url.rstrip('/')}{view.link}" if view.link else ""
    return _page(view, own=True, address=address, problem=problem)


def _act(id_: str, act: str) -> AnyResponse:
    """What is done with a brief, then its page again."""
    form = request.form
    try:
        match act:
            case "sent":
                acts.mark_sent(house(), actor(), id_, form.get("form", ""), form.get("to", ""))
            case "read-back":
                acts.note_read_back(house(), actor(), id_, form.get("who", ""), form.get("words", ""))
            case "recall":
                told = acts.Recall(form.get("why", ""), form.get("instead", ""))
                acts.recall(house(), actor(), id_, told)
            case "link":
                return _kept(new_link(house(), actor(), id_))
            case _:
                raise BadInput("There is nothing of that name to do.", cure="Use the buttons of the brief's page.")
    except (BadInput, Conflict) as error:
        made = _kept(read_brief(house(), actor(), id_), f"{error.message} {error.cure}")
        made.status_code = 409 if isinstance(error, Conflict) else 400
        return made
    return redirect(f"/briefs/{id_}", 303)


def _hand_over(id_: str) -> AnyResponse:
    """What can be ticked and typed; then the slip, with its link."""
    form, problem = request.form, ""
    if request.method == "POST":
        try:
            return _kept(write_slip(house(), actor(), id_, _slip()))
        except BadInput as error:
            problem = f"{error.message} {error.cure}"
    steps = slip_form(house(), actor(), id_)
    shown = {"steps": steps, "typed": typed_fields(), "form": form, "problem": problem, "id": id_}
    made = _private(page("hand_over.html", say=brief_wording, **shown))
    made.status_code = 400 if problem else 200
    return made


def _slip() -> SlipAsked:
    form = request.form
    ticks = [(name.removeprefix("tick:"), state) for name, state in form.items() if name.startswith("tick:") and state]
    typed = {name.removeprefix("typed:"): text for name, text in form.items() if name.startswith("typed:") and text}
    temperatures = zip(form.getlist("temperature"), form.getlist("temperature_at"), strict=False)
    return SlipAsked(
        tuple(Tick(key, state, form.get(f"at:{key}", "")) for key, state in ticks),
        typed,
        tuple(Temperature(at, text) for text, at in temperatures if text.strip()),
    )


def _day() -> Response:
    return _private(
        page("briefs.html", say=brief_wording, found=list_briefs(house(), actor(), request.args.get("day", "")))
    )


def _incident(id_: str) -> Response:
    return _private(page("incident.html", say=brief_wording, found=read_incident(house(), actor(), id_)))


def _page(view: BriefView, *, own: bool, address: str, problem: str = "") -> Response:
    strips = None if view.kind == "slip" else brief_strips(house(), view.composed)
    sheet, code = sheet_of(view, strips[1] if strips else None), qr_code(address) if address else ""
    shown = {"view": view, "own": own, "address": address, "problem": problem, "sheet": sheet, "code": code}
    shown |= {"most_newer": MOST_NEWER, "strips": strips, "standing": standing(view)}
    return _private(page("brief.html", say=brief_wording, full=grouped(view.brief.full), forms=acts.FORMS, **shown))


def _private(text: str | Response) -> Response:
    """Kept nowhere on the way, found by no search engine."""
    made = make_response(text)
    made.headers["Cache-Control"] = "no-store"
    made.headers["X-Robots-Tag"] = "noindex, nofollow, noarchive"
    return made
