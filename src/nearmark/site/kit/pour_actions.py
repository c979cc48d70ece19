"""Planning what to pour: a chosen count, or one drawn by lot that nobody need know."""

from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from nearmark.errors import InputError, MeasurementError, RuleError
from nearmark.kit import BANDS, random_pour
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.reasons import need_reason, strike
from nearmark.site.kit.models import PourRow
from nearmark.site.kit.pouring import view_of_given

_MAX_SEED: Final = 2**31
_MAX_DRAWS: Final = 50


def keep_pour(given: Mapping[str, Any], *, by: str) -> PourRow:
    """Keep what ``PourForm`` has checked for an item; the plan before it is struck out."""
    with writing():
        event = open_event()
        item = event.items.filter(code=given["item"], station="count").first()
        if item is None:
            raise InputError("is no container of this event", where="item", value=given["item"])
        row = _poured(event, item, given, by)
        for before in PourRow.objects.filter(item=item, struck_at=None):
            strike(before, by=by, why="another pour was planned")
            before.save()
        row.save()
        how = f"drawn from {row.low} to {row.high}, seed {row.seed}" if row.seed else "chosen"
        note(event, by, f"planned the pour of {item.code}", new=f"{row}; {how}", item=item)
    return row


def strike_pour(row_id: int, *, by: str, why: str) -> None:
    """Give a plan up."""
    need_reason(why, "Say why it is not poured")
    with writing():
        event = open_event()
        row = PourRow.objects.filter(pk=row_id, item__event=event, struck_at=None).first()
        if row is None:
            raise RuleError("this plan was given up already, or is not of this event")
        strike(row, by=by, why=why)
        row.save()
        note(event, by, f"gave up a pour of {row.item.code}", old=str(row), why=why, item=row.item)


def _poured(event: EventRecord, item: ItemRecord, given: Mapping[str, Any], by: str) -> PourRow:
    """The row of a plan, not saved yet; a drawn count that does not fit is drawn again."""
    band = BANDS.get(given["band"])
    for _ in range(_MAX_DRAWS):
        seed = int(np.random.default_rng().integers(1, _MAX_SEED)) if band else None
        pieces = random_pour(band, np.random.default_rng(seed)) if band else given["pieces"]
        view = view_of_given(event, pieces, given)
        if view.pour is not None:
            return PourRow(
                item=item,
                at=clock.now(),
                by=by,
                material=given["material"],
                vessel=given["vessel"],
                pieces=pieces,
                low=band[0] if band else None,
                high=band[1] if band else None,
                seed=seed,
                mass_g=view.pour.mass_g,
                piece_mass_g=given["piece_mass_g"],
            )
        if band is None:
            raise MeasurementError(view.trouble, where="pour", mend="Change it")
    raise MeasurementError(
        f"none of {_MAX_DRAWS} counts drawn from {given['band']} fits: {view.trouble}",
        where="pour",
        mend="Choose a larger vessel or a smaller band",
    )
