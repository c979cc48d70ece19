"""Which sheets to read again against the paper before the places are announced.

One wrong sheet is enough to spoil a podium, and no random sample short of all sheets finds one
sheet.  So the sheets that could hide a changed podium are named and read again, all of them; a
random sample of the others then says how good the keying was, with a limit that can be printed.
"""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.contest.audit_sampling import drawn_sheets, sample_size, wrong_sheets_limit
from nearmark.contest.division_results import rankings
from nearmark.contest.keyed_sheets import KeyedSheets, keyed_sheets
from nearmark.contest.keying_errors import KeyingRates
from nearmark.contest.results import Results
from nearmark.errors import InputError

TOP: Final = 10
"""Sheets re-read whatever their risk, best totals first (invented default)."""

SECONDS_PER_SHEET: Final = 50
"""To fetch a sheet and type what is on it (invented default)."""

TOP_OF_DIVISION: Final = 5
"""The same in each division (invented default)."""

TOLERABLE_SHARE: Final = 8
"""One wrong sheet in so many must not pass the random sample (invented default)."""


@dataclass(frozen=True, slots=True)
class SheetRisk:
    """One sheet to re-read."""

    code: str  # code of the pair
    risk: float  # that a keying error on this sheet hides another podium (probability)
    # The sheet is on the list as one of so many with the best totals; ``None``: because one low
    # item could lift the pair to the podium (sheets, or None).
    among_first: int | None
    division: str = ""  # the reason is the pair's place in this division; empty: among all


@dataclass(frozen=True, slots=True)
class AuditPlan:
    """What to re-read, and what is left when it is done."""

    targeted: tuple[SheetRisk, ...]  # re-read all of them; largest risk first
    sample: tuple[str, ...]  # codes drawn at random from all other placed pairs, in the order drawn
    n_sheets: int
    n_others: int  # what the sample was drawn from
    # Fewest wrong sheets among the others that the sample shows at 95 % confidence; 0 when there is
    # no sample (sheets).
    tolerable_wrong: int
    # Wrong fields to be expected on all sheets at the published keying rates (fields).
    expected_wrong_fields: float
    # Upper limits (union bound) of the chance that a keying error hides another podium, before and
    # after the targeted sheets are re-read (probability).
    risk_before: float
    risk_after: float
    seed: int
    # Codes that would be on the list but for the number of sheets asked for.
    left_out: tuple[str, ...] = ()

    @property
    def n_drawn(self) -> int:
        """How many sheets are read again."""
        return len(self.targeted) + len(self.sample)

    @property
    def minutes(self) -> int:
        """About how long one person takes, in minutes."""
        return math.ceil(self.n_drawn * SECONDS_PER_SHEET / 60)


def plan_audit(
    results: Results,
    *,
    seed: int,
    sample_size: int | None = None,
    top: int = TOP,
    most: int | None = None,
    rates: KeyingRates | None = None,
) -> AuditPlan:
    """Name the sheets to re-read, and draw a random sample of the rest.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> plan = plan_audit(results(day), seed=7, top=1)
    >>> [sheet.code for sheet in plan.targeted], plan.sample, round(plan.risk_after, 4)
    (['P1'], ('P2',), 0.0002)

    Parameters
    ----------
    seed : whole number; public; thrown or drawn in front of witnesses after the answers are keyed
    sample_size : sheets or None
        ``None``: enough that one wrong sheet in eight does not pass, at 95 % confidence.
    top : sheets, >= 1; best totals that are on the list in any case
    most : sheets, >= 1, or None
        At most so many are re-read: those with the largest risk first, then the sample.  ``None``:
        as many as the list and the sample ask for.
    rates : ``None``: published rates

    Raises
    ------
    InputError : if no pair is placed, or ``top``, ``most`` or ``sample_size`` is out of range

    Notes
    -----
    Every keyed number is replaced by each number that could stand on the paper behind a keying
    error, and the podium compared.  Two errors on different sheets are not combined.  A blank
    that is not blank on paper and a wrong cup number are covered by the list of low items only.
    Ties are compared before tie-breaks.  Of an event with divisions, the podium of each is compared
    too, and the chances are added (an upper limit).

    References
    ----------
    In the spirit of risk-limiting comparison audits: Lindeman, Stark, *A gentle introduction to
    risk-limiting audits*, 2012 (from memory).
    """
    if top < 1:
        raise InputError("must be 1 or more", where="sheets from the top", value=top)
    if most is not None and most < 1:
        raise InputError("must be 1 or more", where="sheets at most", value=most)
    ranked = [
        (one.division, keyed_sheets(one, rates or KeyingRates())) for one in _with_places(results)
    ]
    risks: dict[str, float] = defaultdict(float)
    for _, sheets in ranked:
        for i, code in enumerate(sheets.codes):
            risks[code] += sheets.risk(i)
    risk = np.array(list(risks.values()))
    each_once = ranked if ranked[0][0] else ranked[:1]
    listed = _targeted(ranked, risks, top)
    targeted = listed[:most]
    named = {sheet.code for sheet in targeted}
    others = [code for code in risks if code not in named]
    n = _sample_size(len(others), sample_size)
    if most is not None:
        n = min(n, most - len(targeted))
    return AuditPlan(
        targeted=targeted,
        sample=drawn_sheets(others, n, seed=seed),
        n_sheets=len(risks),
        n_others=len(others),
        tolerable_wrong=wrong_sheets_limit(len(others), n, 0) + 1 if n else 0,
        expected_wrong_fields=float(sum(sheets.rates.sum() for _, sheets in each_once)),
        risk_before=min(float(risk.sum()), 1.0),
        risk_after=min(float(sum(r for code, r in risks.items() if code not in named)), 1.0),
        seed=seed,
        left_out=tuple(sheet.code for sheet in listed[len(targeted) :]),
    )


def _sample_size(n_others: int, wanted: int | None) -> int:
    if n_others == 0:
        return 0
    if wanted is None:
        return sample_size(n_others, max(1, n_others // TOLERABLE_SHARE))
    if not 0 <= wanted <= n_others:
        raise InputError(
            f"must be from 0 to the sheets that are not on the list ({n_others})",
            where="sample size",
            value=wanted,
        )
    return wanted


def _with_places(results: Results) -> Sequence[Results]:
    """The rankings in which somebody is placed; a podium of each could be changed."""
    able = [
        one for one in rankings(results) if any(line.place and line.items for line in one.pairs)
    ]
    return able or [results]


def _targeted(
    ranked: Sequence[tuple[str, KeyedSheets]], risks: Mapping[str, float], top: int
) -> tuple[SheetRisk, ...]:
    """The first ``top`` sheets, and every sheet one low item could lift onto a podium."""
    rows: dict[str, SheetRisk] = {}
    for division, sheets in ranked:
        n = min(top, TOP_OF_DIVISION) if division else top
        liftable = sheets.liftable()
        for i, code in enumerate(sheets.codes):
            if i < n or liftable[i]:
                among_first = n if i < n else None
                rows.setdefault(code, SheetRisk(code, float(risks[code]), among_first, division))
    return tuple(sorted(rows.values(), key=lambda row: (-row.risk, row.code)))
