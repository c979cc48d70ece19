"""A sum to do on a plain calculator; nothing of it is kept."""

from dataclasses import dataclass

import numpy as np
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from nearmark.coaching import CalculatorTask, Checked, calculator_task, check_product
from nearmark.site.common.forms import BaseForm, DecimalField
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import refusals_on, show
from nearmark.words.coaching_jars import checked_words, task_words

MAX_TASKS = 100_000


class ProductForm(BaseForm):
    """What the calculator showed."""

    product = DecimalField(label=gettext_lazy("What you write down"))


@dataclass(frozen=True, slots=True)
class CalculatorView:
    """One sum."""

    title: str
    number: int
    next: int  # number of the sum after it
    task: CalculatorTask
    task_words: str
    checked: str  # what the answer was; empty before one
    is_right: bool
    form: ProductForm


def calculator(request: HttpRequest) -> HttpResponse:
    """One sum; its number is in the address, so that two children can do the same."""
    asked = typed_number(request.GET.get("task", ""), 6)
    number = min(max(asked or 1, 1), MAX_TASKS)
    task = calculator_task(np.random.default_rng(number))
    form = ProductForm(request.POST or None)
    found: Checked | None = None
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            found = check_product(task, float(form.cleaned_data["product"]))
    view = CalculatorView(
        title=_("Calculator"),
        number=number,
        next=number % MAX_TASKS + 1,
        task=task,
        task_words=task_words(task),
        checked=checked_words(task, found) if found else "",
        is_right=found is not None and found.is_right,
        form=form,
    )
    return show(request, "season/calculator", view, status=form.http_status)
