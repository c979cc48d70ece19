"""Releasing the results and taking them back; what came out is kept each time."""

from nearmark.contest.place_changes import Standing, place_changes, standings_of
from nearmark.contest.results import Results
from nearmark.errors import RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import current_event
from nearmark.site.event.models import Change, EventRecord
from nearmark.site.event.reasons import need_reason
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.models import CorrectionRecord, Release
from nearmark.site.event_day.results.point_actions import keep_closing
from nearmark.site.event_day.results.proof_actions import prove
from nearmark.words.numbers import plural
from nearmark.words.place_changes import change_words

TAKEN_BACK = "took the results back"
"""How the history tells it; the public page gives its reason."""


def is_public(record: EventRecord, place: int | None) -> bool:
    """Whether everybody may see a place: there is one, up to the last that the lead shows."""
    return place is not None and (record.public_places is None or place <= record.public_places)


def keep_release(record: EventRecord, outcome: Results, *, by: str) -> Release:
    """Keep what comes out now, beside everything that came out before."""
    last = record.releases.first()
    return Release.objects.create(
        event=record,
        number=last.number + 1 if last else 1,
        at=clock.now(),
        by=by,
        standings=[standing.as_json() for standing in standings_of(outcome)],
        highest_total=str(outcome.highest_total),
        decimals=outcome.event.rules.decimals,
    )


def tell_return(record: EventRecord, release: Release, *, by: str) -> None:
    """Tell everybody why results taken back are out again, and what moved; not of the first."""
    before = record.releases.filter(number__lt=release.number).first()
    if before is None:
        return
    taken = Change.objects.filter(event=record, what=TAKEN_BACK).first()
    changes = place_changes(standings_kept(before), standings_kept(release))
    moved = [change_words(change, release.decimals) for change in changes if change.is_of_place]
    CorrectionRecord.objects.create(
        event=record,
        release=release,
        what="The results were taken back and are out again",
        why=(taken.why if taken else "") or "no reason was kept",
        moved=moved or ["no place changes"],
        at=release.at,
        by=by,
    )


def standings_kept(release: Release) -> tuple[Standing, ...]:
    """The standings of a release as they were."""
    return tuple(Standing.from_json(row) for row in release.standings)


def release(
    *,
    by: str,
    why: str = "",
    shows_names: bool,
    shows_feedback: bool = False,
    public_places: int | None = None,
) -> None:
    """Make the standings public.

    ``why``: needed while something is still open; closes what can be closed. ``shows_names``:
    whether children's names stand beside the codes. ``shows_feedback``: whether everybody may open
    the page of a pair by its code. ``public_places``: the last place that everybody sees; ``None``:
    all.
    """
    with writing():
        record = open_event()
        outcome = current_results(record)
        n_open = len(outcome.open_points)
        if n_open and not why:
            raise RuleError(
                f"{plural(n_open, 'point')} still open",
                mend="Settle them, or give the reason for releasing all the same",
            )
        for point in outcome.open_points:
            if point.can_close:
                keep_closing(record, point, by=by, why=why)
        kept = keep_release(record, outcome, by=by)
        record.released_at, record.released_by = kept.at, by
        record.shows_names, record.shows_feedback = shows_names, shows_feedback
        record.public_places = public_places
        record.save()
        tell_return(record, kept, by=by)
        which = f", places to {public_places}" if public_places else ""
        note(record, by, "released the results", new=f"{n_open} open points{which}", why=why)
        prove(kept)


def withhold(*, by: str, why: str) -> None:
    """Take the standings back, so that something can be corrected."""
    need_reason(why, "Say what has to be corrected")
    with writing():
        record = current_event()
        if record is None or record.released_at is None:
            raise RuleError("the results are not out")
        record.released_at, record.released_by = None, ""
        record.save()
        note(record, by, TAKEN_BACK, why=why)
