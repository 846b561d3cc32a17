"""Photos as cameras, programs and enemies make them. Formats: JPEG (ITU T.81), PNG (W3C, third edition), WebP."""

import io
import struct
import zlib
from typing import Any

from PIL import Image

PLACE = b"Invented Lane 12"


def photo(kind: str = "JPEG", size: tuple[int, int] = (320, 200), mode: str = "RGB", **more: Any) -> bytes:
    """A picture that is red on the left and blue on the right."""
    made = Image.new("RGB", size, (200, 20, 20))
    made.paste((20, 20, 200), (size[0] // 2, 0, size[0], size[1]))
    out = io.BytesIO()
    made.convert(mode).save(out, kind, **more)
    return out.getvalue()


def with_place(kind: str = "JPEG") -> bytes:
    """With where it was taken, by whom, turned by a right angle, a comment and words for programs."""
    exif = Image.Exif()
    exif[0x0112] = 6  # Orientation: turned by 90 degrees (Exif 2.32, 4.6.4 A)
    exif[0x010E] = PLACE.decode()  # ImageDescription
    exif.get_ifd(0x8825)[1] = "N"  # GPSLatitudeRef
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 26.0)  # GPSLatitude
    more: dict[str, Any] = {"exif": exif}
    if kind == "JPEG":
        more["comment"] = PLACE
    if kind != "PNG":
        more["xmp"] = b"<x:xmpmeta>" + PLACE + b"</x:xmpmeta>"
    return photo(kind, **more)


def png_of_size(width: int, height: int) -> bytes:
    """A PNG that says it is so large, and holds next to nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", zlib.compress(b"\0" * 64)) + _chunk(b"IEND", b"")
    )


def jpeg_of_size(width: int, height: int) -> bytes:
    """A JPEG whose frame header says another size than its picture has."""
    data = bytearray(photo())
    at = data.index(b"\xff\xc0") + 5
    data[at : at + 4] = struct.pack(">HH", height, width)
    return bytes(data)


def text_bomb() -> bytes:
    """A PNG with compressed words that unpack to 200 MB."""
    words = b"Comment\0\0" + zlib.compress(b"a" * 200_000_000, 9)
    whole = photo("PNG")
    end = whole.rindex(b"IEND") - 4
    return whole[:end] + _chunk(b"zTXt", words) + whole[end:]


def animated(kind: str) -> bytes:
    """Three pictures one after another; the first is red."""
    frames = [Image.new("RGB", (64, 48), colour) for colour in ("red", "lime", "blue")]
    out = io.BytesIO()
    frames[0].save(out, kind, save_all=True, append_images=frames[1:])
    return out.getvalue()


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
