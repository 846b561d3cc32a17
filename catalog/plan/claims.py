"""Words that say something is safe, dead, zero or off as a fact: no step may. Told by phrases, not by grammar."""

from collections.abc import Iterator

_NEVER = ("safe", "safely", "dead", "zero", "harmless", "isolated", "de-energised", "deenergised", "discharged",
          "disarmed")  # fmt: skip
_IS = ("is", "are", "was", "now", "stays", "remains")
_OFF = ("off", "neutralised")
_DENIED = ("not", "never", "nothing", "or")  # shortly before
_SUPPOSED = ("when", "once", "until", "whether", "if")  # anywhere before, in the same sentence


def claims(text: str) -> Iterator[str]:
    """The words that claim it, as they stand in a text."""
    for sentence in text.lower().replace("!", ".").replace("?", ".").replace(";", ".").split("."):
        words = [word.strip(",:()\"'") for word in sentence.split()]
        for at, word in enumerate(words):
            before = words[:at]
            denied = any(each in _DENIED for each in before[-3:]) or any(each in _SUPPOSED for each in before)
            claimed = word in _NEVER or (word in _OFF and bool(before) and before[-1] in _IS)
            if claimed and not denied:
                yield " ".join((*before[-1:], word))
