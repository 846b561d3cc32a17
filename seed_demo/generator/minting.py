"""Record codes in a fixed order: opaque to look at, the same for the same seed, never twice."""

from collections.abc import Iterator, Set
from itertools import count
from random import Random

from catalog.domain.codes import ALPHABET, check_character

_LENGTH = 5
_SPAN = len(ALPHABET) ** _LENGTH


def minted(seed: int, taken: Set[str]) -> Iterator[str]:
    """Codes with their check character, none of them in `taken`.

    A step without a common factor visits every body once before any comes again: about six
    million codes have a check character of the alphabet.
    """
    draw = Random(f"codes/{seed}")  # noqa: S311  repeatable on purpose
    start, step = draw.randrange(_SPAN), 2 * draw.randrange(_SPAN // 4, _SPAN // 2) + 1
    step += 2 if step % 5 == 0 else 0
    for turn in count():
        body = _body((start + turn * step) % _SPAN)
        check = check_character(body)
        code = f"{body[:3]}-{body[3:]}{check}"
        if check in ALPHABET and code not in taken:
            yield code


def _body(number: int) -> str:
    letters = []
    for _ in range(_LENGTH):
        number, place = divmod(number, len(ALPHABET))
        letters.append(ALPHABET[place])
    return "".join(letters)
