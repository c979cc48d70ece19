"""Write a line of the change history, in the transaction of the act it tells."""

from nearmark.site.common import clock
from nearmark.site.event.models import Change, EventRecord, ItemRecord


def note(  # noqa: PLR0913 - one argument a column
    event: EventRecord | None,
    who: str,
    what: str,
    *,
    old: str = "",
    new: str = "",
    why: str = "",
    item: ItemRecord | None = None,
) -> None:
    """Add one line.

    ``event``: ``None`` for what concerns the site as a whole. ``who``: name of the account.
    ``what``: the act and its object, for example ``struck a sample of C2``. ``item``: the thing of
    the kit it is about.
    """
    Change.objects.create(
        event=event,
        at=clock.now(),
        who=who,
        what=what[:200],
        old=old[:300],
        new=new[:300],
        why=why[:200],
        item=item,
    )
