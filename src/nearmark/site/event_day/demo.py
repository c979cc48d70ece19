"""The site with the invented event, season and jars in it, to look around."""

from datetime import date

from nearmark.contest.event import Event
from nearmark.site.event.load import current_event
from nearmark.site.event_day.event_actions import keep_event
from nearmark.site.jars.actions import shelve_ready
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.demo import fill_demo_season
from nearmark.site.season.models import Club


def seed_demo(event: Event, *, today: date) -> bool:
    """Bring the demo unless an earlier start has; whether it was. What was tried on it stays."""
    if current_event() is not None:
        return False
    bring_demo(event, today=today, by="nearmark demo")
    return True


def bring_demo(event: Event, *, today: date, by: str) -> None:
    """Keep the invented event; an empty season and an empty shelf of jars are filled too."""
    keep_event(event, by=by, what="brought the invented demo event")
    if not Club.objects.exists():
        fill_demo_season(today=today, by=by)
    if not PracticeJar.objects.exists():
        shelve_ready(by=by)
