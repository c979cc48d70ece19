"""Laws of the import: whatever comes in, a preview comes out; what was written comes back."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.contest.event import Pair
from nearmark.event_folder.pairs_import import preview_pairs, proposed_codes
from nearmark.event_folder.tables import PAIRS
from nearmark.event_folder.writer import csv_text

NAMES = st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=12).map(
    lambda text: unicodedata.normalize("NFC", f"x{text}")
)
ROWS = st.lists(st.lists(st.text(max_size=20), max_size=6), max_size=8)


@given(st.lists(st.tuples(NAMES, NAMES), min_size=1, max_size=8, unique_by=lambda names: names[0]))
def test_what_the_folder_writes_is_read_back(names):
    pairs = [Pair(f"P{n}", f"school {n}", pair) for n, pair in enumerate(names, start=1)]
    show = [column.kind.show for column in PAIRS.columns]
    rows = [[cell(v) for cell, v in zip(show, PAIRS.values(p), strict=True)] for p in pairs]

    preview = preview_pairs(csv_text([column.name for column in PAIRS.columns], rows))

    twins = [pair for pair in pairs if pair.members[0].casefold() == pair.members[1].casefold()]
    assert len(preview.problems) == len(twins)
    assert preview.pairs == (() if twins else tuple(pairs))


@pytest.mark.slow
@given(ROWS)
def test_any_table_gives_a_preview_that_is_all_right_or_all_kept_back(rows):
    text = csv_text(["school", "first child", "second child", "code"], rows)

    preview = preview_pairs(text, existing=[Pair("P01", "Ash", ("Ada",))])

    assert not (preview.pairs and preview.problems)
    assert preview.problems or len(preview.pairs) == len(preview.rows)
    codes = [row.code for row in preview.rows]
    assert all(codes)
    if preview.pairs:
        assert len({code.casefold() for code in [*codes, "P01"]}) == len(codes) + 1


@given(st.text(max_size=200) | st.binary(max_size=200))
def test_nothing_breaks_the_preview(source):
    preview = preview_pairs(source)

    assert preview.pairs or preview.problems


@given(st.lists(st.text(max_size=6), max_size=10), st.integers(0, 20))
def test_proposed_codes_are_new_and_differ(taken, n):
    codes = proposed_codes(taken, n)

    assert len(set(codes)) == n
    assert not {code.casefold() for code in codes} & {code.casefold() for code in taken}
