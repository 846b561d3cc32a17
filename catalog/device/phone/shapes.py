"""The shape of a step's disc: solid to do, ring only if its condition holds, struck where it is ruled out."""

from catalog.draw.model import RING, SOLID, STRUCK
from catalog.plan.steps import Step

# Steps that say to leave something: the number stays, struck.
LEFT_ALONE = ("port_alone", "plug_none_fits", "plug_not_stated", "plug_refused", "cut_out_of_reach")


def shape_of_step(step: Step) -> str:
    """ "solid", "ring" or "struck"."""
    if step.id in LEFT_ALONE:
        return STRUCK
    return RING if step.only_if or step.holds else SOLID
