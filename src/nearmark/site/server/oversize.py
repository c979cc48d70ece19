"""A post that is too large is answered in words; ``front`` has read it and thrown it away."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from nearmark.errors import InputError
from nearmark.site.common.limits import FORM_BYTES, MAX_UPLOAD_BYTES
from nearmark.site.common.refusals import too_large

GetResponse = Callable[[HttpRequest], HttpResponse]


def refuse_oversized(get_response: GetResponse) -> GetResponse:
    """Refuse a body above the limit before anything looks at it."""

    def respond(request: HttpRequest) -> HttpResponse:
        length = request.headers.get("Content-Length", "")
        size = int(length) if length.isascii() and length.isdigit() else 0
        if size <= MAX_UPLOAD_BYTES + FORM_BYTES:
            return get_response(request)
        return too_large(
            request,
            InputError(
                f"is larger than {MAX_UPLOAD_BYTES // 1_000_000} MB, nothing was saved",
                where="what was sent",
                value=f"{size / 1e6:,.0f} MB",
                mend="Choose a smaller file, or fewer at a time",
            ),
        )

    return respond
