"""Values of brief facts in words. What is not stated, or disputed, says so; it never looks like none."""

from catalog.domain.facts import State
from catalog.domain.spec.nodes import Attr, Equipment
from catalog.domain.wording import value_words
from catalog.resolve.brief_facts import BriefFact
from catalog.resolve.fact_values import DISPUTED, NONE, Claim, Element

NOT_STATED = State.NOT_STATED.label
NONE_STATED, NOTHING_TO_PLUG = NONE_WORDS = ("stated that there is none", "nothing to plug in")


def element_words(fact: BriefFact, element: Element) -> str:
    """ "12 V negative: left front quarter, low", "may be fitted", "guides disagree: 60 s or 300 s".

    Of several items the unstated one is "another: not stated".
    """
    if element == NONE:
        return NOTHING_TO_PLUG if fact.inside == "ports" else NONE_STATED
    if element == DISPUTED:
        return "guides disagree which"
    if isinstance(element, str) or all(claims is None for claims in element):
        return f"another: {NOT_STATED}" if fact.inside else NOT_STATED
    return ": ".join(_claims(attr, claims) for attr, claims in zip(fact.attrs, element, strict=True))


def _claims(attr: Attr, claims: tuple[Claim, ...] | None) -> str:
    if claims is None:
        return f"{attr.label} {NOT_STATED}"
    said = " or ".join(_claim(attr, claim) for claim in claims)
    return said if len(claims) == 1 else f"guides disagree: {said}"


def _claim(attr: Attr, claim: Claim) -> str:
    state, value = claim
    if state is State.NOT_FITTED or value is None:
        return State.NOT_FITTED.label
    words = value_words(attr, value)
    if state is State.MAY_BE_FITTED:
        return State.MAY_BE_FITTED.label if isinstance(attr.kind, Equipment) else f"may be fitted: {words}"
    return words
