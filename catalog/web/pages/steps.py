"""The steps on pages of their own: for any vehicle, and for one record, in a scene; to read, and to print.

A scene is nobody's words: it may stand in an address, so that a page can be kept and sent on.
"""

from flask import Blueprint, Response, make_response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from catalog.services.desk import SceneSaid, general_steps
from catalog.services.drawings import cut_points, steps_drawn
from catalog.services.records import parsed_code, read_record
from catalog.web.posted import scene_posted
from catalog.web.render import house, page
from catalog.web.scene_bar import scene_bar
from catalog.web.steps_shown import general_shown, steps_shown
from catalog.web.walk_round import WalkRound

TITLE = "Steps for any vehicle"


def add(blueprint: Blueprint) -> None:
    """Add /steps and /records/<code>/steps."""
    blueprint.add_url_rule("/steps", "steps", _general, methods=["GET", "POST"])
    blueprint.add_url_rule("/records/<code>/steps", "record_steps", _of_record, methods=["GET", "POST"])


def _general() -> Response:
    answers = scene_posted(request.values)
    view = general_steps(house(), SceneSaid(answers))
    bar = scene_bar(view.scene, answers, {})
    return make_response(page("steps.html", title=TITLE, steps=general_shown(view), scene=bar))


def _of_record(code: str) -> AnyResponse:
    known = parsed_code(code)
    if known != code:
        query = request.query_string.decode("ascii", "ignore")
        return redirect(f"/records/{known}/steps?{query}" if query else f"/records/{known}/steps")
    record = read_record(house(), known)
    if record.withdrawn:
        return make_response(page("withdrawn.html", view=record))
    answers = scene_posted(request.values)
    view, strip = steps_drawn(house(), known, answers)
    (vehicle,) = view.vehicles
    bar = scene_bar({field.key: field.said for field in view.scene}, answers, {})
    shown = {"title": vehicle.title, "vehicle": vehicle, "steps": steps_shown(view), "scene": bar, "view": record}
    return make_response(page("steps.html", walk=WalkRound(strip, (), cut_points(record.record)), **shown))
