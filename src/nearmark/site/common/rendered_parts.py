"""Parts of pages that are the same for everybody, written out once for each revision."""

import threading
from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING, Final

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from nearmark.site.common.view_records import names_of
from nearmark.words.translation import language_in_force

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

MAX_KEPT: Final = 12

_KEPT: dict[Hashable, SafeString] = {}
_LOCK = threading.Lock()


def kept_part(
    template: str, key: Hashable | None, view: Callable[[], "DataclassInstance"]
) -> SafeString:
    """A part of a page, in the language in force.

    ``template``: name without folder and ending. ``key`` (hashable or None): everything that the
    part depends on; ``None``: write it again. ``view`` (callable -> frozen dataclass): asked only
    when the part has to be written.
    """
    kept_as = (template, language_in_force().code, key)
    kept = _KEPT.get(kept_as) if key is not None else None
    if kept is None:
        kept = render_to_string(f"{template}.html", names_of(view()))
        if key is not None:
            with _LOCK:
                while len(_KEPT) >= MAX_KEPT:
                    del _KEPT[next(iter(_KEPT))]
                _KEPT[kept_as] = kept
    return kept
