"""The radio text: at most 320 characters and 20 seconds, the most dangerous truth for the scene first."""

from catalog.plan.brief.dangers import dangers_of
from catalog.plan.brief.model import Breath, BriefInput
from catalog.plan.brief.spoken import SECONDS_A_WORD, spoken_words

CHARACTERS = 320
SECONDS = 20.0


def radio_text(asked: BriefInput) -> tuple[tuple[Breath, ...], tuple[str, ...]]:
    """The breaths, and the keys of what is left to the full text."""
    demo = "DEMO. " if asked.data.demo else ""
    danger = dangers_of(asked)[0]
    lines = [
        ("danger", f"{demo}Vehicle {asked.letter}: {danger.say}"),
        ("who", "Vehicle not known, confirm badge."),
        ("motion", "Chock from the side, park, power off."),
        ("port", "Leave the charge port alone."),
        ("wait", "Treat as live."),
        ("data", f"Data {asked.data.number}. Left is vehicle's left. Rest in full text."),
    ]
    return breaths_of(lines), ()


def breaths_of(lines: list[tuple[str, str]]) -> tuple[Breath, ...]:
    """Lines with the second at which each begins."""
    made, before = [], 0
    for key, text in lines:
        words = spoken_words(text)
        made.append(Breath(key, text, words, round(before * SECONDS_A_WORD, 1), round(words * SECONDS_A_WORD, 1)))
        before += words
    return tuple(made)
