"""One small, plausible record document, and how tests change it."""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from catalog.domain.places import Place

Document = dict[str, Any]
SRC = ["KEL-7/1:4"]


def said(value: Any, *src: str, **more: Any) -> Document:
    """A stored fact."""
    return {"value": value, **more, "src": list(src) or SRC}


def absent() -> Document:
    return {"fitted": False, "src": SRC}


def place(side: str, end: str, level: str, **more: Any) -> Document:
    return {"side": side, "end": end, "level": level, **more}


LEFT_REAR = Place("left", "rear_quarter", "mid")

_SAMPLE: Mapping[str, Any] = {
    "format": 1,
    "identity": {
        "make": "Ondru",
        "model": "Kella",
        "years": {"from": 2021, "to": 2024},
        "propulsion": "battery",
        "category": "M1",
        "steering": ["left"],
        "markets": ["europe"],
        "src": SRC,
    },
    "looks": {"body": said("hatchback"), "doors": said(5), "length": said(4100), "width": said(1780)},
    "ports": [
        {
            "id": "a",
            "standard": said("ccs2"),
            "current": said("ac_dc"),
            "place": said(place("left", "rear_quarter", "mid")),
            "cover": said("flap"),
            "door": {"mechanism": said("push_to_open")},
        }
    ],
    "cutoff": {
        "methods": [
            {"id": "a", "kind": said("power_off")},
            {"id": "b", "kind": said("lv_cut_loop"), "wait": said(60)},
            {"id": "c", "kind": said("lv_negative")},
        ]
    },
    "energy": {"packs": [{"id": "a", "role": said("traction"), "voltage": said(400), "capacity": said(58000)}]},
}

REMOVE = object()


def sample(changes: Mapping[str, Any] | None = None) -> Document:
    """The sample with dotted paths set ("energy.packs.0.voltage") or taken out (REMOVE)."""
    made: Document = deepcopy(dict(_SAMPLE))
    for path, value in (changes or {}).items():
        *way, last = path.split(".")
        node: Any = made
        for key in way:
            node = node[int(key)] if isinstance(node, list) else node.setdefault(key, {})
        if isinstance(node, list):
            node[int(last) : int(last) + 1] = [] if value is REMOVE else [value]
        elif value is REMOVE:
            del node[last]
        else:
            node[last] = value
    return made
