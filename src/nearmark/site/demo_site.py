"""The site with the invented event in it, to look around."""

from nearmark.contest.event import Event
from nearmark.site.acts.events import keep_event
from nearmark.site.event_store import current_event


def seed_demo(event: Event) -> bool:
    """Keep the invented event, unless an earlier start has done so.

    Parameters
    ----------
    event : Event

    Returns
    -------
    bool
        Whether it was kept now; what somebody tried on it since is left as it is.
    """
    if current_event() is not None:
        return False
    keep_event(event, by="nearmark demo", what="brought the invented demo event")
    return True
