"""Parts of pages that are the same for everybody, written out once for each revision."""

import threading
from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING, Final

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from nearmark.site.common.view_records import names_of

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

MAX_KEPT: Final = 6

_KEPT: dict[Hashable, SafeString] = {}
_LOCK = threading.Lock()


def kept_part(
    template: str, key: Hashable | None, view: Callable[[], "DataclassInstance"]
) -> SafeString:
    """A part of a page.

    ``template``: name without folder and ending. ``key`` (hashable or None): everything that the
    part depends on; ``None``: write it again. ``view`` (callable -> frozen dataclass): asked only
    when the part has to be written.
    """
    kept = _KEPT.get((template, key)) if key is not None else None
    if kept is None:
        kept = render_to_string(f"{template}.html", names_of(view()))
        if key is not None:
            with _LOCK:
                while len(_KEPT) >= MAX_KEPT:
                    del _KEPT[next(iter(_KEPT))]
                _KEPT[template, key] = kept
    return kept
