"""A photo nobody has checked, drawn anew in a process of its own: the pixels are kept, nothing else of the file is."""

import json
import tempfile
from dataclasses import asdict, dataclass

from catalog.intake.files.apart import run_apart
from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused

PHOTO_LIMITS = Limits(size=8 * 1024**2, memory=1024 * 1024**2, output=8 * 1024**2, processor=20, wall=30)
_CHILD = "catalog.intake.files.photo_child"


@dataclass(frozen=True, slots=True)
class Photo:
    """A JPEG without metadata, at most 1,600 pixels on its longer side."""

    width: int
    height: int
    content: bytes


def read_photo(data: bytes, limits: Limits = PHOTO_LIMITS) -> Photo:
    """The photo a file holds. Raises Refused, with found, allowed and cure in words."""
    if not data or len(data) > limits.size:
        found = f"{len(data):,} bytes" if data else "nothing: the file is empty"
        raise Refused(found, f"at most {limits.size // 1024**2} MB", "Take it again, smaller.")
    with tempfile.TemporaryFile() as file, tempfile.TemporaryFile() as out:
        file.write(data)
        file.seek(0)
        ended = run_apart(_CHILD, json.dumps({"limits": asdict(limits)}), (file, out), limits)
        out.seek(0)
        head, _, content = out.read().partition(b"\n")
    if ended or not head:
        raise Refused(f"a file that {ended or 'said nothing'}", "a photo that can be read", "Take it again.")
    told = json.loads(head)
    if "refused" in told:
        raise Refused(*told["refused"])
    return Photo(told["width"], told["height"], content)
