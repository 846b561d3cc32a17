"""The operation that gives a record as a drawing."""

from collections.abc import Mapping
from typing import Any

from catalog.api.reply import FIXED, NEWEST, Reply
from catalog.domain import cautions, codes
from catalog.errors import NotFound
from catalog.services import records
from catalog.services.drawings import cut_points, record_strip
from catalog.services.house import House
from schemas.answers import with_cautions
from schemas.drawings import StripAnswer


def strip(house: House, given: Mapping[str, Any]) -> Reply:
    """A vehicle as one walks round it, drawn.

    The four sides unrolled in walking order, turned as the vehicle lies, with the numbers of its steps in that
    posture (POST /steps with the scene saying so), no-cut and never-push zones, packs, cables, inflators and
    batteries; and every cut point close up. Left and right are the vehicle's. `twin` says the same facts in words:
    show it with the drawing. What is blank is no fact and never permission.
    """
    found = records.read_record(house, _code(given["code"]), edition=given.get("edition"), at=given.get("at"))
    if found.withdrawn:
        raise NotFound(f"DO NOT USE {found.code}: {found.withdrawn}", cure="Use the steps for any vehicle.")
    made = record_strip(house, found.record, given["posture"], paper=given["paper"])
    view = {
        "edition": found.edition,
        "code": found.code,
        "title": found.record.identity.title,
        "posture": made.posture,
        "stands": made.stands,
        "svg": made.svg,
        "twin": made.twin,
        "legend": made.legend,
        "cut_points": cut_points(found.record, alone_standing=True),
    }
    told = cautions.full(found.edition.number, found.edition.published_at, demo=house.settings.demo)
    return Reply(with_cautions(StripAnswer, view, told), found.edition.number, FIXED if "edition" in given else NEWEST)


def _code(text: str) -> str:
    code = codes.parse(text)
    if code is None:
        raise NotFound("That is not a record's code.", cure="Check the code: six letters and digits such as QK7-M3M.")
    return code
