"""Public record codes: minted, opaque, with a check character, never derived from content.

Five random characters and an ISO/IEC 7064 MOD 37,36 check character, written "QK7-M3M".
The alphabet has no vowels and nothing that is misheard or misread as something else.
"""

import secrets
from collections.abc import Callable

ALPHABET = "2346789BCDFGHJKMNPQRTVWXZ"
_ALL = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def check_character(text: str) -> str:
    """ISO/IEC 7064 MOD 37,36 check character of an upper-case alphanumeric string."""
    running = 36
    for char in text:
        running = (running + _ALL.index(char)) % 36 or 36
        running = running * 2 % 37
    return _ALL[(37 - running) % 36]


def mint(choose: Callable[[str], str] = secrets.choice) -> str:
    """A new code. Drawn again until its check character is in the alphabet too."""
    while True:
        body = "".join(choose(ALPHABET) for _ in range(5))
        check = check_character(body)
        if check in ALPHABET:
            return f"{body[:3]}-{body[3:]}{check}"


def parse(text: str) -> str | None:
    """The code as written, from what a person typed (any case, spaces, no hyphen); None if not one."""
    bare = "".join(char for char in text.upper() if char not in " -–_")
    if len(bare) != 6 or any(char not in ALPHABET for char in bare):
        return None
    if check_character(bare[:5]) != bare[5]:
        return None
    return f"{bare[:3]}-{bare[3:]}"
