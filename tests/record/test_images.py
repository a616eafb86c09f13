"""Only real pictures come in; their pixels stay, what is written beside them goes."""

from __future__ import annotations

import io
import os
import random
import struct
import zlib
from datetime import UTC, datetime

import pytest
from PIL import Image

from sashwright.record.errors import Refused
from sashwright.record.images import LARGEST, lies, read_image, small
from tests.pictures import PLACE, picture_file, spoilt

FORMS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}
FUZZED = int(os.environ.get("SASHWRIGHT_FUZZ", "240"))
"""Spoilt pictures that are tried."""


def exif_of(data: bytes) -> Image.Exif:
    with Image.open(io.BytesIO(data)) as picture:
        return picture.getexif()


def pixels_of(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as picture:
        return picture.tobytes()


def sentence(data: bytes) -> str:
    with pytest.raises(Refused) as refusal:
        read_image(data)
    return str(refusal.value)


@pytest.mark.parametrize("form", FORMS)
def test_place_and_maker_go_time_and_pixels_stay(form: str) -> None:
    sent = picture_file(form, orientation=6, place=True, taken="2026:04:14 10:20:30", zone="-04:00")
    assert b"Maker of Cameras" in sent
    image = read_image(sent)
    assert image.form == FORMS[form]
    assert image.had_place
    assert b"Maker of Cameras" not in image.data
    assert dict(exif_of(image.data).get_ifd(0x8825)) == {}
    assert image.taken_at == datetime(2026, 4, 14, 14, 20, 30, tzinfo=UTC)
    assert pixels_of(image.data) == pixels_of(sent)


@pytest.mark.parametrize("form", FORMS)
def test_the_place_stays_where_that_is_asked_for(form: str) -> None:
    kept = read_image(picture_file(form, place=True), keep_place=True)
    assert dict(exif_of(kept.data).get_ifd(0x8825)) == PLACE
    assert b"Maker of Cameras" not in kept.data


@pytest.mark.parametrize("form", FORMS)
def test_a_kept_file_brought_in_again_is_the_same_file(form: str) -> None:
    image = read_image(picture_file(form, orientation=3, taken="2026:04:14 10:20:30"))
    assert read_image(image.data).digest == image.digest


@pytest.mark.parametrize("orientation", range(1, 9))
def test_small_pictures_stand_upright(orientation: int) -> None:
    """Against Pillow's own turning of the whole picture."""
    image = read_image(picture_file("PNG", orientation=orientation, size=(60, 40)))
    assert lies(image.data) == orientation
    assert (image.width, image.height) == ((60, 40) if orientation < 5 else (40, 60))
    with Image.open(io.BytesIO(small(image.data, 60, quality=95))) as copy:
        assert copy.size == (image.width, image.height)
        assert copy.getexif() == {}


def test_the_corner_of_a_turned_picture_is_where_it_belongs() -> None:
    picture = Image.new("RGB", (40, 24), "white")
    picture.paste("black", (0, 0, 8, 8))
    exif, out = Image.Exif(), io.BytesIO()
    exif[0x0112] = 6
    picture.save(out, "PNG", exif=exif)
    with Image.open(io.BytesIO(small(read_image(out.getvalue()).data, 100))) as copy:
        assert copy.size == (24, 40)
        # Turned clockwise, what was at the upper left is at the upper right.
        assert copy.convert("L").getpixel((21, 3)) < 60
        assert copy.convert("L").getpixel((3, 3)) > 200


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "I;16"])
def test_odd_pictures_are_made_small_too(mode: str) -> None:
    out = io.BytesIO()
    Image.new(mode, (50, 40), 1).save(out, "PNG")
    with Image.open(io.BytesIO(small(read_image(out.getvalue()).data, 25))) as copy:
        assert (copy.mode, copy.size) == ("RGB", (25, 20))


def test_a_picture_for_print_is_made_small_too() -> None:
    sent = picture_file("JPEG", mode="CMYK")
    with Image.open(io.BytesIO(small(read_image(sent).data, 32))) as copy:
        assert (copy.mode, copy.size) == ("RGB", (32, 24))


