"""The usual shape of a page with one form: show it, check it, act, go on."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from django.conf import settings
from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from nearmark.errors import NearmarkError
from nearmark.site.common.forms import BaseForm, NotValidError, words
from nearmark.site.common.refusals import status_of
from nearmark.site.common.view_records import names_of
from nearmark.words.numbers import capital
from nearmark.words.refusals import refusal_words

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Page = Callable[..., HttpResponse]
post_only: Callable[[Page], Page] = require_POST


def show(
    request: HttpRequest, template: str, view: "DataclassInstance", *, status: int = 200
) -> HttpResponse:
    """A page.

    ``template``: its path without the ending. ``view`` (frozen dataclass): the template knows its
    fields by their names; every page has a ``title``.
    """
    return render(request, f"{template}.html", names_of(view), status=status)


def done(request: HttpRequest, words_: str, to: str, *args: object) -> HttpResponse:
    """Say that something was done, on the next page: its address, or its name and numbers."""
    messages.success(request, words_)
    return redirect(to, *args)


def typed(form: Form) -> list[tuple[str, str]]:
    """What was typed into a form, to be posted once more as it is."""
    return [(name, str(form.data[name])) for name in form.fields if name in form.data]


def file_answer(content: bytes, name: str, *, kind: str = "application/pdf") -> HttpResponse:
    """A file to look at or to keep; its name is never made of anything typed."""
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response


def site_address(request: HttpRequest) -> str:
    """Where other devices reach this site, without a slash at its end."""
    # Who asks may sit at this computer: its own name for itself leads other devices nowhere.
    return (getattr(settings, "NEARMARK_URL", "") or request.build_absolute_uri("/")).rstrip("/")


def paper_size(request: HttpRequest) -> str:
    """The paper that ``?paper=`` asks for: ``us-letter`` (or ``letter``), else ``a4``."""
    return "us-letter" if request.GET.get("paper") in {"us-letter", "letter"} else "a4"


class RefusalsOn:
    """Do inside what a form asks: a refusal goes on the form, whose page is shown again after."""

    def __init__(self, form: BaseForm) -> None:
        self.form = form

    def __enter__(self) -> None: ...

    def __exit__(self, _kind: object, error: object, _trace: object) -> bool:
        if isinstance(error, NearmarkError):
            self.form.refused_status = add_refusal(self.form, error)
        # A field that is refused says so itself.
        return isinstance(error, NearmarkError | NotValidError)


refusals_on = RefusalsOn


def add_refusal(form: Form, refusal: NearmarkError) -> int:
    """Put a refusal beside the field it names, else at the head of its form; the HTTP status."""
    by_label = {str(field.label).casefold(): name for name, field in form.fields.items()}
    where = refusal.where.casefold()
    field = where if where in form.fields else by_label.get(where)
    head = f"{capital(refusal_words(refusal.where))}: " if refusal.where and not field else ""
    shown = words(refusal)
    form.add_error(field, f"{head}{shown}" if head else shown)
    return status_of(refusal)
