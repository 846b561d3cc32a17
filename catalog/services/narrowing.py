"""Lists made shorter by what somebody typed."""

from collections.abc import Callable


def with_words(typed: str) -> Callable[[str], bool]:
    """Whether a text has all the words that were typed, in any order and case; every text has where there are none."""
    words = typed.lower().split()

    def has(text: str) -> bool:
        lower = text.lower()
        return all(word in lower for word in words)

    return has
