"""Sound-fold: words that sound alike to an English ear fold to the same letters.

A flat list of spellings, tried longest first at each letter, so that it can be written twice.
Vowel groups become one "a", so the number of syllables still counts.
"""

_VOWELS = "aeiou"
# (spelling, sound, only at the start of the word)
_START = (
    ("kn", "n"), ("gn", "n"), ("pn", "n"), ("wr", "r"), ("ps", "s"), ("wh", "w"), ("rh", "r"), ("x", "s"),
)  # fmt: skip
_SPELLINGS = (
    ("tsch", "x"), ("sch", "x"), ("tch", "x"), ("dge", "j"), ("ght", "t"), ("cia", "xa"), ("tio", "xa"),
    ("ch", "x"), ("sh", "x"), ("ph", "f"), ("th", "t"), ("ck", "k"), ("qu", "kw"), ("gh", ""), ("dg", "j"),
    ("sc", "s"), ("mb", "m"), ("wh", "w"), ("rh", "r"),
    ("q", "k"), ("x", "ks"), ("z", "s"), ("c", "k"), ("j", "j"), ("w", "w"),
)  # fmt: skip
_SOFT = "eiy"


def sound_fold(word: str) -> str:
    """Folded sound of a lower-case ASCII word; digits and other characters stand for themselves."""
    rest, made = word, ""
    for spelling, sound in _START:
        if rest.startswith(spelling):
            made, rest = sound, rest[len(spelling) :]
            break
    index = 0
    while index < len(rest):
        taken, sound = _sound_at(rest, index)
        made += sound
        index += taken
    return _squeezed(made)


def _sound_at(word: str, index: int) -> tuple[int, str]:
    letter = word[index]
    after = word[index + 1 : index + 2]
    if letter in _VOWELS:
        return _vowels(word, index)
    if letter == "y":
        # A consonant only before a vowel at the start or between vowels; elsewhere a vowel.
        return (1, "y") if index == 0 and after and after in _VOWELS else (1, "a")
    if letter == "h" and not (index == 0 or word[index - 1] in _VOWELS) and len(word) > 1:
        return 1, ""
    if letter == "h":
        return (1, "h") if after and after in _VOWELS else (1, "")
    if letter == "s" and word.startswith("sc", index) and word[index + 2 : index + 3] not in tuple(_SOFT):
        return 2, "sk"
    for spelling, sound in _SPELLINGS:
        if len(spelling) > 1 and word.startswith(spelling, index):
            if spelling == "mb" and index + 2 < len(word):
                continue
            return len(spelling), sound
    if letter == "c" and after and after in _SOFT:
        return 1, "s"
    if letter == "g" and after and after in _SOFT and index + 2 < len(word):
        return 1, "j"
    for spelling, sound in _SPELLINGS:
        if spelling == letter:
            return 1, sound
    return 1, letter


def _vowels(word: str, index: int) -> tuple[int, str]:
    end = index
    while end < len(word) and (word[end] in _VOWELS or (word[end] in "yw" and end > index)):
        end += 1
    silent = end == len(word) and word[index:end] == "e" and index >= 2
    return end - index, "" if silent else "a"


def _squeezed(text: str) -> str:
    made = ""
    for letter in text:
        if not made or made[-1] != letter:
            made += letter
    return made
