"""The forms that look the same on every page, each as one tag."""

from typing import Any

from django import template
from django.forms import Form
from django.urls import reverse

register = template.Library()


@register.inclusion_tag("shared/post_form.html")
def post_form(
    form: Form, button: str, page: str, *args: Any, shape: str = "", look: str = ""
) -> dict[str, Any]:
    """A form with its fields and one button, sent to a page; ``shape``, ``look``: classes."""
    action = reverse(page, args=args)
    return {"form": form, "action": action, "shape": shape, "button": button, "look": look}


@register.inclusion_tag("shared/reason_form.html")
def reason_form(asks: str, button: str, page: str, *args: Any, **hidden: Any) -> dict[str, Any]:
    """A form that asks why and nothing else, sent to a page with what is ``hidden`` in it."""
    key = "-".join(map(str, args))
    action = reverse(page, args=args)
    return {"asks": asks, "action": action, "key": key, "button": button, "hidden": hidden}
