"""A net mass is gross less the cup's own tare, or less the one tare of its batch."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from nearmark.contest.cup_tares import CupTares, OddBatch, OddTare
from nearmark.contest.event import Cup, Event
from nearmark.measurement.instruments import Instrument
from nearmark.words.answers import question_words
from nearmark.words.open_points import batch_without_mean, cup_unlike_batch

SCALE = "bench scale"
THIN = tuple(
    Cup(str(n), Decimal(tare), SCALE, "thin") for n, tare in enumerate(("8.4", "8.6", "8.9"), 1)
)
EVENT = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument(SCALE, "g", 0.1),),
    cups=(*THIN, Cup("17", Decimal("182.4"), SCALE)),
)


def net(gross, cup, event=EVENT):
    return CupTares.of(event).net(Decimal(gross), cup)


def test_a_numbered_cup_has_its_own_tare():
    one = net("108.4", "1")

    assert (one.net_g, one.trouble) == (Decimal("100.0"), None)
    # Two indications of a 0.1 g scale: sqrt(2) 0.1 / sqrt(12), JCGM 100 clause F.2.2.1.
    assert one.u_g == pytest.approx(0.0408, abs=5e-5)


def test_a_cup_known_by_its_batch_only_has_the_tare_of_the_batch():
    one = net("108.633", "thin")

    assert one.net_g == Decimal("100.000")  # the mean of 8.4, 8.6, 8.9 is 8.633
    # s = sqrt(((-.2333)^2 + (-.0333)^2 + .2667^2) / 2) = .2517 of one cup and s / sqrt(3) of the
    # mean: .2906, with 0.1 / sqrt(12) = .0289 of the gross indication: .2920.
    assert one.u_g == pytest.approx(0.2920, abs=5e-5)


@pytest.mark.parametrize(
    ("gross", "cup", "words"),
    [
        ("108.4", "99", "cup 99 has no tare"),
        ("108.4", "", "no cup is named, so it has no tare"),
        ("8.4", "1", "gross is not above tare"),
        ("-1", "1", "must be above zero"),
    ],
)
def test_where_there_is_no_telling_the_reason_is_given(gross, cup, words):
    one = net(gross, cup)

    assert one.net_g is None
    assert words in question_words(one.trouble)


def test_a_batch_of_two_cups_cannot_stand_for_a_third():
    assert "Weigh more cups" in question_words(
        net("108.4", "thin", replace(EVENT, cups=THIN[:2])).trouble
    )


def test_a_scale_nobody_described_is_named():
    assert SCALE in question_words(net("108.4", "1", replace(EVENT, instruments=())).trouble)


def test_a_cup_unlike_its_batch_is_named():
    swapped = Cup("4", Decimal("6.8"), SCALE, "thin")

    (odd,) = CupTares.of(replace(EVENT, cups=(*THIN, swapped))).odd_tares()

    assert isinstance(odd, OddTare)
    assert odd.cup == "4"
    assert cup_unlike_batch(odd).startswith("cup 4: 6.8 g is not like batch thin")


def test_two_cups_of_a_batch_cannot_tell_which_is_odd():
    swapped = Cup("4", Decimal("6.8"), SCALE, "thin")

    assert list(CupTares.of(replace(EVENT, cups=(THIN[0], swapped))).odd_tares()) == []


def test_a_tare_that_cannot_be_is_named_with_its_batch():
    (odd,) = CupTares.of(
        replace(EVENT, cups=(*THIN[:2], replace(THIN[2], tare_g=Decimal(0))))
    ).odd_tares()

    assert isinstance(odd, OddBatch)
    assert batch_without_mean(odd).startswith("tares of batch thin: cup 3")
