"""The possible vehicles put together by their looks, in words."""

from collections.abc import Mapping, Sequence

from catalog.resolve.answering.chances import chance_of
from catalog.resolve.answering.group_views import (
    ActionView,
    DifferenceView,
    GroupsView,
    GroupView,
    Member,
    SightView,
)
from catalog.resolve.brief_facts import BY_KEY
from catalog.resolve.field import Field
from catalog.resolve.groups import ActionGroup, Group, grouped
from catalog.resolve.lookalikes import Difference, Telling
from catalog.resolve.posterior import Posterior
from catalog.resolve.sights import Observer

ADVICE: Mapping[Observer, str] = {
    Observer.CALLER: "Nothing that can be seen from where the caller stands tells them apart. Do not send them nearer.",
    Observer.CREW: "Nothing stated that can be seen tells them apart: go by the badge and the VIN.",
}


def groups_of(result: Posterior, field: Field) -> GroupsView:
    """The possible vehicles by looks and by action, for a caller."""
    found = grouped(result, field, Observer.CALLER)
    return GroupsView(
        groups=tuple(_group(group, result, field) for group in found.groups),
        acting=tuple(_action(action, result, field) for action in found.acting),
        rest=found.rest,
    )


def _group(group: Group, result: Posterior, field: Field) -> GroupView:
    titles = [field.tables.meta["titles"][action.positions[0]] for action in group.actions]
    wanting = len(group.actions) > 1 and not group.telling
    return GroupView(
        actions=tuple(_action(action, result, field) for action in group.actions),
        chance=chance_of(group.probability),
        headline=headline(group.differs, titles),
        differs=differences_said(group.differs),
        differ_in=group.differ_in,
        sights=sights_said(group.telling),
        advice=ADVICE[Observer.CALLER] if wanting else "",
    )


def _action(action: ActionGroup, result: Posterior, field: Field) -> ActionView:
    meta = field.tables.meta
    members = tuple(
        Member(
            meta["codes"][place],
            meta["titles"][place],
            meta["subtitles"][place],
            chance_of(float(result.records[place])),
        )
        for place in action.positions
    )
    return ActionView(members, chance_of(action.probability))


def headline(differs: Sequence[Difference], titles: Sequence[str]) -> str:
    """ "Looks alike, but pyro-fuse: fitted (Ostrel Packhorse) or not fitted (Ostrel Skerry)"."""
    if not differs:
        return ""
    said = " or ".join(f"{value} ({title})" for value, title in zip(differs[0].values, titles, strict=True))
    return f"Looks alike, but {differs[0].label}: {said}"


def differences_said(found: Sequence[Difference]) -> tuple[DifferenceView, ...]:
    return tuple(DifferenceView(each.key, each.label, BY_KEY[each.key].weight, each.values) for each in found)


def sights_said(found: Sequence[Telling]) -> tuple[SightView, ...]:
    return tuple(
        SightView(each.sight.attribute, each.sight.ask, each.sight.stance.value, each.values, each.bits)
        for each in found
    )