def test_nothing_that_is_unknown_comes_along() -> None:
    sent = picture_file()
    unknown = b"\xff\x02\x00\x10Exif\0\0a garden"
    assert b"a garden" not in read_image(sent[:2] + unknown + sent[2:]).data


def test_what_follows_a_picture_is_cut_off() -> None:
    sent = picture_file()
    assert read_image(sent + b"a short film, with the place where it was taken").data == (
        read_image(sent).data
    )


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"", "an empty file"),
        (b"GIF89a", "a GIF picture"),
        (b"%PDF-1.7", "a PDF file"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "a HEIC or AVIF picture, which cannot be read here"),
        (b"hello", "a file that is no picture"),
        (b"<svg onload='alert(1)'/>", "a drawing (SVG)"),
        (b"\xff\xd8\xff\xe0", "a picture that ends too early"),
        (picture_file()[:-400], "a JPEG file that is cut off or damaged"),
    ],
)
def test_what_is_no_picture_is_told_in_a_sentence(data: bytes, found: str) -> None:
    assert sentence(data).startswith(f"file: found {found}, expected a photograph as JPEG")


def test_a_file_that_is_too_large() -> None:
    assert "a file of 25.0 MB" in sentence(bytes(LARGEST + 1))


def huge_png(width: int, height: int) -> bytes:
    """A PNG of a few bytes that says it is huge."""

    def chunk(name: bytes, payload: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + payload))
        return struct.pack(">I", len(payload)) + name + payload + check

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def test_a_picture_that_is_huge_is_never_decoded(monkeypatch: pytest.MonkeyPatch) -> None:
    def decoded(*_: object, **__: object) -> None:
        raise AssertionError("it was decoded")

    monkeypatch.setattr("PIL.Image.open", decoded)
    for size in ((60_000, 60_000), (8000, 8000), (20_001, 1), (2**32 - 1, 2**32 - 1)):
        assert "at most 60 million pixels" in sentence(huge_png(*size))


def test_a_picture_that_says_it_is_larger_than_it_is() -> None:
    assert "cut off or damaged" in sentence(huge_png(3000, 3000))


@pytest.mark.parametrize("form", ["WEBP", "PNG"])
def test_pictures_that_move_are_refused(form: str) -> None:
    frames = [Image.new("RGB", (20, 20), colour) for colour in ("red", "blue")]
    out = io.BytesIO()
    frames[0].save(out, form, save_all=True, append_images=frames[1:], duration=100)
    assert "a picture that moves" in sentence(out.getvalue())


def test_a_progressive_picture_of_endless_scans_is_refused() -> None:
    sent = picture_file("JPEG", progressive=True)
    assert read_image(sent).width == 64
    at = sent.rindex(b"\xff\xda")
    scan = sent[at:-2]
    assert "more than 100 scans" in sentence(sent[:at] + scan * 120 + b"\xff\xd9")


def test_spoilt_pictures_come_in_or_are_refused_in_a_sentence() -> None:
    """Whatever comes, it ends well: a picture that can be shown, or one clear sentence."""
    made = random.Random(7)
    files = [
        picture_file(form, orientation=made.randint(1, 8), place=True, taken="2026:04:14 10:20:30", **how)
        for form, how in (
            ("JPEG", {}), ("JPEG", {"progressive": True, "size": (90, 70)}), ("PNG", {}),
            ("PNG", {"mode": "P"}), ("WEBP", {}), ("WEBP", {"lossless": True}),
        )
    ]  # fmt: skip
    kept = 0
    for _ in range(FUZZED):
        data = spoilt(made.choice(files), made)
        try:
            image = read_image(data, keep_place=made.random() < 0.5)
        except Refused as refusal:
            says = str(refusal)
            assert says.startswith("file: found ")
            assert says.endswith(".")
            assert "Traceback" not in says
            continue
        kept += 1
        assert max(image.width, image.height) < 20_000
        assert small(image.data, 32).startswith(b"\xff\xd8")
        assert 0x010F not in exif_of(image.data)
    # Some of the spoilt ones must still be pictures, or nothing was tried.
    assert 0 < kept < FUZZED
