"""The catalogue as it stood in an edition or at a time, and verifying it."""

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.errors import Conflict
from catalog.services.catalogue import SORTS, CatalogueAsked, catalogue
from catalog.services.verifications import start_verification, verifications
from catalog.web.acting import actor
from catalog.web.errors import status_of
from catalog.web.pages.records import asked_edition, asked_moment
from catalog.web.paging import asked_part, one_page
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /records and /steward/verify."""
    blueprint.add_url_rule("/records", "records", _records)
    blueprint.add_url_rule("/steward/verify", "verify", _verify, methods=["GET", "POST"])


def _records() -> str:
    # An empty field of the form is one that was not filled in.
    edition = asked_edition() if request.args.get("edition") else None
    at = asked_moment() if request.args.get("at") else None
    offset, limit = asked_part()
    asked = CatalogueAsked(
        edition, at, request.args.get("words", "").strip(), request.args.get("sort", "code"),
        offset, limit,
    )  # fmt: skip
    part = catalogue(house(), asked)
    found = part.edition
    newest = house().shelf.current().number
    return page(
        "records.html", asked=asked, edition=found, newest=newest, sorts=SORTS, total=part.total,
        paged=one_page(part.rows, offset, part.total),
        asked_edition=request.args.get("edition", ""), asked_at=request.args.get("at", ""),
        then=f"?edition={found.number}" if found.number != newest else "",
    )  # fmt: skip


def _verify() -> str | Response | tuple[str, int]:
    if request.method == "GET":
        return page("verify.html", found=verifications(house(), actor()), problem=None)
    try:
        start_verification(house(), actor())
    except Conflict as error:
        return page("verify.html", found=verifications(house(), actor()), problem=error), status_of(error)
    return redirect("/steward/verify", 303)
