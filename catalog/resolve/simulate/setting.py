"""How a set of witnesses is: which share of them errs in which way."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Setting:
    """Shares, 0 to 1.

    mirrored: swap left and right of every side. stereotyping: say what such vehicles are supposed to have, all of a
    piece. careless: guess evenly half of the time. hedged, denied: of the cues. named: how often a name is said,
    relative to the usual. unlisted: of the vehicles; new_make: of those, the ones that are no relative of a listed one.
    mutated: of an unlisted relative's attributes and facts. right, near: what witnesses get right, and how much of
    what they get wrong is something like it, relative to the usual.
    """

    mirrored: float = 0.12
    stereotyping: float = 0.15
    careless: float = 0.2
    hedged: float = 0.15
    denied: float = 0.05
    named: float = 1.0
    unlisted: float = 0.12
    new_make: float = 0.5
    mutated: float = 0.35
    right: float = 1.0
    near: float = 1.0


USUAL = Setting()
CORRELATED = Setting(mirrored=0.3, stereotyping=0.4, careless=0.35)
SHIFTED = Setting(mirrored=0.35, stereotyping=0.4, careless=0.5)
# Worse witnesses than anything was fitted to, who err otherwise: less is right, and what is wrong may be anything.
WORST = replace(SHIFTED, right=0.85, near=0.3)


@dataclass(frozen=True, slots=True)
class Witness:
    """One witness. stereotype: "", "ordinary" or "electric"."""

    mirrored: bool = False
    stereotype: str = ""
    careless: bool = False


def witnesses(setting: Setting) -> dict[Witness, float]:
    """Every kind of witness with its share; they add up to 1."""
    made: dict[Witness, float] = {}
    half = setting.stereotyping / 2
    for mirrored, first in ((True, setting.mirrored), (False, 1 - setting.mirrored)):
        for stereotype, second in (("", 1 - setting.stereotyping), ("ordinary", half), ("electric", half)):
            for careless, third in ((True, setting.careless), (False, 1 - setting.careless)):
                made[Witness(mirrored, stereotype, careless)] = first * second * third
    return made
