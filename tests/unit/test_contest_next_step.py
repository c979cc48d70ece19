"""What to do next with an item: the way from an empty container to a key that is fit."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from nearmark.contest.doubts import doubts
from nearmark.contest.event import (
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Event,
    HandCount,
    Item,
    KeyDecision,
    SamplesFrom,
    Side,
)
from nearmark.contest.keys import event_keys
from nearmark.contest.next_step import measuring_steps, sample_total
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.doubts import doubt_question
from nearmark.words.next_step import step_so_far, total_words, way_reason, way_words

JAR = Item("C1", Station.COUNT, "jar of pasta", "penne")
BOX = Item("B1", Station.VOLUME, "tea box")
EMPTY = ContainerWeighing("C1", None, Decimal("212.4"), "bench scale")
FULL = ContainerWeighing("C1", Decimal("3914.2"), None, "bench scale")
DAY = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1), Instrument("ruler", "cm", 0.1)),
    items=(JAR, BOX),
)


def samples(*masses: str) -> tuple[CountedSample, ...]:
    return tuple(CountedSample("C1", 150, Decimal(mass), "bench scale") for mass in masses)


def way(item: str = "C1", **changes):
    event = replace(DAY, **changes)
    return measuring_steps(event, event_keys(event)[item])


def edges(n: int) -> tuple[BoxReading, ...]:
    sizes = ((Side.LENGTH, "24.1"), (Side.WIDTH, "18.0"), (Side.HEIGHT, "12.3"))
    return tuple(BoxReading("B1", s, Decimal(cm), "ruler") for s, cm in sizes for _ in range(n))


def test_the_way_leads_from_the_empty_container_to_the_full_one():
    said = [
        way(),
        way(containers=(EMPTY,)),
        way(containers=(EMPTY,), samples=samples("92.3")),
        way(containers=(EMPTY,), samples=samples("92.3", "91.8", "92.1")),
        way(containers=(EMPTY, FULL), samples=samples("92.3", "91.8", "92.1", "92.0", "92.2")),
    ]

    assert [w.kind for w in said] == ["empty", "sample", "sample", "full", ""]
    assert way_reason(said[2]).startswith("Sample 2, at least 3. The plan is about ")
    assert way_words(said[4]) == "This key is fit: close and seal it"
    assert all(step.is_done for step in said[4].steps)


def test_full_and_empty_in_two_rows_count_as_in_one():
    both = ContainerWeighing("C1", FULL.gross_g, EMPTY.tare_g, "bench scale")
    masses = samples("92.3", "91.8", "92.1")
    apart = replace(DAY, containers=(EMPTY, FULL), samples=masses)
    together = replace(DAY, containers=(both,), samples=masses)

    assert event_keys(apart)["C1"].assigned == event_keys(together)["C1"].assigned


def test_not_yet_fit_it_says_what_one_more_sample_brings():
    wild = way(containers=(EMPTY, FULL), samples=samples("92.3", "91.2", "93.2"))

    assert wild.kind == "sample"
    assert [step.is_done for step in wild.steps] == [True, True, True, False]
    assert step_so_far(wild.steps[1]) == "3 samples of 150"
    assert step_so_far(wild.steps[-1]).startswith("U is ")
    assert way_words(wild).startswith("One more sample of 150 brings U from ")


def test_a_plan_knows_the_pieces_of_the_catalogue_and_asks_usually_for_the_unknown():
    unknown = replace(JAR, material="")

    assert "about 16 of 75 pieces" in way_reason(way(containers=(EMPTY,)))
    assert "about 9 of 100 pieces" in way_reason(way(containers=(EMPTY,), items=(unknown, BOX)))


def test_one_count_by_hand_asks_for_a_second_person_though_it_looks_fit():
    once = (HandCount("C1", 412, "Rowan"),)
    twice = (*once, HandCount("C1", 412, "Sorrel"))

    assert way_words(way(hand_counts=once)) == "Let a second person count all pieces"
    assert way_words(way(hand_counts=twice)) == "This key is fit: close and seal it"


def test_some_hundred_pieces_that_no_samples_make_fit_are_counted_by_hand():
    # 40.5 g of peas of 0.1 g: a rounding of 0.1 g and a spread of the pieces are both too much
    peas = tuple(
        CountedSample("C1", 100, Decimal(m), "bench scale") for m in ("10.1", "10.1", "10.3")
    )
    full = replace(FULL, gross_g=Decimal("252.9"))

    at_first = way(containers=(EMPTY, full), samples=peas)
    after_one = way(
        containers=(EMPTY, full), samples=peas, hand_counts=(HandCount("C1", 401, "Ash"),)
    )

    assert (at_first.kind, after_one.kind) == ("hand-count", "hand-count")
    assert way_words(at_first) == (
        "Let two people count all pieces, about 398, without knowing each other's count"
    )
    assert way_reason(at_first) == "More samples of 100 will not reach 1.0 %"
    assert way_words(after_one) == (
        "Let a second person count all pieces, without knowing the first count"
    )
    assert "about 398" not in way_reason(after_one)


def test_a_box_is_asked_which_faces_and_then_edge_by_edge():
    outside = replace(BOX, box=BoxFaces(Faces.OUTSIDE))
    length_only = edges(3)[:3]

    assert (way_words(way("B1")), way("B1").kind) == ("Inside or outside?", "faces")
    assert way("B1", items=(JAR, outside)).side is Side.LENGTH
    assert way("B1", items=(JAR, outside), box_readings=length_only).side is Side.WIDTH
    assert way("B1", items=(JAR, outside), box_readings=edges(3)).kind == ""


def test_further_readings_of_a_box_go_round_the_edges():
    rough = Instrument("ruler", "cm", 1.0)
    known = {
        "items": (JAR, replace(BOX, box=BoxFaces(Faces.OUTSIDE))),
        "instruments": (DAY.instruments[0], rough),
    }
    sides = []
    readings = edges(3)
    for _ in range(3):
        said = way("B1", box_readings=readings, **known)
        sides.append(said.side)
        readings = (*readings, replace(readings[0], side=said.side))

    assert sides == list(Side)


def test_a_decision_without_readings_still_says_what_to_weigh():
    word = KeyDecision("C1", Decimal(6000), "lead Juniper", "as it says on the sack")

    said = way(key_decisions=(word,))

    assert way_words(said) == "Used by decision of lead Juniper"
    assert "counts as exact" in way_reason(said)
    assert said.kind == "empty"


def test_a_box_read_outside_with_walls_has_an_inner_volume():
    def box(**known):
        items = (replace(BOX, box=BoxFaces(**known)),)
        return event_keys(replace(DAY, items=items, box_readings=edges(3)))["B1"].assigned

    plain, outer = box(), box(faces=Faces.OUTSIDE)
    inner = box(faces=Faces.OUTSIDE, wall_cm=Decimal("0.5"))
    bulging = box(faces=Faces.INSIDE, bulge_cm=Decimal("0.2"))

    assert plain.budget.measurand == "volume of tea box (B1)"
    assert outer.budget.measurand == "outer volume of tea box (B1)"
    assert inner.budget.measurand == "inner volume of tea box (B1)"
    # Twice half a centimetre off every side: 23.1 x 17.0 x 11.3 cm, by hand.
    assert (outer.key, inner.key) == (Decimal(5336), Decimal(4438))
    (wall,) = [c for c in inner.budget.components if c.name == "wall thickness"]
    assert wall.contribution > 0
    assert bulging.u > outer.u


def test_samples_out_of_the_container_say_more_about_it_than_samples_of_the_lot():
    masses = samples("92.3", "90.2", "93.9")
    small = (EMPTY, ContainerWeighing("C1", Decimal("550.0"), None, "bench scale"))

    def u(where: SamplesFrom | None) -> float:
        items = (replace(JAR, samples_from=where),) if where else (JAR,)
        return event_keys(replace(DAY, items=items, containers=small, samples=masses))["C1"].u

    assert u(SamplesFrom.CONTAINER) < u(SamplesFrom.LOT) == u(None)


def test_the_running_total_is_of_one_item():
    total = sample_total(replace(DAY, samples=samples("92.3", "91.8")), "C1")

    assert (total.n, total.pieces, total.mass_g) == (2, 300, Decimal("184.1"))
    assert sample_total(DAY, "C1") is None


def test_a_key_that_is_fit_is_not_closed_over_a_doubt_of_its_own():
    six = samples("92.3", "91.8", "92.1", "92.0", "92.2", "92.1")
    heavy = tuple(replace(s, pieces=75) for s in six)
    event = replace(DAY, containers=(EMPTY, FULL), samples=heavy)
    key = event_keys(event)["C1"]
    asked = doubts(event)

    assert [doubt_question(doubt) for doubt in asked] == ["Did you count 150 pieces?"]
    assert way_words(measuring_steps(event, key)) == "This key is fit: close and seal it"
    assert way_words(measuring_steps(event, key, doubts=asked)) == "Look at one reading once more"


def test_samples_of_one_size_are_told_by_it_and_others_by_their_pieces():
    mixed = (*samples("92.3"), CountedSample("C1", 100, Decimal("61.4"), "bench scale"))

    assert (
        total_words(sample_total(replace(DAY, samples=samples("92.3")), "C1")) == "1 sample of 150"
    )
    assert total_words(sample_total(replace(DAY, samples=mixed), "C1")) == "2 samples, 250 pieces"


def test_the_worn_end_of_a_ruler_is_asked_about_once_before_the_first_reading():
    known = {"items": (replace(BOX, box=BoxFaces(Faces.INSIDE)),)}

    first, later = way("B1", **known), way("B1", box_readings=edges(1)[:1], **known)

    assert way_reason(first).endswith(
        "Is the end of the ruler worn? Then read from its 10 cm mark."
    )
    assert "worn" not in way_reason(later)


def test_samples_are_to_be_taken_from_all_depths():
    assert "from all depths" in way_reason(way(containers=(EMPTY,)))
