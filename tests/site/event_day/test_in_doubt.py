"""What the handbook says to do in doubt, where no test of a page holds it already."""

import pytest

from nearmark.contest.results import results
from nearmark.site.event.load import load_event
from nearmark.site.models import HeatRun


def points(event, pair: str, item: str):
    outcome = results(load_event(event))
    line = next(line for line in outcome.pairs if line.pair.code == pair)
    return next(each.score for each in line.items if each.item == item)


def test_a_heat_that_was_started_too_early_is_stopped_and_gets_its_full_time(lead, demo):
    lead.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})
    first = HeatRun.objects.get()
    lead.post(f"/clock/{first.pk}/stop/", {"sure": "on"})

    lead.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})

    again = HeatRun.objects.get(stopped_at=None)
    assert (again.heat, again.minutes) == ("heat 1", 30)


def test_a_pair_that_comes_late_is_checked_in_while_its_heat_runs(scorer, demo):
    scorer.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})

    scorer.post("/heats/check-in/", {"who": "P01"})

    assert demo.pairs.get(code="P01").arrived_at is not None


def test_a_pair_whose_heat_is_over_gets_a_later_one(lead, demo):
    demo.heat_places = 40
    demo.save()
    lead.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})

    lead.post("/heats/move/", {"pair": "P01", "to": "2"})

    assert demo.pairs.get(code="P01").heat == "heat 2"


def test_an_answer_that_does_not_count_is_read_as_blank_with_its_reason(lead, demo):
    assert points(demo, "P01", "C2") > 0
    given = {"kind": "answer", "pair": "P01", "item": "C2", "value": "b"}

    lead.post("/corrections/confirm/", given | {"why": "looked inside", "number": "0"})

    assert points(demo, "P01", "C2") == 0
    assert "looked inside" in lead.get("/history/").content.decode()


@pytest.mark.slow
@pytest.mark.parametrize("names", [{"shows_names": "on"}, {}])
def test_names_are_public_only_in_a_release_that_shows_them(lead, client, demo, names):
    name = demo.pairs.get(code="P01").members[0]
    lead.post("/standings/release/", {"why": "the buses leave", "shows_names": "on"})
    lead.post("/standings/withhold/", {"why": "a family asked"})
    lead.post("/standings/release/", {"why": "the buses leave"} | names)

    assert (name in client.get("/results/").content.decode()) is bool(names)
