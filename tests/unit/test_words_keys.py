"""What is said of a key on pages, on paper and in the terminal, each where it is true."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.event import Item, KeyDecision
from nearmark.contest.keys import ItemKey
from nearmark.kit import hand_count
from nearmark.station import Station
from nearmark.words.key_remarks import coverage_words, u_words
from nearmark.words.keys import decision_words, status_and_person, status_words

JAR = Item("C1", Station.COUNT, "jar of pasta")
FIT = hand_count([412, 412])
ALONE = hand_count([412, 412], counters=["Ana", "Ana"])
USE_IT = KeyDecision("C1", None, "Ana", "jar sealed")
ANOTHER = KeyDecision("C1", Decimal(400), "Ana", "label of the bag.")

MEASURED = ItemKey(JAR, FIT, FIT.key, FIT.u, 9.0, fit=True)
UNFIT = ItemKey(JAR, ALONE, ALONE.key, ALONE.u, 9.0, fit=False)
TARGET = ItemKey(Item("M1", Station.MASS, "rice"), None, Decimal(100), 0.0, 9.0, fit=True)
NONE = ItemKey(JAR, None, None, 0.0, 9.0, fit=False)
BY_WORD = ItemKey(JAR, FIT, Decimal(400), 0.0, 9.0, fit=False, decision=ANOTHER)


@pytest.mark.parametrize(
    ("key", "status", "person"),
    [
        (NONE, "no key yet", "no key yet"),
        (replace(NONE, decision=USE_IT), "no key yet", "no key yet"),
        (MEASURED, "fit", "fit"),
        (replace(MEASURED, decision=USE_IT), "fit", "fit"),
        (TARGET, "set by rule", "set by rule"),
        (UNFIT, "not fit", "not fit"),
        (replace(UNFIT, decision=USE_IT), "used by decision", "used by decision of Ana"),
        (BY_WORD, "by decision", "by decision of Ana"),
    ],
)
def test_the_status_of_a_key(key, status, person):
    assert status_words(key) == status
    assert status_and_person(key) == person


def test_a_decision_says_its_value_only_when_it_has_one():
    assert decision_words(USE_IT) == "Used as it is by decision of Ana: jar sealed."
    assert decision_words(ANOTHER, "400 pieces") == (
        "Scored against 400 pieces by decision of Ana: label of the bag."
    )


def test_what_a_value_lacks_is_said_beside_a_small_u():
    assert "However small U is, it is not fit: only one person counted." in u_words(ALONE)
    assert "However" not in u_words(FIT)


def test_degrees_of_freedom_without_end_are_said_as_a_word():
    assert coverage_words(FIT.budget).endswith("infinite degrees of freedom")
    assert coverage_words(hand_count([412, 421]).budget).endswith(", 1.0 degrees of freedom")
