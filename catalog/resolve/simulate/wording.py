"""A description in words: what was said as somebody would write it down, misspelt here and there.

The words are the simulator's own and not those the reader knows: what of it is understood is for
evaluations to show.
"""

from collections.abc import Mapping
from random import Random
from typing import Any

from catalog.resolve.cue import Cue, Doubt
from catalog.resolve.simulate.describing import Simulated
from catalog.resolve.simulate.tables import sayings

_TURNED = {"left": "right", "right": "left"}
MISSPELT, CORRECTED, ASIDE, SHOUTED = 0.025, 0.04, 0.35, 0.06


def text_of(simulated: Simulated, seed: int, number: int) -> str:
    """The description as raw text; the same for the same numbers."""
    draw = Random(f"words/{seed}/{number}")  # noqa: S311  repeatable on purpose
    table = sayings()
    colours = [cue for cue in simulated.cues if cue.attribute == "colour"]
    bodies = [cue for cue in simulated.cues if cue.attribute == "body" and not cue.denied]
    rest = [cue for cue in simulated.cues if cue not in (*colours, *bodies)]
    draw.shuffle(rest)
    first = " ".join(_said(cue, draw) for cue in (*colours, *bodies))
    parts = [draw.choice(table["open"]) + (first if bodies else f"{first} car")] if colours or bodies else []
    parts += [_said(cue, draw) for cue in rest]
    if draw.random() < 0.3:
        draw.shuffle(parts)
    if draw.random() < ASIDE:
        parts.insert(draw.randrange(len(parts) + 1), draw.choice(table["aside"]))
    text = parts[0]
    for part in parts[1:]:
        text += draw.choice(table["join"]) + part
    text = " ".join(_spelt(word, draw) for word in text.split(" "))
    return text.upper() if draw.random() < SHOUTED else text


def _said(cue: Cue, draw: Random) -> str:
    table = sayings()
    words = _words(cue, table, draw)
    if cue.denied:
        return str(draw.choice(table["deny"])).format(words)
    if cue.doubt is not Doubt.FIRM:
        words = str(draw.choice(table["hedge"])).format(words)
    elif cue.attribute in ("body", "colour", "propulsion") and draw.random() < CORRECTED:
        wrong = draw.choice([value for value in table[cue.attribute] if value not in cue.values])
        words = str(draw.choice(table["correct"])).format(draw.choice(table[cue.attribute][wrong]), words)
    return words


def _words(cue: Cue, table: Mapping[str, Any], draw: Random) -> str:
    value = cue.values[0]
    if cue.attribute == "name":
        return str(draw.choice(table["name"])).format(cue.heard)
    if cue.attribute == "years":
        return str(draw.choice(table["year"])).format(value)
    if cue.attribute == "port_place":
        return _place(cue, table, draw)
    known = table[cue.attribute].get(value)
    return str(draw.choice(known)) if known else value


def _place(cue: Cue, table: Mapping[str, Any], draw: Random) -> str:
    """Told from the seat, or looking at its front: then sides are turned round in the words."""
    side, end, level = cue.values[0].split("|")
    seated, after = cue.viewpoint == "vehicle", ""
    if seated and side in _TURNED:
        if draw.random() < 0.5:
            after = draw.choice(table["seated"])
        else:
            side, after = _TURNED[side], " as you face the front of it"
    kinds = (("side", side), ("end", end), ("level", level))
    parts = [draw.choice(table[kind][said]) for kind, said in kinds if said]
    if draw.random() < 0.2 and len(parts) > 1:
        parts[0], parts[1] = parts[1], parts[0]
    return str(draw.choice(table["port"])).format(" ".join(parts)) + after


def _spelt(word: str, draw: Random) -> str:
    """A slip of the finger."""
    if len(word) < 4 or not word.isalpha() or draw.random() >= MISSPELT:
        return word
    at = draw.randrange(1, len(word) - 1)
    return draw.choice((word[:at] + word[at + 1 :], word[:at] + word[at + 1] + word[at] + word[at + 2 :]))
