"""What a brief says: radio text, full text, sheet, lines to the caller, corrections, the slip for tow and yard.

Pure: wording is data (data/brief.json, data/caller.json), code is plain enough to be written again in JavaScript.
"""

from catalog.plan.brief.composing import brief_plan, compose
from catalog.plan.brief.correcting import correct
from catalog.plan.brief.hand_over import HandOver, Temperature, Tick, slip, typed_fields
from catalog.plan.brief.model import (
    Agreed,
    Breath,
    Brief,
    BriefInput,
    BriefVehicle,
    Changed,
    Data,
    Line,
    Point,
    Section,
    Sure,
)

__all__ = [
    "Agreed",
    "Breath",
    "Brief",
    "BriefInput",
    "BriefVehicle",
    "Changed",
    "Data",
    "HandOver",
    "Line",
    "Point",
    "Section",
    "Sure",
    "Temperature",
    "Tick",
    "brief_plan",
    "compose",
    "correct",
    "slip",
    "typed_fields",
]
