"""A big event in portions that one person types in: a heat, or a part of a heat of many pairs."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.db.models import Count, Q
from django.utils.http import urlencode

from nearmark.site.desk import Desk
from nearmark.site.entry_sheet import came, written_items
from nearmark.site.hall import in_order
from nearmark.site.models import AnswerEntry, PairRecord

MOST_ROWS: Final = 36
"""Pairs on one page: a screen or two, sent and drawn at once."""


@dataclass(frozen=True, slots=True)
class Portion:
    """The pairs of one page of the grid.

    Attributes
    ----------
    heat : str
        Empty for pairs without a heat.
    part, n_parts : int
        Which part of the heat, from 1.
    pairs : tuple of PairRecord
    """

    heat: str
    part: int
    n_parts: int
    pairs: tuple[PairRecord, ...]

    @property
    def title(self) -> str:
        """Words of its tab."""
        name = self.heat or "no heat"
        if self.n_parts == 1:
            return name
        return f"{name}, {self.pairs[0].code} to {self.pairs[-1].code}"

    @property
    def query(self) -> str:
        """What its address has behind the question mark."""
        return urlencode({"heat": self.heat, "part": str(self.part)})


def portions(desk: Desk) -> list[Portion]:
    """Everything there is to type in, in the order of the day.

    Parameters
    ----------
    desk : Desk
    """
    by_heat: dict[str, list[PairRecord]] = defaultdict(list)
    for pair in came(desk, None):
        by_heat[pair.heat].append(pair)
    return [portion for heat in in_order(by_heat) for portion in _parts(heat, by_heat[heat])]


def _parts(heat: str, pairs: Sequence[PairRecord]) -> list[Portion]:
    n_parts = math.ceil(len(pairs) / MOST_ROWS)
    # Parts of like size: 40 pairs are twice 20, not 36 and 4.
    size = math.ceil(len(pairs) / n_parts)
    return [
        Portion(heat, n + 1, n_parts, tuple(pairs[n * size : (n + 1) * size]))
        for n in range(n_parts)
    ]


def portion_to_show(
    desk: Desk, all_: Sequence[Portion], asked: tuple[str | None, str | None], reader: str
) -> Portion | None:
    """The portion that was asked for; else the first with something for this reader to do.

    Parameters
    ----------
    desk : Desk
    all_ : sequence of Portion
    asked : (heat, part)
        As they stand in the address; ``None`` where they do not.
    reader : str
        Name of the account.
    """
    heat, part = asked
    of_heat = [portion for portion in all_ if portion.heat == heat]
    if of_heat:
        return next((p for p in of_heat if str(p.part) == part), of_heat[0])
    return _first_to_do(desk, all_, reader) or next(iter(all_), None)


def _first_to_do(desk: Desk, all_: Sequence[Portion], reader: str) -> Portion | None:
    items = [item.pk for item in written_items(desk)]
    closed = (
        AnswerEntry.objects.filter(item__in=items, pair__in=list(desk.pairs), struck_at=None)
        .order_by()
        .values("pair_id", "item_id")
        .annotate(n=Count("pk"), own=Count("pk", filter=Q(clerk=reader)))
        .filter(Q(n__gte=2) | Q(own__gte=1))
    )
    n_closed: dict[int, int] = defaultdict(int)
    for pair_id in closed.values_list("pair_id", flat=True):
        n_closed[pair_id] += 1
    return next((p for p in all_ if any(n_closed[pair.pk] < len(items) for pair in p.pairs)), None)
