"""Free text over guides and notes, and the guides themselves."""

from flask import Blueprint, request

from catalog.domain.roles import RIGHTS, Right
from catalog.services.finding import find_text
from catalog.services.records import read_source
from catalog.web.acting import seen
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /find and /sources/<key>."""
    blueprint.add_url_rule("/find", "find", _find)
    blueprint.add_url_rule("/sources/<path:key>", "source", _source)


def _find() -> str:
    query = request.args.get("q", "").strip()
    found = find_text(house(), query) if query else None
    return page("find.html", query=query, found=found)


def _source(key: str) -> str:
    return page("source.html", source=read_source(house(), key), key=key, may_store=_may_store())


def _may_store() -> bool:
    visitor = seen()
    return visitor is not None and Right.UPDATE in RIGHTS[visitor.role]
