"""What an address or a form names: the row, the number, the reason."""

from typing import Any, TypeVar

from django.db.models import Manager, Model, QuerySet
from django.http import HttpRequest

from nearmark.errors import InputError
from nearmark.site.common.forms import NoteForm
from nearmark.site.common.limits import MAX_UPLOAD_BYTES

MAX_SHOWN = 60
"""Signs of a code that nobody knows."""

_Row = TypeVar("_Row", bound=Model)


def known_row(
    rows: QuerySet[_Row] | Manager[_Row], where: str, mend: str = "", **named: Any
) -> _Row:
    """The one of some rows that a column names; InputError if there is none."""
    row = rows.filter(**named).first()
    if row is None:
        (value,) = named.values()
        value = value[:MAX_SHOWN] if isinstance(value, str) else value
        raise InputError("is not known", where=where, value=value, mend=mend)
    return row


def typed_number(text: str, max_digits: int = 9) -> int | None:
    """A whole number as a page sends it; ``None`` for anything but a few plain digits."""
    is_number = text.isascii() and text.isdigit() and len(text) <= max_digits
    return int(text) if is_number else None


PASTED = "pasted text"


def pasted_or_file(request: HttpRequest, what: str, *, kinds: str) -> tuple[str, str | bytes]:
    """Name and content of a list that was pasted, or chosen as a file of some ``kinds``."""
    upload, pasted = request.FILES.get("file"), request.POST.get("text", "")
    if upload is None:
        if not pasted.strip():
            raise InputError("is empty", where=what, mend=f"Paste it, or choose {kinds}")
        return PASTED, pasted
    if pasted.strip():
        raise InputError("was pasted and chosen as a file", where=what, mend="Give one of the two")
    if (upload.size or 0) > MAX_UPLOAD_BYTES:
        only = what.rpartition(" ")[2]
        raise InputError("is larger than 20 MB", where="file", mend=f"Keep only the {only}")
    return str(upload.name)[:100], upload.read()


def typed_reason(request: HttpRequest) -> str:
    """The reason in a post; empty where there is none, or one that is too long."""
    form = NoteForm(request.POST)
    return str(form.cleaned_data["why"]) if form.is_valid() else ""
