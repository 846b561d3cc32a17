"""Whether the probabilities hold: for the steward."""

from flask import Blueprint

from catalog.services.fitting_outcomes import calibration_view
from catalog.web.confidence import SIDE, confidence_view
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /steward/confidence."""
    blueprint.add_url_rule("/steward/confidence", "confidence", _confidence)


def _confidence() -> str:
    view = calibration_view(house())
    return page("confidence.html", edition=view.edition, shown=confidence_view(view), side=SIDE)
