"""A photo is drawn anew in a process of its own: nothing but its pixels comes through, and no file does harm."""

import io
from dataclasses import replace

import pytest
from PIL import Image

from catalog.intake.files import photo_child
from catalog.intake.files.photo import PHOTO_LIMITS, Photo, read_photo
from catalog.intake.files.refusing import Refused
from tests.unit import hostile_photos as made


def opened(photo: Photo) -> Image.Image:
    return Image.open(io.BytesIO(photo.content))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_where_it_was_taken_and_all_else_beside_the_pixels_is_gone(kind: str) -> None:
    before = made.with_place(kind)
    with_it = Image.open(io.BytesIO(before))
    assert with_it.getexif().get_ifd(0x8825), "the file this test brings must hold a place"
    assert made.PLACE in before or kind == "PNG"
    photo = read_photo(before)
    after = opened(photo)
    assert dict(after.getexif()) == {}
    assert set(after.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert made.PLACE not in photo.content
    # No segment for programs but JFIF's own: APP1 to APP15 and comments (ITU T.81, table B.1).
    assert {marker for marker, _ in after.applist} == {"APP0"}  # type: ignore[attr-defined]
    # It was held upright: what the tag said of it is done to the pixels.
    assert (photo.width, photo.height) == (200, 320)
    red, _, blue = after.convert("RGB").getpixel((100, 40))  # type: ignore[misc]
    assert red > blue


def test_a_large_photo_is_made_small_and_a_small_one_is_left_so() -> None:
    photo = read_photo(made.photo(size=(4000, 3000)))
    assert (photo.width, photo.height) == (1600, 1200)
    assert opened(photo).size == (1600, 1200)
    assert (read_photo(made.photo()).width, read_photo(made.photo()).height) == (320, 200)


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("SVG", b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
        ("HTML", b"<!doctype html><script>alert(1)</script>"),
        ("PDF", b"%PDF-1.7\n"),
        ("GIF", made.photo("GIF", mode="P")),
        ("TIFF", made.photo("TIFF")),
        ("bytes", bytes(range(256)) * 8),
        ("EPS", b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n"),
    ],
)
def test_what_is_no_photo_is_refused_whatever_it_is_called(name: str, data: bytes) -> None:
    with pytest.raises(Refused, match="no photo"):
        read_photo(data)


@pytest.mark.parametrize(
    "data",
    [made.png_of_size(30_000, 30_000), made.png_of_size(2**31 - 1, 2**31 - 1), made.jpeg_of_size(65_000, 65_000)],
)
def test_the_pixels_are_counted_before_any_is_decoded(data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(Refused, match="million pixels"):
        read_photo(data)
    # The same without the process, with decoding forbidden.
    monkeypatch.setattr(Image.Image, "load", lambda self: pytest.fail("decoded"))
    with pytest.raises(Refused, match="million pixels"):
        photo_child.redrawn(data)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_that_is_cut_off_is_refused_and_not_half_shown(kind: str) -> None:
    whole = made.photo(kind, (640, 480))
    for share in (0.1, 0.5, 0.9):
        with pytest.raises(Refused, match=r"damaged|no photo"):
            photo_child.redrawn(whole[: int(len(whole) * share)])
    with pytest.raises(Refused, match="empty"):
        read_photo(b"")


def test_words_that_unpack_to_very_much_are_not_unpacked() -> None:
    with pytest.raises(Refused):
        read_photo(made.text_bomb())


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_of_a_moving_picture_the_first_is_kept(kind: str) -> None:
    photo = read_photo(made.animated(kind))
    still = opened(photo)
    assert getattr(still, "n_frames", 1) == 1
    red, green, _ = still.getpixel((5, 5))  # type: ignore[misc]
    assert red > 200
    assert green < 60


@pytest.mark.parametrize(
    ("kind", "mode"),
    [("JPEG", "CMYK"), ("JPEG", "L"), ("PNG", "P"), ("PNG", "RGBA"), ("PNG", "I;16"), ("PNG", "1"), ("WEBP", "RGBA")],
)
def test_whatever_its_colours_are_made_of_it_comes_out_in_three(kind: str, mode: str) -> None:
    data = made.photo(kind, mode=mode) if mode != "I;16" else _sixteen_bits()
    after = opened(read_photo(data))
    assert (after.format, after.mode, after.size) == ("JPEG", "RGB", (320, 200))
    if mode in ("CMYK", "P", "RGBA"):
        left, right = after.getpixel((20, 100)), after.getpixel((300, 100))
        assert left[0] > left[2]  # type: ignore[index]
        assert right[2] > right[0]  # type: ignore[index]


def _sixteen_bits() -> bytes:
    out = io.BytesIO()
    Image.new("I;16", (320, 200), 40_000).save(out, "PNG")
    return out.getvalue()


def test_what_is_seen_through_is_white() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (40, 30), (0, 0, 0, 0)).save(out, "PNG")
    paper = opened(read_photo(out.getvalue())).getpixel((3, 3))
    assert isinstance(paper, tuple)
    assert min(paper) > 250


def test_too_large_a_file_and_too_little_memory_are_told() -> None:
    with pytest.raises(Refused, match="bytes"):
        read_photo(b"\xff\xd8\xff" + b"\0" * PHOTO_LIMITS.size)
    with pytest.raises(Refused):
        read_photo(made.photo(size=(6000, 4000)), replace(PHOTO_LIMITS, memory=64 * 1024**2))
