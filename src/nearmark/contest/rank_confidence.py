"""How sure the places are, given the uncertainty of the keys, and what would make them surer.

Every replicate draws each key once, for all pairs together, and each error that several keys or
net masses share once for all of them; it scores and ranks everybody under the rule set, and notes
the places.  What is against the keys also is against the printed
places, so the answer is a probability for each place, for the winner and for the podium.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.rank_draws import KeyDraws, draw_keys, placed_blocks
from nearmark.contest.rank_tally import DrawCount, Progress, Tally
from nearmark.contest.remeasure import remeasure_gains
from nearmark.contest.results import Results
from nearmark.errors import InputError
from nearmark.measurement.acts import Act

MIN_DRAWS: Final = 100
"""Below this a probability scatters by more than 0.05 from the number of draws alone."""


@dataclass(frozen=True, slots=True)
class RemeasureGain:
    """What one act could add to the probability of the right podium order."""

    item: str  # code of the item to measure again; empty for an act about a shared cause
    # Expected rise of the probability of the likeliest podium order if the item's own error, or the
    # shared cause, were known exactly, less the rise that chance alone gives; an upper limit of
    # what the act can bring. Measuring an item again with the same scale or ruler leaves its gain
    # and zero as they are (probability, >= 0).
    gain: float
    is_clear: bool  # whether the raw gain can be distinguished from none (one-sided 5 % test)
    cause: str = ""  # name of the shared cause; empty for an item
    act: Act | None = None  # what to do about the cause; ``None`` for an item


@dataclass(frozen=True, slots=True)
class RankConfidence:
    """How often the places stand when the keys are drawn from what is known of them.

    The places in force come from the answers as written and the keys as stated, so pairs who share
    a place there share it whatever the true keys are; drawn keys or net masses part them nearly
    always.  So a shared place holds in a draw if the pairs who share it, and no others, hold the
    places that they take together.
    """

    # Codes of the placed pairs, best first; empty where the divisions cannot be compared: then
    # only what is said of each division means something.
    codes: tuple[str, ...]
    places: tuple[int, ...]  # their places in force, from 1
    # Row: pair in the order of ``codes``; column: place 1, 2, ...; a row sums to 1 (probability,
    # shape (n_pairs, n_pairs)).
    place_probability: NDArray[np.float64]
    # That first place holds: that exactly those now in first place are in front (probability).
    winner: float
    podium_order: float  # that each of the first three places holds (probability)
    podium_set: float  # that the same pairs hold the first three places, in any order (probability)
    tie: float  # that two pairs share one of the first three places (probability)
    # Largest gain first; items with an exact key are left out.
    remeasure_first: tuple[RemeasureGain, ...]
    n_draws: int
    seed: int  # the same seed gives the same result
    # Codes of the items whose key is somebody's word: nobody knows how sure it is.
    taken_as_exact: tuple[str, ...] = ()
    # The same draws, of each division with placed pairs by itself: name and what they say.
    divisions: tuple[tuple[str, "RankConfidence"], ...] = ()

    def of_division(self, name: str) -> "RankConfidence | None":
        """How sure the places in a division are; ``None`` without placed pairs."""
        return dict(self.divisions).get(name)

    def place_stands(self, code: str) -> float | None:
        """Probability that a pair holds its place in force; ``None`` if it is not placed.

        For a pair that shares its place: any of the places that those who share it take together.
        """
        if code not in self.codes:
            return None
        row = self.codes.index(code)
        place = self.places[row]
        last = place - 1 + self.places.count(place)
        return min(1.0, float(self.place_probability[row, place - 1 : last].sum()))


def rank_confidence(
    results: Results, *, n_draws: int = 10_000, seed: int, progress: Progress | None = None
) -> RankConfidence:
    """Probability of each place, of the winner and of the podium, and which key to re-measure.

    Two counts of the jar differ by 8, and the answers lie on either side of it.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> sure = rank_confidence(results(day), seed=1)
    >>> sure.codes, round(sure.winner, 1)
    (('P1', 'P2'), 0.6)

    Parameters
    ----------
    results : of an event with at least one placed pair
    n_draws : draws, >= 100
    seed : whole number, >= 0; public seed, printed with the result
    progress : called with the draws done so far

    Raises
    ------
    InputError : if there are too few draws, the seed is negative, or no pair is placed

    Notes
    -----
    A key error is common to all pairs; a net mass is the pair's own.  What keys and net masses
    share (``Budget.causes``: the gain of a scale, the gain and zero of a ruler, the mean tare of a
    batch of cups) is one variable for all of them; the rest of each is independent.  A key that is
    the lead's word counts as exact.  Each division is counted in the same draws, so that all
    probabilities belong together.  The uncertainty of the children's answers is no part of this:
    they wrote what they wrote.

    References
    ----------
    JCGM 101:2008, clauses 5.9 and 6.4.9 (from memory): propagation by drawing, and the scaled and
    shifted t.  Expected value of perfect information: common practice in decision analysis, no
    source opened.
    """
    if n_draws < MIN_DRAWS:
        raise InputError(
            f"at least {MIN_DRAWS} draws needed",
            where="number of draws",
            value=n_draws,
            mend="Ask for 10000",
        )
    if seed < 0:
        raise InputError("must be zero or more", where="seed", value=seed)
    codes, items, table = placed_answers(results)
    draws = draw_keys(table, n_draws, seed)
    groups = _groups(results, codes)
    counts = [DrawCount(group.places, n_draws) for group in groups]
    for block in placed_blocks(table, draws):
        for group, count in zip(groups, counts, strict=True):
            count.add(block if group.is_all else block.among(group.rows))
        if progress is not None:
            progress(counts[0].n_done)
    found = [
        _confidence(results, group, count.tally(), drawn=(codes, items, table, draws), seed=seed)
        for group, count in zip(groups, counts, strict=True)
    ]
    named = tuple((g.division, one) for g, one in zip(groups, found, strict=True) if g.division)
    if groups[0].division:
        return replace(_of_nobody(n_draws, seed), divisions=named)
    return replace(found[0], divisions=named)


@dataclass(frozen=True, slots=True)
class _Group:
    """Pairs who are ranked among themselves."""

    division: str  # empty: all pairs
    rows: NDArray[np.int64]  # their numbers among all placed pairs
    places: NDArray[np.int64]  # counted from 0
    is_all: bool


def _groups(results: Results, codes: Sequence[str]) -> list[_Group]:
    """All pairs together where they can be compared, then each division."""
    lines = {line.pair.code: line for line in results.pairs}
    placed = [lines[code] for code in codes]
    groups = []
    if results.is_comparable:
        overall = [line.place - 1 for line in placed if line.place is not None]
        groups.append(_Group("", np.arange(len(placed)), np.array(overall), is_all=True))
    for name in (division.name for division in results.event.divisions):
        own = [
            (line.division_place - 1, n)
            for n, line in enumerate(placed)
            if line.pair.division == name and line.division_place is not None
        ]
        if own:
            places, rows = zip(*sorted(own), strict=True)
            groups.append(_Group(name, np.array(rows), np.array(places), is_all=False))
    return groups


_Drawn = tuple[tuple[str, ...], tuple[str, ...], AnswerTable, KeyDraws]


def _confidence(
    results: Results, group: _Group, tally: Tally, *, drawn: _Drawn, seed: int
) -> RankConfidence:
    codes, items, table, draws = drawn
    tally.place_probability.flags.writeable = False
    asked = np.asarray(table.is_asked[group.rows].any(axis=0))
    uncertain = np.flatnonzero((table.key_u > 0) & asked)
    moving = [
        k
        for k in range(len(table.causes))
        if group.is_all or _moves_some(table, group.rows, asked, k)
    ]
    acts: list[tuple[str, str, Act | None]] = [
        *((items[j], "", None) for j in uncertain),
        *(("", table.causes[k].name, table.causes[k].act) for k in moving),
    ]
    errors = np.concatenate([draws.own_errors[uncertain], draws.causes[moving]])
    raw, gain, floor = remeasure_gains(tally.podium_codes, errors, seed)
    gains = [
        RemeasureGain(item, float(gain[i]), bool(raw[i] > floor), cause, act)
        for i, (item, cause, act) in enumerate(acts)
        if item or act
    ]
    return RankConfidence(
        codes=tuple(codes[row] for row in group.rows),
        places=tuple((group.places + 1).tolist()),
        place_probability=tally.place_probability,
        winner=tally.winner,
        podium_order=tally.podium_order,
        podium_set=tally.podium_set,
        tie=tally.tie,
        remeasure_first=tuple(sorted(gains, key=lambda g: (-g.gain, g.item, g.cause))),
        n_draws=tally.podium_codes.size,
        seed=seed,
        taken_as_exact=tuple(
            code
            for code, is_theirs in zip(items, asked, strict=True)
            if is_theirs and results.keys[code].is_only_decided
        ),
    )


def _moves_some(
    table: AnswerTable, rows: NDArray[np.int64], asked: NDArray[np.bool_], cause: int
) -> bool:
    """Whether a shared error moves a key or a net mass of these pairs."""
    own = table.own_moves[rows][:, asked, cause].any()
    return bool(table.key_moves[asked, cause].any() or own)


def _of_nobody(n_draws: int, seed: int) -> RankConfidence:
    """What is said of all pairs together where they are not ranked so: nothing."""
    return RankConfidence(
        codes=(),
        places=(),
        place_probability=np.zeros((0, 0)),
        winner=0.0,
        podium_order=0.0,
        podium_set=0.0,
        tie=0.0,
        remeasure_first=(),
        n_draws=n_draws,
        seed=seed,
    )
