"""The search of the responder's app, answered here until its engine is on the phone: by the same function."""

from collections.abc import Mapping
from typing import Any

from catalog.device.phone.asked import asked_from
from catalog.device.phone.search import SearchView, answer
from catalog.services import asking
from catalog.services.house import House, field_of


def search_for_phone(house: House, page: Mapping[str, Any]) -> SearchView:
    """What the app shows of a search. page: its own object (device/phone/asked.py), checked by the gate.

    Raises BadInput for an answer there is not, Unavailable. Nothing of it is stored or logged.
    """
    asked = asked_from({**page, "driving_side": house.settings.driving_side})
    asking.check(asked.answers)
    return answer(field_of(house, house.shelf.current()), asked)
