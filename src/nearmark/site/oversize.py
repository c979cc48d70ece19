"""A post that is too large is answered in words, which a browser shows only after it has sent all.

Answered at once, the connection would break while the browser still sends, and the person would see
the browser's own page instead of the mend.
"""

from collections.abc import Callable
from typing import Final

from django.http import HttpRequest, HttpResponse

from nearmark.errors import InputError
from nearmark.site.pages.refusals import too_large
from nearmark.site.settings import LARGEST_UPLOAD_BYTES

GetResponse = Callable[[HttpRequest], HttpResponse]

MOST_READ_BYTES: Final = 5 * LARGEST_UPLOAD_BYTES
"""What is read only to be thrown away; more than this is cut off."""

FORM_BYTES: Final = 100_000
"""Around the files: boundaries, names of fields, short texts."""

_PART_BYTES: Final = 1_000_000


def refuse_oversized(get_response: GetResponse) -> GetResponse:
    """Refuse a body above the limit before anything looks at it.

    Parameters
    ----------
    get_response : callable
    """

    def respond(request: HttpRequest) -> HttpResponse:
        length = request.headers.get("Content-Length", "")
        size = int(length) if length.isascii() and length.isdigit() else 0
        if size <= LARGEST_UPLOAD_BYTES + FORM_BYTES:
            return get_response(request)
        left = min(size, MOST_READ_BYTES)
        while left > 0 and (part := request.read(min(left, _PART_BYTES))):
            left -= len(part)
        return too_large(
            request,
            InputError(
                f"is larger than {LARGEST_UPLOAD_BYTES // 1_000_000} MB, nothing was saved",
                where="what was sent",
                value=f"{size / 1e6:,.0f} MB",
                mend="Choose a smaller file, or fewer at a time",
            ),
        )

    return respond
