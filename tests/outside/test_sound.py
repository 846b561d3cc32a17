"""Our sound-fold beside Double Metaphone as the text library has it (whoosh.lang.dmetaphone).

The two are different designs (ours keeps a mark for every vowel group), so only their agreement
over pairs of invented names is measured: pairs that differ in spelling alone, and pairs with one
consonant exchanged. The floors are what was measured when this was written, less a margin.
"""

import random

from whoosh.lang.dmetaphone import double_metaphone

from catalog.resolve.sound import sound_fold

_ONSETS = ("b", "br", "d", "dr", "f", "g", "k", "kr", "l", "m", "n", "p", "r", "s", "st", "t", "tr", "v", "z", "sh")
_VOWELS = ("a", "e", "i", "o", "u", "ea", "oo", "ai")
_CODAS = ("", "n", "r", "l", "x", "ck", "m", "t", "nd")
# Other spellings of the same sound.
_RESPELT = (
    ("ck", "k"),
    ("x", "ks"),
    ("f", "ph"),
    ("k", "c"),
    ("oo", "u"),
    ("ea", "ee"),
    ("ai", "ay"),
    ("s", "z"),
    ("n", "nn"),
)


def _names(count: int) -> list[str]:
    chance = random.Random(20)
    return [
        "".join(
            chance.choice(_ONSETS) + chance.choice(_VOWELS) + chance.choice(_CODAS) for _ in range(chance.randint(2, 3))
        )
        for _ in range(count)
    ]


def _respelt(name: str, chance: random.Random) -> str:
    usable = [(one, other) for one, other in _RESPELT if one in name]
    one, other = chance.choice(usable or [("n", "nn")])
    return name.replace(one, other, 1)


def _theirs_alike(one: str, other: str) -> bool:
    first = {code for code in double_metaphone(one) if code}
    return bool(first & {code for code in double_metaphone(other) if code})


def test_agreement_on_respelt_names() -> None:
    chance = random.Random(21)
    pairs = [(name, other) for name in _names(2000) if (other := _respelt(name, chance)) != name]
    both = sum(_theirs_alike(one, other) and sound_fold(one) == sound_fold(other) for one, other in pairs)
    theirs = sum(_theirs_alike(one, other) for one, other in pairs)
    print(f"respelt pairs {len(pairs)}: theirs alike {theirs}, ours too {both}")
    assert theirs > 1000
    assert both / theirs >= 0.9


def _neighbour(name: str, chance: random.Random) -> str:
    """One consonant replaced by another."""
    at = chance.choice([at for at, letter in enumerate(name) if letter not in "aeiou"])
    return name[:at] + chance.choice("bdfgklmnprstvz") + name[at + 1 :]


def test_agreement_on_neighbouring_names() -> None:
    chance = random.Random(22)
    pairs = [(name, other) for name in _names(2000) if (other := _neighbour(name, chance)) != name]
    alike = [(_theirs_alike(one, other), sound_fold(one) == sound_fold(other)) for one, other in pairs]
    agree = sum(theirs == ours for theirs, ours in alike)
    theirs, ours = (sum(column) for column in zip(*alike, strict=True))
    print(f"neighbours {len(pairs)}: agree on {agree}; alike to them {theirs}, to us {ours}")
    assert agree / len(pairs) >= 0.85
