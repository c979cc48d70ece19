"""Independent packages for measurement uncertainty agree on count, volume and net mass.

GTC (GUM Tree Calculator, Measurement Standards Laboratory of New Zealand) propagates uncertainty
and degrees of freedom; ``uncertainties`` propagates uncertainty with correlation.  Both get the
measurement model as a formula and differentiate it themselves.
"""

import math
from decimal import Decimal
from math import inf
from statistics import stdev

import GTC
import pytest
import statsmodels.api as sm
from GTC import reporting
from scipy import stats
from uncertainties import ufloat

from nearmark.kit import BoxOptions, CountOptions, Sample, box_volume, count_by_weighing, net_mass
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.kit.unit_mass import unit_mass
from nearmark.measurement.instruments import Instrument, Reading

SAME_FORMULA = 1e-9
"""Relative; the same first-order result computed twice."""

SECOND_ORDER = 1e-4
"""Relative; our box budget has the exact variance of the product, the packages the first order."""

D = 0.1
RESOLUTION_U = D / math.sqrt(12)
SCALE = Instrument("bench scale", "g", D, gain_u=0.002, linearity_u=0.03)
SAMPLES = [Sample(100, 61.2), Sample(100, 61.9), Sample(100, 61.5), Sample(100, 60.8)]
GROSS, TARE = 3914.2, 212.4


def weigh(sample_scale=None, **options):
    return count_by_weighing(
        SAMPLES,
        Reading((GROSS,), SCALE),
        Reading((TARE,), SCALE),
        sample_scale=sample_scale,
        options=CountOptions(**options),
    )


def upper_u(masses, chance):
    """Upper bound of the scatter of one sample, by SciPy's distributions; 100 pieces each."""
    dof = len(masses)
    usual = 100 * (0.10 * sum(masses) / dof / 100) ** 2
    squares = (dof - 1) * stdev(masses) ** 2 + usual
    return math.sqrt(squares / stats.chi2.ppf(chance, dof))


def bounded_u(masses):
    """Scatter of one sample as the count takes it; below 26.5 % of a piece here."""
    student = stats.t.ppf(0.975, len(masses)) / stats.norm.ppf(0.975)
    return student * upper_u(masses, 0.18)


MASSES = [s.mass_g for s in SAMPLES]


def test_gtc_agrees_on_a_count():
    # samples out of the container: no spread of its own; the gain is one object and cancels
    result = weigh(samples_from="container", moisture_u=0.001)

    gain = GTC.ureal(1, 0.002)
    mass = GTC.ureal(sum(MASSES) / 4, bounded_u(MASSES) / 2)
    # the dish's tare is rounded once for all samples
    sample = (mass + GTC.ureal(0, 0.03) + GTC.ureal(0, RESOLUTION_U)) / gain
    gross, tare = GTC.ureal(GROSS, RESOLUTION_U), GTC.ureal(TARE, RESOLUTION_U)
    net = (gross - tare + GTC.ureal(0, 0.03)) / gain
    count = net / (sample / 100) * GTC.ureal(1, 0.001)

    assert result.value == pytest.approx(GTC.value(count), rel=SAME_FORMULA)
    assert result.u == pytest.approx(GTC.uncertainty(count), rel=SAME_FORMULA)
    assert result.budget.dof == GTC.dof(count) == inf
    k = reporting.k_factor(GTC.dof(count))
    assert result.budget.coverage_factor == pytest.approx(k, rel=1e-6)


def test_gtc_agrees_on_a_count_with_the_piece_spread_of_the_container():
    result = weigh()
    unit = unit_mass(SAMPLES)
    n = result.value

    piece_sd = upper_u(MASSES, 0.10) / 10
    mass = GTC.ureal(unit.mass_g, bounded_u(MASSES) / 200)
    spread = GTC.ureal(0, piece_sd / math.sqrt(n))
    gross, tare = GTC.ureal(GROSS, RESOLUTION_U), GTC.ureal(TARE, RESOLUTION_U)
    net = gross - tare + GTC.ureal(0, 0.03)
    shared = GTC.ureal(0, 0.03 / 100) + GTC.ureal(0, RESOLUTION_U / 100)
    count = net / (mass + spread + shared)

    assert result.u == pytest.approx(GTC.uncertainty(count), rel=SAME_FORMULA)


def test_uncertainties_agrees_on_a_count_with_two_scales():
    fine = Instrument("pocket scale", "g", 0.01, gain_u=0.001)
    result = weigh(sample_scale=fine, samples_from="container")
    unit = unit_mass(SAMPLES)

    gain, fine_gain = ufloat(1, 0.002), ufloat(1, 0.001)
    gross, tare = ufloat(GROSS, RESOLUTION_U), ufloat(TARE, RESOLUTION_U)
    net = (gross - tare + ufloat(0, 0.03)) * gain
    mass = ufloat(unit.mass_g, bounded_u(MASSES) / 200) + ufloat(0, 0.01 / math.sqrt(12) / 100)
    # the linearity of the pocket scale is not stated
    count = net / (mass * fine_gain)

    assert result.value == pytest.approx(count.nominal_value, rel=SAME_FORMULA)
    assert result.u == pytest.approx(count.std_dev, rel=SAME_FORMULA)


