"""Where a text names a part of a vehicle, and where it says what one is like (data/parts.json)."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from catalog.resolve.reading.phrases import LIKE, NOUN, Meaning, part_table
from catalog.resolve.reading.words import Word, exactly

# "not", "no": what stands beyond it is not said of the noun. "or": either of two may be meant.
NOT, OR = "@not", "@or"
# A noun of something else that may be round or black: "a small square plug".
OTHER = "other"
_PLURAL = "plural"  # in the value of a noun: "rears", not "rear"


@dataclass(frozen=True, slots=True)
class Hit:
    """A saying at words [start, end). nouns, likes: part -> value."""

    start: int
    end: int
    nouns: Mapping[str, str]
    likes: Mapping[str, str]


def part_hits(words: Sequence[Word], taken: Sequence[bool]) -> list[Hit]:
    """The longest saying at each word that is free, in order of place."""
    meant = _meant()
    made: list[Hit] = []
    past = 0
    for at, found in enumerate(part_table().ends(words)):
        if at < past:
            continue
        for end, said in found:
            if not any(taken[at:end]):
                nouns, likes, plural = meant[id(said)]
                if plural and not words[at].token.text.endswith("s"):
                    nouns = {}
                made.append(Hit(at, end, nouns, likes))
                past = end
                break
    return made


@cache
def _meant() -> Mapping[int, tuple[Mapping[str, str], Mapping[str, str], bool]]:
    """What each kind of the table means: part -> value as a noun, as a quality; whether only in the plural."""
    made = {id(said): (_by_part(said, NOUN), _by_part(said, LIKE)) for said in part_table().kinds}
    return {key: (*both, any(_PLURAL in value for value in both[0].values())) for key, both in made.items()}


def ranges(words: Sequence[Word], noun: Hit, said: Sequence[Hit]) -> tuple[int, int, tuple[tuple[int, int], ...]]:
    """(start, end) from the first thing said before a noun to the last one close behind it, and what lies apart."""
    start = min([noun.start, *(hit.start for hit in said if hit.end <= noun.start)])
    end = noun.end
    apart: list[tuple[int, int]] = []
    for hit in said:
        if hit.start >= end and all(word.key in exactly("function") for word in words[end : hit.start]):
            end = hit.end
        elif hit.start >= end:
            apart.append((hit.start, hit.end))
    return start, end, tuple(apart)


def _by_part(said: Sequence[Meaning], kind: str) -> Mapping[str, str]:
    pairs = [(meaning.attribute.split(" "), meaning.values[0]) for meaning in said]
    return {names[1]: value for names, value in pairs if names[0] == kind}
