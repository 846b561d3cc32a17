"""The pages: search, record, find, guides, editions, steward; with their static files.

May import: catalog.domain, catalog.resolve (words only), catalog.draw (sketches to tap), catalog.services,
catalog.errors, Flask and what keeps its sessions. Thin: a page calls one service, builds a view from what it returned,
and renders it. No page reads the database or the text index itself, and the room never imports api or cli.
"""

from flask import Blueprint, Flask

from catalog.web import acting, errors, headers
from catalog.web.assets import read_assets
from catalog.web.pages import (
    account,
    accounts,
    briefs,
    confidence,
    desk,
    desk_briefs,
    doubts,
    editions,
    guides,
    looking_back,
    outcomes,
    phone,
    phone_parts,
    phone_search,
    plain,
    records,
    search,
    signing,
    steps,
    trail,
    update_new,
    updates,
    watching,
    work,
)
from catalog.web.render import ASSETS

__all__ = ["register"]


def register(app: Flask) -> None:
    """Add the pages to an application whose house is at app.extensions["chockbook"]."""
    app.extensions[ASSETS] = read_assets()
    blueprint = Blueprint("pages", __name__, template_folder="templates")
    for module in (
        plain, desk, desk_briefs, search, steps, records, guides, editions, outcomes, confidence, signing, account,
        accounts, trail, update_new, updates, watching, doubts,
        briefs,
        work, looking_back,
        phone, phone_parts, phone_search,
    ):  # fmt: skip
        module.add(blueprint)
    acting.register(app, blueprint)
    errors.register(app, blueprint)
    app.register_blueprint(blueprint)
    app.after_request(headers.secure)
