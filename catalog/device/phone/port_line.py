"""The port line, said on every screen of a record: the most careful of what the steps say about the charge port."""

from catalog.device.phone.drawn import out_of_reach, places_of
from catalog.device.phone.model import PortLine
from catalog.plan.brief.port import open_conditions
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.scene import Said, Scene
from catalog.plan.steps import Step

_NAMED = 3  # conditions; the step names them all
_CRUSHED = "not crushed, burnt or wet inside"
LEAVE = "LEAVE THE PORT ALONE"
_NONE_IN_RECORD = "none in the record; leave any you find"
ONLY_IF = "only if no fire, smoke or water"


def port_line(each: Each, scene: Scene) -> PortLine:
    """What is said of the port in this scene."""
    if scene.said("plug_accepted") is Said.YES:
        return PortLine("in", "the plug stays in: tag it, guard it", _number(each, "plug_accepted"))
    if each.values.of("")("port_ruled_out") is Said.YES or scene.said("overhead_line") is Said.YES:
        return PortLine("leave", LEAVE, _number(each, "port_alone"))
    if scene.said("plug_refused") is Said.YES:
        return PortLine("none", "plug not accepted, it can still move", _number(each, "plug_refused"))
    plugs = [step for step in each.plan.steps if step.id in ("plug", "plug_any")]
    if not plugs:
        return _no_plug(each)
    if all(_on_the_ground(step, each, scene) for step in plugs):
        return PortLine("none", "under the vehicle, do not plan on it")
    number = _number(each, plugs[0].id)
    if scene.said("fire") is not Said.NO or scene.said("water") is not Said.NO:
        return PortLine("only_if", ONLY_IF, number)
    conditions = _conditions(each, scene)
    return PortLine("step", f"step {number}{f', if {conditions}' if conditions else ', after the chocks'}", number)


def _conditions(each: Each, scene: Scene) -> str:
    """The state of the port itself first; of the rest the worst by name."""
    crushed = [_CRUSHED] if scene.said("port_damaged") is Said.UNKNOWN else []
    words = [word for word in open_conditions([each], scene) if word not in ("fire", "smoke", "water", "damage")]
    if crushed or not words:
        return "".join(crushed)
    return f"no {', '.join(words[:_NAMED])}" if len(words) <= _NAMED else f"no {', '.join(words[:_NAMED])}: see step"


def _no_plug(each: Each) -> PortLine:
    words = brief_words()["port"]
    for id_, key in (("plug_none_fits", "none_fits"), ("plug_not_stated", "not_counted_on")):
        number = _number(each, id_)
        if number:
            return PortLine("none", _plain(words[key][-1]), number)
    return PortLine("none", _NONE_IN_RECORD if each.subject.record else _plain(words["alone"][0]))


def _plain(text: str) -> str:
    """A sentence of the brief as what follows "Port:"."""
    return text[:1].lower() + text[1:].removesuffix(".")


def _on_the_ground(step: Step, each: Each, scene: Scene) -> bool:
    places = places_of(step, each.subject)
    return bool(places) and all(out_of_reach(place, scene) for place in places)


def _number(each: Each, id_: str) -> int:
    return next((number for number, step in enumerate(each.plan.steps, 1) if step.id == id_), 0)