def test_weighted_least_squares_agrees_on_the_mass_of_a_piece():
    # mass = m * pieces through the origin, variance in proportion to pieces
    samples = [Sample(80, 49.3), Sample(100, 61.2), Sample(150, 92.9), Sample(200, 122.4)]
    pieces = [s.pieces for s in samples]
    fit = sm.WLS([s.mass_g for s in samples], pieces, weights=[1 / n for n in pieces]).fit()

    unit = unit_mass(samples)

    assert unit.mass_g == pytest.approx(fit.params[0], rel=SAME_FORMULA)
    assert unit.u_g == pytest.approx(fit.bse[0], rel=SAME_FORMULA)
    assert unit.dof == fit.df_resid


def test_the_interval_is_the_interval_of_the_piece_mass_turned_over():
    # With the net mass as good as exact, N = G / m lies between G / m_high and G / m_low.
    exact = Instrument("reference scale", "g", 1e-6)
    masses = [61.2, 61.5, 60.9]
    result = count_by_weighing(
        [Sample(100, mass) for mass in masses],
        Reading((3701.8,), exact),
        Reading((0.0,), exact),
        options=CountOptions(samples_from="container"),
    )

    mean = sum(masses) / 3
    half = stats.norm.ppf(0.975) * bounded_u(masses) / math.sqrt(3)
    assert result.interval == pytest.approx(
        (370180 / (mean + half), 370180 / (mean - half)), rel=1e-8
    )


def test_gtc_agrees_on_a_box_and_its_degrees_of_freedom():
    ruler = Instrument("ruler", "cm", D)
    sides = ((24.3, 24.1, 24.5), (18.0, 18.3, 18.1), (12.3, 12.5, 12.1))
    result = box_volume(*(Reading(side, ruler) for side in sides))

    means = [sum(side) / 3 for side in sides]
    squares = sum((x - m) ** 2 for side, m in zip(sides, means, strict=True) for x in side)
    u = math.sqrt(squares / 6 / 3)
    assert u > RESOLUTION_U  # so the scatter contains the resolution
    length, width, height = GTC.multiple_ureal(means, [u] * 3, 6)
    volume = length * width * height

    assert result.value == pytest.approx(GTC.value(volume), rel=SAME_FORMULA)
    assert result.u == pytest.approx(GTC.uncertainty(volume), rel=SECOND_ORDER)
    assert result.budget.dof == pytest.approx(GTC.dof(volume), rel=SECOND_ORDER)


def test_uncertainties_agrees_on_a_box_with_everything_common():
    ruler = Instrument("ruler", "cm", D, gain_u=0.003, linearity_u=0.02)
    box = BoxFaces(Faces.OUTSIDE, Decimal("0.4"), Decimal("0.2"))
    options = BoxOptions(box=box, wall_u_cm=0.05, corner_deg=5.0)
    result = box_volume(*(Reading((x,), ruler) for x in (24.1, 18.0, 12.3)), options=options)

    gain, wall = ufloat(1, 0.003), ufloat(0.4, 0.05)
    square = math.cos(math.radians(5.0))
    corner = ufloat(square, 0.5 * (1 - square) / math.sqrt(3))
    volume = corner
    for side in (24.1, 18.0, 12.3):
        bulge, bent = ufloat(0, 0.2 / math.sqrt(3)), ufloat(0, 0.02)
        volume *= (ufloat(side, RESOLUTION_U) + bent) * gain + bulge - 2 * wall

    assert result.value == pytest.approx(volume.nominal_value, rel=SAME_FORMULA)
    assert result.u == pytest.approx(volume.std_dev, rel=SECOND_ORDER)


def test_gtc_agrees_on_a_net_mass_with_the_tare_of_its_batch():
    batch = (12.3, 12.4, 12.5, 12.6, 12.2)
    result = net_mass(Reading((112.5,), SCALE), Reading((12.4,), SCALE), batch_tares_g=batch)

    sd = math.sqrt(sum((x - 12.4) ** 2 for x in batch) / 4)
    mean, one_cup = GTC.multiple_ureal([12.4, 0.0], [sd / math.sqrt(5), sd], 4)
    gross = GTC.ureal(112.5, RESOLUTION_U, inf)
    net = (gross - (mean + one_cup)) * GTC.ureal(1, 0.002) + GTC.ureal(0, 0.03)

    assert result.value == pytest.approx(GTC.value(net), rel=SAME_FORMULA)
    assert result.u == pytest.approx(GTC.uncertainty(net), rel=SAME_FORMULA)
    assert result.budget.dof == pytest.approx(GTC.dof(net), rel=SAME_FORMULA)


def test_uncertainties_agrees_on_a_net_mass_with_its_own_tare():
    result = net_mass(Reading((131.2,), SCALE), Reading((24.1,), SCALE))

    net = (ufloat(131.2, RESOLUTION_U) - ufloat(24.1, RESOLUTION_U)) * ufloat(1, 0.002)
    net += ufloat(0, 0.03)
    assert result.u == pytest.approx(net.std_dev, rel=SAME_FORMULA)
