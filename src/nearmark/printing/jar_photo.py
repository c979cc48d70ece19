"""A coach's photo of an own container, made safe to keep and to print.

The picture is decoded and encoded again: nothing of the file survives but the picture itself, no
place, no camera, no time.
"""

import io
import warnings
from typing import Final

from PIL import Image, ImageOps, UnidentifiedImageError

from nearmark.errors import InputError

MAX_BYTES: Final = 12_000_000
MAX_PIXELS: Final = 40_000_000
"""Any phone's camera stays below; 40 million pixels take 120 MB while they are scaled down."""

MAX_SIDE_PX: Final = 1600
MIN_SIDE_PX: Final = 200
FORMATS: Final = ("JPEG", "PNG", "WEBP")
_MEND: Final = "Take a JPEG, PNG or WebP photo"


def safe_photo(content: bytes) -> bytes:
    """Decode a photo with limits, turn it upright, scale it down, and encode it without metadata.

    ``content``: JPEG, PNG or WebP. Returns: a JPEG, at most 1,600 pixels a side. Raises InputError
    if it is no such picture, broken, too large or too small.
    """
    if len(content) > MAX_BYTES:
        raise InputError(
            f"is larger than {MAX_BYTES // 1_000_000} MB",
            where="photo",
            value=f"{len(content):,} bytes",
            mend="Send it in a smaller size",
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
                return _encoded(opened)
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as error:
        raise InputError("is not a picture that can be read", where="photo", mend=_MEND) from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many("more than can be") from error


def _too_many(pixels: str) -> InputError:
    return InputError(
        f"has {pixels} pixels; at most {MAX_PIXELS // 1_000_000} million",
        where="photo",
        mend="Send it in a smaller size",
    )


def _encoded(opened: Image.Image) -> bytes:
    """Sizes stand in the heading: they are looked at before a pixel is decoded."""
    wide, high = opened.size
    if wide * high > MAX_PIXELS:
        raise _too_many(f"{wide:,} x {high:,}")
    if min(wide, high) < MIN_SIDE_PX:
        raise InputError(
            f"is {wide} x {high} pixels: too small to count in",
            where="photo",
            mend=f"At least {MIN_SIDE_PX} pixels a side",
        )
    opened.draft("RGB", (MAX_SIDE_PX, MAX_SIDE_PX))
    upright = ImageOps.exif_transpose(opened)
    upright.thumbnail((MAX_SIDE_PX, MAX_SIDE_PX))
    # A new image takes the pixels only; what the file said beside them stays behind.
    plain = Image.new("RGB", upright.size, "white")
    if upright.mode in {"RGBA", "LA", "PA"} or "transparency" in upright.info:
        with_alpha = upright.convert("RGBA")
        plain.paste(with_alpha, (0, 0), with_alpha)
    else:
        plain.paste(upright.convert("RGB"))
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=84)
    return out.getvalue()
