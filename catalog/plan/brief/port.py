"""What is said of the charge port: the most careful of what the vehicles' steps say."""

from collections.abc import Sequence

from catalog.domain.places import Place
from catalog.plan.brief.places import place_said
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.derived import PORT_RULED_OUT
from catalog.plan.scene import Said, Scene

_CONDITIONS = 4  # named; the rest is in the full text
_PLUGS = ("plug", "plug_any")


def port_forms(each: Sequence[Each], scene: Scene) -> tuple[str, ...]:
    """The shortest form first."""
    words = brief_words()["port"]
    state = _state(each, scene)
    if state != "offered":
        return tuple(words[state])
    open_, place = open_conditions(each, scene), _place(each)
    forms = words["only_if"] if open_ else words["plug"]
    said = [form.replace("{if}", ", ".join(open_[:_CONDITIONS])) for form in forms]
    return tuple(form.replace("{place}", place) for form in said if place or "{place}" not in form)


def open_conditions(each: Sequence[Each], scene: Scene) -> tuple[str, ...]:
    """What is still to be ruled out before anything is plugged in, the worst first: "fire", "smoke", "water"."""
    unknown = {key for key in PORT_RULED_OUT if scene.said(key) is Said.UNKNOWN}
    return tuple(
        word for row in brief_words()["port_conditions"] if unknown.intersection(row["fields"]) for word in row["words"]
    )


def _state(each: Sequence[Each], scene: Scene) -> str:
    if scene.said("plug_accepted") is Said.YES:
        return "accepted"
    ids = [{step.id for step in one.plan.steps} for one in each]
    if any(one.values.of("")("port_ruled_out") is Said.YES for one in each) or scene.said("overhead_line") is Said.YES:
        return "alone"
    if scene.said("plug_refused") is Said.YES:
        return "refused"
    if all(found.isdisjoint((*_PLUGS, "plug_not_stated", "plug_none_fits")) for found in ids):
        return "none"
    # Where one of them cannot be stopped by its port, nobody counts on it.
    if any("plug_not_stated" in found or found.isdisjoint(_PLUGS) for found in ids):
        return "none_fits" if all("plug_none_fits" in found for found in ids) else "not_counted_on"
    return "offered"


def _place(each: Sequence[Each]) -> str:
    """Where it is, if it is at one and the same place on all."""
    steps = [(one, step) for one in each for step in one.steps("plug") if step.item]
    stated = [one.subject.plainly(f"{step.item}.place") for one, step in steps]
    places = [place for place in stated if isinstance(place, Place)]
    alike = len(places) == len(stated) and len(set(places)) == 1
    return place_said(places[0]) if alike else ""
