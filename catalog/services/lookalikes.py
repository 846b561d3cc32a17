"""Look-alikes of a record, and the possible vehicles put together by their looks."""

from collections.abc import Mapping, Sequence

from catalog.errors import BadInput
from catalog.resolve.brief_facts import BY_KEY
from catalog.resolve.field import Field
from catalog.resolve.groups import ActionGroup, Group, grouped
from catalog.resolve.lookalikes import Difference, Telling, lookalikes
from catalog.resolve.posterior import Posterior
from catalog.resolve.sights import Observer
from catalog.services.compiling import edition_view
from catalog.services.fact_views import (
    ActionView,
    DifferenceView,
    GroupsView,
    GroupView,
    Lookalikes,
    LookalikeView,
    Member,
    SightView,
    chance_of,
)
from catalog.services.house import House, field_of
from catalog.services.records import not_listed, parsed_code

OBSERVERS = tuple(observer.value for observer in Observer)
MOST = 50
NONE_FOUND = "No other record here looks so much like it. A vehicle that is not in this catalogue still may."
_ADVICE: Mapping[Observer, str] = {
    Observer.CALLER: "Nothing that can be seen from where the caller stands tells them apart. Do not send them nearer.",
    Observer.CREW: "Nothing stated that can be seen tells them apart: go by the badge and the VIN.",
}


def find_lookalikes(house: House, code: str, *, observer: str = "caller", limit: int = 5) -> Lookalikes:
    """The records of the current edition that look like one, nearest first. code: in any spelling.

    observer: "caller" is told only of what is seen from where they stand. Raises BadInput, NotFound.
    """
    if observer not in OBSERVERS:
        raise BadInput(f"observer is {observer!r}.", cure=f"Use one of: {', '.join(OBSERVERS)}.")
    if not 1 <= limit <= MOST:
        raise BadInput(f"limit is {limit}.", cure=f"Use 1 to {MOST}.")
    compiled = house.shelf.current()
    field = field_of(house, compiled)
    known = parsed_code(code)
    meta = field.tables.meta
    if known not in compiled.codes:
        raise not_listed(compiled, known, "Search by description, or list the records.")
    position = meta["codes"].index(known)
    seen = Observer(observer)
    found = lookalikes(position, field, seen, limit=limit)
    return Lookalikes(
        edition=edition_view(compiled),
        code=known,
        title=meta["titles"][position],
        subtitle=meta["subtitles"][position],
        observer=observer,
        lookalikes=tuple(
            LookalikeView(
                code=meta["codes"][other.position],
                title=meta["titles"][other.position],
                subtitle=meta["subtitles"][other.position],
                bits=other.bits,
                headline=_headline(other.differs, (meta["titles"][position], meta["titles"][other.position])),
                differs=_differences(other.differs),
                sights=_sights(other.telling),
                advice="" if other.telling else _ADVICE[seen],
            )
            for other in found
        ),
        message="" if found else NONE_FOUND,
    )


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
        headline=_headline(group.differs, titles),
        differs=_differences(group.differs),
        differ_in=group.differ_in,
        sights=_sights(group.telling),
        advice=_ADVICE[Observer.CALLER] if wanting else "",
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


def _headline(differs: Sequence[Difference], titles: Sequence[str]) -> str:
    """ "Looks alike, but pyro-fuse: fitted (Ostrel Packhorse) or not fitted (Ostrel Skerry)"."""
    if not differs:
        return ""
    said = " or ".join(f"{value} ({title})" for value, title in zip(differs[0].values, titles, strict=True))
    return f"Looks alike, but {differs[0].label}: {said}"


def _differences(found: Sequence[Difference]) -> tuple[DifferenceView, ...]:
    return tuple(DifferenceView(each.key, each.label, BY_KEY[each.key].weight, each.values) for each in found)


def _sights(found: Sequence[Telling]) -> tuple[SightView, ...]:
    return tuple(
        SightView(each.sight.attribute, each.sight.ask, each.sight.stance.value, each.values, each.bits)
        for each in found
    )
