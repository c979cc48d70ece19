"""NIST Statistical Reference Datasets, univariate: certified means and standard deviations.

The accuracy sets are stated by their rule; data and certified values of the observed sets were
read in a public copy of the files (repository montanaflynn/stats, nist_test.go).  Tolerance:
certified to 15 digits, a double carries 16; the hardest set (NumAcc4) loses 8 to its mean.  The
set PiDigits is left out: the certified mean is not that of the first 5000 digits of pi (computed
two ways), so its data cannot be stated by a rule.
"""

import pytest

from nearmark.measurement.type_a import type_a


def alternating(middle, low, high):
    """A first value, then 500 pairs of low and high: 1001 in all."""
    return [middle, *[low, high] * 500]


@pytest.mark.parametrize(
    ("name", "values", "mean", "deviation", "tolerance"),
    [
        ("NumAcc1", [10000001, 10000003, 10000002], 10000002, 1, 1e-15),
        ("NumAcc2", alternating(1.2, 1.1, 1.3), 1.2, 0.1, 1e-14),
        ("NumAcc3", alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-8),
        ("NumAcc4", alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7),
    ],
)
def test_the_accuracy_sets(name, values, mean, deviation, tolerance):
    result = type_a(values)

    assert result.mean == pytest.approx(mean, rel=1e-15), name
    assert result.standard_deviation == pytest.approx(deviation, rel=tolerance), name


# Mavro: 50 transmittances, in units of 1e-5 above 2.
MAVRO = [
    *(180, 170, 180, 190, 180, 170, 150, 140, 150, 150, 170, 180, 180, 190, 190, 210, 200),
    *(160, 140, 130, 130, 150, 150, 160, 150, 140, 130, 140, 150, 140, 150, 160, 150, 160),
    *(190, 200, 200, 210, 220, 230, 240, 250, 270, 260, 260, 260, 270, 260, 250, 240),
]
# Michelso: 100 speeds of light, in 0.01 thousands of km/s above 299.
MICHELSON = [
    *(85, 74, 90, 107, 93, 85, 95, 98, 98, 88, 100, 98, 93, 65, 76, 81, 100, 100, 96, 96),
    *(96, 94, 96, 94, 88, 80, 85, 88, 90, 84, 83, 79, 81, 88, 88, 83, 80, 79, 76, 80),
    *(88, 88, 88, 86, 72, 72, 62, 86, 97, 95, 88, 91, 85, 87, 84, 84, 85, 84, 84, 84),
    *(89, 81, 81, 82, 80, 77, 76, 74, 75, 76, 91, 92, 89, 86, 88, 72, 84, 85, 85, 78),
    *(89, 84, 78, 81, 76, 81, 79, 81, 82, 85, 87, 87, 81, 74, 81, 94, 95, 80, 81, 87),
]

# Lew: 200 deflections of a steel-concrete beam.
LEW = """
    -213 -564 -35 -15 141 115 -420 -360 203 -338 -431 194
    -220 -513 154 -125 -559 92 -21 -579 -52 99 -543 -175
    162 -457 -346 204 -300 -474 164 -107 -572 -8 83 -541
    -224 180 -420 -374 201 -236 -531 83 27 -564 -112 131
    -507 -254 199 -311 -495 143 -46 -579 -90 136 -472 -338
    202 -287 -477 169 -124 -568 17 48 -568 -135 162 -430
    -422 172 -74 -577 -13 92 -534 -243 194 -355 -465 156
    -81 -578 -64 139 -449 -384 193 -198 -538 110 -44 -577
    -6 66 -552 -164 161 -460 -344 205 -281 -504 134 -28
    -576 -118 156 -437 -381 200 -220 -540 83 11 -568 -160
    172 -414 -408 188 -125 -572 -32 139 -492 -321 205 -262
    -504 142 -83 -574 0 48 -571 -106 137 -501 -266 190
    -391 -406 194 -186 -553 83 -13 -577 -49 103 -515 -280
    201 300 -506 131 -45 -578 -80 138 -462 -361 201 -211
    -554 32 74 -533 -235 187 -372 -442 182 -147 -566 25
    68 -535 -244 194 -351 -463 174 -125 -570 15 72 -550
    -190 172 -424 -385 198 -218 -536 96
"""
# Lottery: 218 winning numbers.
LOTTERY = """
    162 671 933 414 788 730 817 33 536 875 670 236 473 167
    877 980 316 950 456 92 517 557 956 954 104 178 794 278
    147 773 437 435 502 610 582 780 689 562 964 791 28 97
    848 281 858 538 660 972 671 613 867 448 738 966 139 636
    847 659 754 243 122 455 195 968 793 59 730 361 574 522
    97 762 431 158 429 414 22 629 788 999 187 215 810 782
    47 34 108 986 25 644 829 630 315 567 919 331 207 412
    242 607 668 944 749 168 864 442 533 805 372 63 458 777
    416 340 436 140 919 350 510 572 905 900 85 389 473 758
    444 169 625 692 140 897 672 288 312 860 724 226 884 508
    976 741 476 417 831 15 318 432 241 114 799 955 833 358
    935 146 630 830 440 642 356 373 271 715 367 393 190 669
    8 861 108 795 269 590 326 866 64 523 862 840 219 382
    998 4 628 305 747 247 34 747 729 645 856 974 24 568 24
    694 608 480 410 729 947 293 53 930 223 203 677 227 62
    455 387 318 562 242 428 968
"""


@pytest.mark.parametrize(
    ("values", "mean", "deviation"),
    [
        ([2 + v / 100_000 for v in MAVRO], 2.00185600000000, 0.000429123454003053),
        ([299 + v / 100 for v in MICHELSON], 299.852400000000, 0.0790105478190518),
        ([int(v) for v in LEW.split()], -177.435, 277.332168044316),
        ([int(v) for v in LOTTERY.split()], 518.958715596330, 291.699727470969),
    ],
    ids=["Mavro", "Michelso", "Lew", "Lottery"],
)
def test_the_observed_sets(values, mean, deviation):
    result = type_a(values)

    assert result.mean == pytest.approx(mean, rel=2e-15)
    # The readings themselves are rounded to a double: relative to their spread, 1e-12.
    assert result.standard_deviation == pytest.approx(deviation, rel=1e-12)
