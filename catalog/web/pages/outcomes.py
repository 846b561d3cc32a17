"""What a described vehicle turned out to be, sent from the answers and from a record."""

from flask import Blueprint, Response, request

from catalog.errors import BadInput
from catalog.services.outcomes import note_outcome
from catalog.web import wording
from catalog.web.acting import from_here
from catalog.web.errors import answered
from catalog.web.outcomes import posted_outcome
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /outcomes."""
    blueprint.add_url_rule("/outcomes", "outcomes", _noted, methods=["POST"])


def _noted() -> Response:
    """Keep it and say what was kept. Another site's form is refused: it could say what nobody saw."""
    if not from_here():
        raise BadInput("This was not sent from a page of the catalogue.", cure="Press the button on the page itself.")
    noted = note_outcome(house(), posted_outcome(request.form))
    return answered(page("outcome.html", noted=noted, said=wording.OUTCOME_NOTED[noted.outcome]), kept=False)
