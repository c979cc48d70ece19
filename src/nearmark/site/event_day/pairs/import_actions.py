"""Bring a list of pairs that has been looked at row by row."""

from nearmark.event_folder.pairs_import import preview_pairs
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import pairs_of
from nearmark.site.event.models import PairRecord
from nearmark.words.numbers import plural


def import_pairs(text: str, *, by: str) -> int:
    """Add every pair of a list, or none.

    ``text``: as the preview wrote it; understood again here, as other pairs may have come since.
    Returns how many were added.
    """
    with writing():
        event = open_event()
        preview = preview_pairs(text, existing=pairs_of(event), name="list of pairs")
        preview.raise_if_any()
        PairRecord.objects.bulk_create(
            PairRecord(
                event=event,
                code=pair.code,
                school=pair.school,
                members=list(pair.members),
                status=pair.status.value,
                heat=pair.heat,
            )
            for pair in preview.pairs
        )
        n = len(preview.pairs)
        codes = f"{preview.pairs[0].code} to {preview.pairs[-1].code}"
        note(event, by, f"imported {plural(n, 'pair')}", new=codes)
    return n
