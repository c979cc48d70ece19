"""Photos of a coach's containers: decoded with limits, encoded anew, nothing carried along."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from nearmark.errors import InputError
from nearmark.printing.jar_photo import MAX_SIDE_PX, safe_photo

GPS_IFD, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F
"""Tags of EXIF (JEITA CP-3451, from memory; Pillow's ExifTags name the same)."""


def photo(kind="JPEG", size=(2400, 1800), **more) -> bytes:
    out = io.BytesIO()
    Image.effect_mandelbrot(size, (-2, -1.5, 1, 1.5), 60).convert("RGB").save(out, kind, **more)
    return out.getvalue()


def photo_with_place() -> bytes:
    exif = Image.Exif()
    exif[MAKER] = "Larkspur camera"
    exif[ORIENTATION] = 6
    exif.get_ifd(GPS_IFD).update({1: "N", 2: (51.0, 30.0, 12.0), 3: "W", 4: (0.0, 7.0, 39.0)})
    return photo(exif=exif, comment=b"taken by a parent")


def test_place_camera_and_comment_are_gone_and_the_picture_stands_upright():
    given = photo_with_place()
    assert b"Larkspur" in given
    assert dict(Image.open(io.BytesIO(given)).getexif().get_ifd(GPS_IFD))

    kept = safe_photo(given)

    opened = Image.open(io.BytesIO(kept))
    assert not dict(opened.getexif())
    assert not dict(opened.getexif().get_ifd(GPS_IFD))
    assert not {"exif", "comment", "icc_profile", "xmp"} & set(opened.info)
    assert b"Larkspur" not in kept
    assert b"parent" not in kept
    # Orientation 6: the camera was held on its side, so that the picture is higher than wide.
    assert opened.height > opened.width


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_three_formats_come_out_as_a_small_jpeg(kind):
    kept = safe_photo(photo(kind))

    opened = Image.open(io.BytesIO(kept))
    assert opened.format == "JPEG"
    assert max(opened.size) == MAX_SIDE_PX
    assert len(kept) < 1_000_000


def test_a_picture_with_holes_is_laid_on_white():
    out = io.BytesIO()
    Image.new("RGBA", (300, 300), (0, 0, 0, 0)).save(out, "PNG")

    kept = Image.open(io.BytesIO(safe_photo(out.getvalue())))

    assert np.asarray(kept)[150, 150].min() > 250


def bomb(wide: int, high: int) -> bytes:
    """A PNG of a few hundred bytes that says it is huge."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", wide, high, 1, 0, 0, 0, 0)
    data = zlib.compress(bytes(2000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(8000, 8000), (14_000, 14_000), (60_000, 60_000)])
def test_a_decompression_bomb_is_refused_before_it_is_decoded(size):
    with pytest.raises(InputError, match="pixels"):
        safe_photo(bomb(*size))


def test_what_is_no_such_picture_is_refused():
    gif = io.BytesIO()
    Image.new("P", (300, 300)).save(gif, "GIF")
    broken = photo()[:4000]
    for content in (b"", b"hello", gif.getvalue(), broken, b"<svg onload='x'/>"):
        with pytest.raises(InputError, match="can be read"):
            safe_photo(content)


def test_too_many_bytes_and_too_few_pixels_are_refused():
    with pytest.raises(InputError, match="12 MB"):
        safe_photo(bytes(12_000_001))
    with pytest.raises(InputError, match="too small"):
        safe_photo(photo(size=(300, 120)))
