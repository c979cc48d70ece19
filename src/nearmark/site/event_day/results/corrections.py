"""A mistake found after the release is corrected with its reason, and a new release is made."""

from dataclasses import dataclass

from nearmark.contest.corrections import AnswerCorrection, Correction, KeyCorrection, corrected
from nearmark.contest.place_changes import PlaceChange, place_changes, standings_of
from nearmark.contest.results import Results, results
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AdjudicationEntry, DecisionEntry
from nearmark.site.event.current import required_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer, check_cup
from nearmark.site.event_day.results.actions import keep_release
from nearmark.site.event_day.results.models import CorrectionRecord, Release
from nearmark.site.event_day.results.proof_actions import prove
from nearmark.site.event_day.results.proof_lines import current_release, release_number
from nearmark.words.place_changes import change_words, nothing_changes, only_totals_change
from nearmark.words.sides import unit_text


@dataclass(frozen=True, slots=True)
class Preview:
    """What a correction would do; nothing is kept yet."""

    what: str
    # What counts now, and what would count.
    old: str
    new: str
    changes: tuple[PlaceChange, ...]
    before: Results
    after: Results
    number: int  # of the release that is out; 0 when none is

    @property
    def places(self) -> tuple[PlaceChange, ...]:
        """Those whose place changes."""
        return tuple(change for change in self.changes if change.is_of_place)

    @property
    def moved(self) -> list[str]:
        """The places in words; one line when only totals change."""
        decimals = self.after.event.rules.decimals
        lines = [change_words(change, decimals) for change in self.places]
        n_totals = len(self.changes) - len(lines)
        if n_totals:
            lines.append(only_totals_change(n_totals))
        return lines or [nothing_changes()]


def preview(record: EventRecord, correction: Correction) -> Preview:
    """What a correction would change."""
    if not correction.why:
        raise InputError("is needed", where="why", mend="Say how it was found")
    before = current_results(record)
    after = results(corrected(before.event, correction))
    old, new = _counts(before, correction), _counts(after, correction)
    if isinstance(correction, AnswerCorrection):
        _check_weighed(before, correction)
    if old == new:
        raise RuleError(f"{new} counts already", mend="Nothing has to be put right")
    return Preview(
        what=_what(correction),
        old=old,
        new=new,
        changes=place_changes(standings_of(before), standings_of(after)),
        before=before,
        after=after,
        number=release_number(record),
    )


def _what(correction: Correction) -> str:
    if isinstance(correction, KeyCorrection):
        return f"The key of {correction.item}"
    return f"The answer of {correction.pair} on {correction.item}"


def _counts(outcome: Results, correction: Correction) -> str:
    """What is scored, in words."""
    key = outcome.keys[correction.item]
    if isinstance(correction, KeyCorrection):
        return "none" if key.key is None else f"{key.key:f} {unit_text(key.unit)}"
    answer = outcome.answers.get((correction.pair, correction.item))
    if answer is None:
        raise RuleError(
            "does not take part", where=correction.pair, mend="Change that on the page of the pairs"
        )
    if answer.estimate is None:
        return answer.status.value if answer.status.value != "answered" else "no number"
    return f"{answer.estimate:f} {unit_text(key.unit)}"


def _check_weighed(before: Results, correction: AnswerCorrection) -> None:
    """A weighed answer needs its cup, or nothing could be taken off."""
    item = next(item for item in before.event.items if item.code == correction.item)
    written = PaperAnswer(correction.status, correction.value, correction.cup)
    has_tare = any(cup.number == correction.cup for cup in before.event.cups)
    check_cup(item.station.value, written, has_tare=has_tare)


def correct(correction: Correction, *, number: int) -> Release | None:
    """Put one thing right if release ``number`` (0: none) is still out; the new one, if any."""
    record = required_event()
    seen = preview(record, correction)
    with writing():
        record.refresh_from_db()
        before = current_release(record)
        if (before.number if before else 0) != number:
            raise RuleError(
                "the results were released again since this was looked at",
                mend="Look at what changes again, then confirm",
            )
        _write(record, correction)
        by, why = correction.by, correction.why
        note(record, by, f"put right: {seen.what}", old=seen.old, new=seen.new, why=why)
        if record.released_at is None:
            return None
        if before is None:  # out since before releases were kept
            keep_release(record, seen.before, by=record.released_by)
        release = keep_release(record, seen.after, by=by)
        record.released_at = release.at
        record.save(update_fields=["released_at"])
        CorrectionRecord.objects.create(
            event=record,
            release=release,
            what=seen.what,
            old=seen.old,
            new=seen.new,
            why=why,
            moved=seen.moved,
            at=release.at,
            by=by,
        )
        prove(release)
        return release


def _write(record: EventRecord, correction: Correction) -> None:
    """A new line of the ledger; what stood there before stays."""
    item = record.items.get(code=correction.item)
    if isinstance(correction, KeyCorrection):
        DecisionEntry.objects.create(
            event=record,
            item=item,
            value=correction.value,
            by=correction.by,
            reason=correction.why,
            at=clock.now(),
        )
        return
    AdjudicationEntry.objects.create(
        pair=record.pairs.get(code=correction.pair),
        item=item,
        clerk=correction.by,
        status=correction.status.value,
        value=correction.value,
        cup=correction.cup,
        reason=correction.why,
        at=clock.now(),
    )
