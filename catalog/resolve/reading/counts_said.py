"""Numbers of doors and of rows of seats: "4 door", "doors? four", "three rows of seats"."""

from collections.abc import Sequence

from catalog.resolve.reading.doors_said import DOORS, both_rows, doors_by_row, with_the_back
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.words import Word, exactly, lists

_ROWS = frozenset(("row",))
_LIFTED = frozenset(("liftgate", "tailgate", "hatch", "hatchback"))
# What may stand between "doors" and the number that answers: "doors: four", "number of doors is 4".
_BETWEEN = frozenset(
    ("how", "many", "is", "are", "there", "theres", "its", "it", "has", "got", "id", "say", "think", "i", "about")
)


def small_number(word: Word) -> int | None:
    """The value of a word of one or two digits, or of a number in words."""
    number = word.token.number
    if number is not None:
        return number if len(word.token.text) <= 2 else None
    said: int | None = lists()["number_words"].get(word.token.text)
    return said


def read_doors(words: Sequence[Word]) -> list[Mention]:
    """ "4 door", "five-door", "3 or 5 door", "two doors", "how many doors? four"."""
    made = [with_the_back(words, said) for said in _counts(words, "doors", DOORS, range(2, 6))]
    return made + doors_by_row(words, made)


def read_rows(words: Sequence[Word]) -> list[Mention]:
    """ "two rows of seats", "seat rows: 3"."""
    made = _counts(words, "rows", _ROWS, range(2, 4)) if any(word.key in _ROWS for word in words) else []
    if not made:
        made = [
            Mention("rows", ("2",), at + 1, at + 1 + both_rows(words, at + 1))
            for at, word in enumerate(words)
            if word.key in DOORS and both_rows(words, at + 1)
        ][:1]
    return made


def _counts(words: Sequence[Word], attribute: str, nouns: frozenset[str], within: range) -> list[Mention]:
    made: list[Mention] = []
    for at, word in enumerate(words):
        if (word.key not in nouns and not (nouns is DOORS and word.token.text in _SHORT)) or (
            made and made[-1].end > at
        ):
            continue
        found = _before(words, at, within) or _after(words, at, within)
        if found is not None:
            values, start, end = _with_the_back(words, *found) if attribute == "doors" else found
            made.append(Mention(attribute, tuple(sorted({str(value) for value in values})), start, end))
    return made


def _with_the_back(words: Sequence[Word], values: list[int], start: int, end: int) -> tuple[list[int], int, int]:
    """ "four doors plus the back one", "4 doors + liftgate": the door at the back counts."""
    if (
        len(values) != 1
        or values[0] not in (2, 4)
        or end >= len(words)
        or words[end].key not in ("and", "plus", "with")
    ):
        return values, start, end
    at = end + 1
    while at < len(words) and at - end < 4 and words[at].token.text in ("a", "the", "big", "one", "its", "in", "at"):
        at += 1
    after = words[at].key if at < len(words) and words[at].token.parted < PAUSE else ""
    if after in _LIFTED:
        return [values[0] + 1], start, at + 1
    alone = at + 1 >= len(words) or words[at + 1].token.parted >= PAUSE or words[at + 1].token.text in ("one", "door")
    return ([values[0] + 1], start, at + 1) if after in ("back", "rear", "tail") and alone else (values, start, end)


_SHORT = {"2dr": 2, "3dr": 3, "4dr": 4, "5dr": 5}
# What may stand between a number and the doors it counts: "four passenger doors", "two long doors".
_KINDS = frozenset(
    ("side", "passenger", "cab", "big", "long", "large", "wide", "car", "main", "proper", "normal", "ordinary", "heavy",
     "people", "entry", "entrance", "crew", "opening", "hinged", "regular", "real", "tall", "huge", "full")
)  # fmt: skip


def _before(words: Sequence[Word], noun: int, within: range) -> tuple[list[int], int, int] | None:
    """ "4 door", "3 or 5 door", "4dr"."""
    if words[noun].token.text in _SHORT:
        return [_SHORT[words[noun].token.text]], noun, noun + 1
    if noun == 0 or words[noun].token.parted >= PAUSE or _of_houses(words, noun + 1):
        return None
    if words[noun - 1].token.text in _KINDS and noun > 1 and words[noun - 1].token.parted < PAUSE:
        found = _before(words, noun - 1, within)
        return None if found is None else (found[0], found[1], noun + 1)
    last = 4 if words[noun - 1].token.text == "fore" else small_number(words[noun - 1])
    if last is None or last not in within:
        return None
    if noun >= 3 and words[noun - 2].key == "or" and words[noun - 1].token.parted < PAUSE:
        first = small_number(words[noun - 3])
        if first is not None and first in within and words[noun - 2].token.parted < PAUSE:
            return [first, last], noun - 3, noun + 1
    return [last], noun - 1, noun + 1


_ALONG = frozenset(("down", "along", "away", "further"))
_HOUSES = frozenset(("terrace", "house", "tree", "cone", "vine", "shop", "garage", "grave", "tent", "parked", "bay"))


def _of_houses(words: Sequence[Word], at: int) -> bool:
    """ "five doors down", "three rows of terraces"."""
    if at >= len(words) or words[at].token.parted >= PAUSE:
        return False
    said = [word.key for word in words[at : at + 3]]
    down = said[0] in _ALONG and (len(said) == 1 or said[1] in ("from", "the", "on", "road") or words[at].key != "down")
    return down or (said[0] == "of" and any(key in _HOUSES for key in said[1:]))


def _after(words: Sequence[Word], noun: int, within: range) -> tuple[list[int], int, int] | None:
    """ "doors? four", "doors - 4": a number that stands alone answers."""
    at = noun + 1
    asked = words[noun].token.asked
    while at < len(words) and at - noun < 4 and words[at].token.text in _BETWEEN:
        asked = asked or words[at].token.asked
        at += 1
    value = small_number(words[at]) if at < len(words) else None
    if value is None or value not in within:
        return None
    alone = (
        at + 1 >= len(words) or words[at + 1].token.parted >= PAUSE or words[at + 1].token.text in exactly("function")
    )
    direct = asked or at == noun + 1 or words[noun + 1].token.text in ("is", "are", "its")
    return ([value], noun, at + 1) if alone and direct else None
