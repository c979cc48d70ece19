"""The demo's own site."""

from nearmark.demo import larkspur_valley
from nearmark.site.demo_site import seed_demo
from nearmark.site.event_store import current_event, load_event
from nearmark.site.models import EventRecord


def test_the_demo_brings_its_event_once_and_keeps_what_was_tried_on_it(nobody):
    assert seed_demo(larkspur_valley())
    EventRecord.objects.update(venue="moved to the barn")

    assert not seed_demo(larkspur_valley())

    assert EventRecord.objects.count() == 1
    assert load_event(current_event()).venue == "moved to the barn"
