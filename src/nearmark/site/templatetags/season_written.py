"""What a round's page asks of what was typed."""

from collections.abc import Mapping

from django import template

register = template.Library()


@register.filter
def part(typed: Mapping[str, str], name: str) -> str:
    """What was typed for one part.

    Examples
    --------
    >>> part({"layer": "38"}, "layer"), part({}, "layer")
    ('38', '')
    """
    return typed.get(name, "")


@register.filter
def has_parts(typed: Mapping[str, str]) -> bool:
    """Whether anything but the estimate was typed.

    Examples
    --------
    >>> has_parts({"estimate": "380", "layer": ""}), has_parts({"layer": "38"})
    (False, True)
    """
    return any(text for name, text in typed.items() if name != "estimate")
