"""Passwords: hashed with argon2id, made where nobody chooses one, refused where they are too weak.

19 MiB, two passes, one lane: the least that the OWASP Password Storage Cheat Sheet asks of argon2id (RFC 9106 section
4 recommends 64 MiB, three passes, four lanes where memory is scarce: threads of a small server would each take them).
"""

import secrets
import threading
import unicodedata
from base64 import b64encode

from argon2 import PasswordHasher, Type
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.low_level import ARGON2_VERSION

from catalog.errors import BadInput

MEMORY_KIB, PASSES, LANES = 19 * 1024, 2, 1
SHORTEST, LONGEST = 12, 200
_HASH, _SALT = 32, 16  # bytes

# Without letters and digits that are taken for each other when read out or typed from paper.
_ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789"
_GROUPS, _EACH = 4, 4  # 79 bits

_hasher = PasswordHasher(PASSES, MEMORY_KIB, LANES, hash_len=_HASH, salt_len=_SALT, type=Type.ID)
# Many tries at once must not take all memory there is.
_turns = threading.BoundedSemaphore(4)


def hashed(password: str) -> str:
    """The encoded hash, its parameters and salt in it."""
    with _turns:
        return _hasher.hash(_bytes(password))


def fits(encoded: str, password: str) -> bool:
    """Whether it is the password that was hashed. Takes the same time whether or not."""
    if len(password) > LONGEST:
        password = ""
    try:
        with _turns:
            return _hasher.verify(encoded, _bytes(password))
    except (VerificationError, InvalidHashError):
        return False


def outdated(encoded: str) -> bool:
    """Whether it was hashed with other parameters than today's."""
    return _hasher.check_needs_rehash(encoded)


def no_account() -> str:
    """A hash that no password fits, for names that have no account: a try takes as long as with one."""
    return _NOBODY


def made() -> str:
    """A random password for one use, easy to read out."""
    groups = ("".join(secrets.choice(_ALPHABET) for _ in range(_EACH)) for _ in range(_GROUPS))
    return "-".join(groups)


def check_chosen(password: str, name: str) -> None:
    """Raises BadInput for a password that is too short, too long or said by the name."""
    if not SHORTEST <= len(password) <= LONGEST:
        raise BadInput(
            f"The new password has {len(password)} characters.",
            cure=f"Choose {SHORTEST} to {LONGEST}, such as four words that nobody puts together.",
        )
    bare = password.lower()
    if len(set(bare)) < 5 or (bare.replace(name.lower(), "") != bare and len(bare) - len(name) < SHORTEST):
        raise BadInput("The new password is easily guessed.", cure="Choose four words that nobody puts together.")


def _bytes(password: str) -> bytes:
    """The same characters typed on another keyboard are the same password."""
    return unicodedata.normalize("NFC", password).encode("utf-8", "replace")


def _random_hash() -> str:
    """As encoded as any other, with random bytes where the hash would stand: nothing need be hashed to make it."""
    salt, digest = (b64encode(secrets.token_bytes(size)).decode().rstrip("=") for size in (_SALT, _HASH))
    return f"$argon2id$v={ARGON2_VERSION}$m={MEMORY_KIB},t={PASSES},p={LANES}${salt}${digest}"


_NOBODY = _random_hash()
