"""Whether the witness swaps left and right.

Part of a place's likelihood is that of witnesses who take one side for the other (`likelihood_places`).
Once everything is weighed, the share of that part in what was said, over all the vehicles it may be,
is the probability that this witness does: high where all else points to a vehicle whose port is on
the other side.
"""

import numpy as np

from catalog.resolve.cue import HEDGE_WEIGHT
from catalog.resolve.evidence import Evidence, attribute_of
from catalog.resolve.field import Field
from catalog.resolve.likelihood import Vector
from catalog.resolve.posterior import Posterior

# From here on it is said.
LIKELY = 0.25


def swaps_sides(result: Posterior, field: Field) -> float:
    """P(the witness swaps sides | all that was said); 0 where no side was said.

    Of a vehicle that is not listed it is what it is of its relatives.
    """
    found = [entry for entry in result.evidence if _has_side(entry)]
    if not found:
        return 0.0
    odds = np.ones(field.tables.size)
    for number, entry in enumerate(found):
        share = _share(entry, field)[entry.index]
        usual = _usual(entry, field)
        # The share before anything was said counts once, however often a side is.
        odds *= share / (1 - share) / (usual / (1 - usual) if number else 1.0)
    share = odds / (1 + odds)
    kin = field.tables.arrays["prior"] if result.relatives is None else result.relatives
    return float(result.records @ share + result.unlisted * (kin @ share))


def _has_side(entry: Evidence) -> bool:
    cue = entry.cue
    return cue.attribute == "port_place" and not cue.denied and any(value.split("|")[0] for value in cue.values)


def _usual(entry: Evidence, field: Field) -> float:
    return float(field.parameters.tables["mirrored"]["said" if entry.cue.viewpoint else "unsaid"])


def _share(entry: Evidence, field: Field) -> Vector:
    """Of each signature: what of P(said | true) is of witnesses who swap sides."""
    about = attribute_of(entry.cue.attribute, bool(entry.cue.viewpoint), field.tables, field.parameters)
    usual, hedge = _usual(entry, field), HEDGE_WEIGHT[entry.cue.doubt]
    whole, part = about.scorer.score(entry.cue.values), about.scorer.mirrored(entry.cue.values)
    known = whole > 0  # neither silent nor without a port
    chance = np.where(known, whole, 0.0)
    usually = float(about.shares @ chance) / max(float(about.shares[known].sum()), 1e-12)
    top, bottom = (1 - hedge) * part + hedge * usual * usually, (1 - hedge) * chance + hedge * usually
    return np.asarray(np.divide(top, bottom, out=np.full(len(whole), usual), where=known))
