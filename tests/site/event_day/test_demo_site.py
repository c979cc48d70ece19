"""The demo's own site."""

from datetime import date

import pytest

from nearmark.demo import larkspur_valley
from nearmark.site.event.load import current_event, load_event
from nearmark.site.event_day.demo import seed_demo
from nearmark.site.models import Club, EventRecord, PracticeJar


@pytest.mark.slow
def test_the_demo_brings_its_event_once_and_keeps_what_was_tried_on_it(nobody):
    assert seed_demo(larkspur_valley(), today=date(2027, 5, 1))
    EventRecord.objects.update(venue="moved to the barn")

    assert not seed_demo(larkspur_valley(), today=date(2027, 5, 1))

    assert EventRecord.objects.count() == Club.objects.count() == 1
    assert PracticeJar.objects.count() >= 6
    assert load_event(current_event()).venue == "moved to the barn"
