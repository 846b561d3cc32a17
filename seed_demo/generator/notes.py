"""Notes: 60 to 120 tokens a record, in two or three pieces."""

import re
from collections.abc import Mapping
from functools import lru_cache

from seed_demo.generator.draws import pick
from seed_demo.generator.looks import drive_name
from seed_demo.generator.marks import Document, Src
from seed_demo.generator.plan import Body, Member

LEAST = 60
_TOKEN = re.compile(r"\w+|[^\w\s]")
_SEEN: Mapping[str, str] = {
    "hatchback": "Small town car with a steep tail and a short nose",
    "saloon": "Long, low car with a separate boot",
    "estate": "Long car with a load floor and a tall tail",
    "suv": "Tall car on big wheels, upright at the back",
    "coupe": "Low car with one long door on each side",
    "convertible": "Open car with two seats and a folding top",
    "pickup": "Work truck with an open bed behind the cab",
    "van": "Box on wheels with blind sides behind the first doors",
    "people_carrier": "Tall family car with three rows of seats",
    "bus": "City bus with wide doors and a flat floor",
    "lorry": "Cab and box body, square corners, steps up to the doors",
    "motorcycle": "Two-wheeler with wide bars and one seat for two",
    "microcar": "Tiny two-seater, hardly longer than it is tall",
}
_SOUND = {
    "battery": "glides off without a sound",
    "plug_in_hybrid": "moves off on its pack and may start the engine by itself",
    "hybrid": "stops and starts its engine by itself and cannot be plugged in",
    "fuel_cell": "drips clean water and hums; a leak burns without a visible flame",
    "combustion": "has an engine only: airbags and the 12 V still need their wait",
}


def notes(member: Member, body: Body, model: str, pages: Mapping[str, Src]) -> list[Document]:
    """The record's notes. model: as the badge has it."""
    draw, words = member.kit.draw, member.kit.make.words
    drive = "" if member.role == "lead" else f" This is the {_called(member)} version."
    sentences = {
        "looks": [f"{_SEEN[body.name]}; {_SOUND[member.propulsion]}.{drive}", f"The tail reads {model.upper()}."],
        "handling": draw.sample(words[_of("voice", member)], 2),
        "scene": [pick(draw, words[_of("scene", member)])],
    }
    total = sum(_tokens(sentence) for said in sentences.values() for sentence in said)
    wanted = LEAST + int(draw.random() * 15)
    hints = words[_of("hint", member)]
    first = int(draw.random() * len(hints))
    for more in (*hints[first:], *hints[:first]):
        if total >= wanted:
            break
        sentences["scene"].append(more)
        total += _tokens(more)
    texts = {item: " ".join(said) for item, said in sentences.items()}
    src = {"looks": pages["looks"], "handling": pages["motion"], "scene": pages["cutoff"]}
    return [{"id": item, "lang": "en", "text": text, "src": src[item]} for item, text in texts.items()]


@lru_cache(maxsize=50_000)
def _tokens(text: str) -> int:
    return len(_TOKEN.findall(text))


def _of(key: str, member: Member) -> str:
    """The sentences that fit the drive and the build."""
    return f"{key}_engine" if member.propulsion == "combustion" else member.kit.variant(key)


def _called(member: Member) -> str:
    if member.role in ("stretched", "taxi"):
        return "long" if member.role == "stretched" else "taxi"
    return {"facelift": "second", "market": "other market's"}.get(member.role, drive_name(member))
