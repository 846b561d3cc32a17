"""The photo process: a picture on standard input, its pixels as a plain JPEG on standard output, nothing else of it.

Run by `photo.py`. The first line of what it writes is JSON: {"width", "height"}, or {"refused": [found, allowed,
cure]}.
"""

import io
import json
import os
import sys
import warnings
from typing import Any

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from catalog.intake.files.apart import confine
from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused

KINDS = ("JPEG", "PNG", "WEBP")
MOST_PIXELS = 50_000_000  # what a phone's camera makes, with room
LONGEST_SIDE = 1600
_QUALITY = 82
_TAKEN = "a photo: JPEG, PNG or WebP"


def main(asked: str) -> None:
    """asked: JSON of {"limits"}."""
    confine(Limits(**json.loads(asked)["limits"]))
    with os.fdopen(0, "rb", closefd=False) as file:
        data = file.read()
    try:
        head, body = redrawn(data)
    except Refused as refused:
        head, body = {"refused": [refused.found, refused.allowed, refused.cure]}, b""
    sys.stdout.buffer.write(json.dumps(head).encode() + b"\n" + body)
    sys.stdout.buffer.flush()


def redrawn(data: bytes) -> tuple[dict[str, Any], bytes]:
    """Size and JPEG of the pixels. How many there are is checked before any is decoded. Raises Refused."""
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    warnings.simplefilter("error", Image.DecompressionBombWarning)
    warnings.simplefilter("ignore", UserWarning)
    too_many = f"a picture of more than {MOST_PIXELS // 1_000_000} million pixels"
    try:
        picture: Image.Image = Image.open(io.BytesIO(data), formats=KINDS)
        if picture.width * picture.height > MOST_PIXELS:
            raise Refused(too_many, _TAKEN, "Take it again with the phone's camera.")
        plain = _plain(picture)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise Refused(too_many, _TAKEN, "Take it again with the phone's camera.") from error
    except UnidentifiedImageError as error:
        raise Refused("something that is no photo, whatever it is called", _TAKEN, "Choose a photo.") from error
    except MemoryError as error:
        raise Refused("a photo that is too large to be read", _TAKEN, "Take it again, smaller.") from error
    except (OSError, ValueError, SyntaxError, EOFError, OverflowError, IndexError, KeyError, TypeError) as error:
        raise Refused("a photo that is damaged or cut off", "a whole photo", "Send it again.") from error
    made = io.BytesIO()
    plain.save(made, "JPEG", quality=_QUALITY, optimize=True)
    return {"width": plain.width, "height": plain.height}, made.getvalue()


def _plain(picture: Image.Image) -> Image.Image:
    """The first frame, turned as it was held, in red, green and blue on white, and nothing that came along with it."""
    picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))  # a JPEG is decoded at about the size that is kept
    picture.seek(0)
    picture.load()
    turned = ImageOps.exif_transpose(picture) or picture
    turned.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    if turned.has_transparency_data:
        turned = turned.convert("RGBA")
        paper = Image.new("RGB", turned.size, "white")
        paper.paste(turned, mask=turned.getchannel("A"))
        return paper
    # A new picture, since a converted one keeps comments, profiles and text of the one it was made from.
    paper = Image.new("RGB", turned.size)
    paper.paste(turned.convert("RGB"))
    return paper
