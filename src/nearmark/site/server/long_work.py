"""The kinds of long work of this site; importing it adds them to ``job_kinds.KINDS``."""

import secrets
from collections import defaultdict
from collections.abc import Callable
from datetime import time
from functools import partial
from time import monotonic

from nearmark.contest.heat_program import NoFit, plan_heats
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import Results
from nearmark.errors import InputError, RuleError
from nearmark.event_folder.writer import csv_text
from nearmark.kit import Walls
from nearmark.packing import SHAPES
from nearmark.printing import feedback_pdf, standings_pdf
from nearmark.printing.day_folder import ALL_IN_ONE, all_in_one, day_folder
from nearmark.printing.wishes import Wishes
from nearmark.site.common.language import shown_in
from nearmark.site.common.zips import zipped
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.heats.draft_actions import keep_draft
from nearmark.site.event_day.heats.forms import FEW_MOVES
from nearmark.site.event_day.heats.plan_frame import plan_start, planned_wishes
from nearmark.site.event_day.heats.plan_page import PLAN_KIND
from nearmark.site.event_day.results.proof_lines import release_number, released_head, seal_line
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.actions import keep_exhibit
from nearmark.site.jobs.kinds import KINDS, TRIAL, JobResult, Kind, Step
from nearmark.site.jobs.worker import IDLE
from nearmark.site.kit.pouring import brim_count, planned_into
from nearmark.site.server.pour_ahead import pour_ahead
from nearmark.words.day_papers import folder_made
from nearmark.words.heat_plans import aim_words, no_fit_words
from nearmark.words.kit_plans import brim_words
from nearmark.words.languages import language_codes, own_name
from nearmark.words.standings import standing_words
from nearmark.words.translation import ENGLISH

Work = Callable[[EventRecord | None, int, Step], JobResult]


def _of_results(work: Callable[[Results, int, Step], JobResult]) -> Work:
    """Work on the results of the event as they are when it begins."""

    def on_event(event: EventRecord | None, size: int, step: Step) -> JobResult:
        if event is None:
            raise RuleError("there is no event", mend="Ask again when there is one")
        return work(current_results(event), size, step)

    return on_event


def _feedback_pages(outcome: Results, _size: int, step: Step) -> JobResult:
    """One PDF a school, so that each coach is handed one file."""
    by_school: dict[str, list[str]] = defaultdict(list)
    for line in outcome.pairs:
        if line.items:
            by_school[line.pair.school].append(line.pair.code)
    n_all, n_done = sum(map(len, by_school.values())), 0
    if not n_all:
        raise InputError("nobody has answers yet", where="feedback", mend="Enter answers first")
    record = current_event()
    release = release_number(record) if record else 0
    pages = {}
    for number, school in enumerate(sorted(by_school), start=1):
        step(n_done, n_all)
        codes = sorted(by_school[school])
        pages[_file_name(number, school)] = feedback_pdf(outcome, codes, release=release)
        n_done += len(codes)
    step(n_done, n_all)
    told = f"{n_all} pages in {len(by_school)} files, one a school"
    return JobResult(told, "feedback.zip", "application/zip", zipped(pages))


def _file_name(number: int, school: str) -> str:
    """Letters and digits only: a name was typed by somebody."""
    plain = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in school)
    return f"{number:02d}-{plain.strip('-')[:40] or 'school'}.pdf"


def _sure_standings(outcome: Results, size: int, step: Step) -> JobResult:
    confidence = rank_confidence(
        outcome, n_draws=size, seed=outcome.event.seed, progress=lambda done: step(done, size)
    )
    told = " ".join(standing_words(outcome, confidence).sentences)
    record = current_event()
    head = released_head(record) if record else ""
    number = release_number(record) if record else 0
    pdf = standings_pdf(outcome, confidence, head=head, release=number)
    return JobResult(told, "standings.pdf", "application/pdf", pdf)


def _paper(
    outcome: Results, size: int, step: Step, *, paper: str, large: bool, language: str
) -> JobResult:
    """The day in a folder; ``size`` is the first start as it is said: 930 is 09:30, 0 unknown."""
    record = current_event()
    with shown_in(language):
        seal = seal_line(record) if record else ""
    wishes = Wishes(
        paper=paper,
        large=large,
        language=language,
        start=start_of(size),
        seal=seal,
    )
    if record:
        wishes = planned_wishes(record, wishes)
    files = day_folder(outcome, wishes)
    made = []
    for n_done, file in enumerate(files):
        step(n_done, len(files) + 1)
        made.append((file, file.build()))
    step(len(files), len(files) + 1)
    whole = {ALL_IN_ONE: all_in_one(outcome.event, made)}
    packed = zipped({file.name: content for file, content in made} | whole)
    step(len(files) + 1, len(files) + 1)
    return JobResult(
        folder_made(sum(not f.is_sealed for f in files), sum(f.is_sealed for f in files)),
        f"paper-{paper}.zip",
        "application/zip",
        packed,
    )


def start_of(size: int) -> time | None:
    """A first start typed as a number; 0: left open. Raises InputError if it is no time of day.

    >>> start_of(930), start_of(0)
    (datetime.time(9, 30), None)
    """
    if not size:
        return None
    hour, minute = divmod(size, 100)
    if hour > 23 or minute > 59:
        raise InputError(
            "is no time of day", where="first start", value=size, mend="Write 930 for 09:30"
        )
    return time(hour, minute)


def _jar(band: str) -> Work:
    """Pour a jar of a band; the size is the number of the shape from 1 on, 0 draws it."""

    def work(_event: EventRecord | None, size: int, step: Step) -> JobResult:
        shape = list(SHAPES)[size - 1] if size else None
        made = jar_build.pour(band, shape, secrets.randbits(48), step=step)
        told = f"{made.told['what']}: on the shelf of practice jars"
        return JobResult(
            told,
            f"{band}.jar",
            "application/octet-stream",
            made.jar,
            lambda by: keep_exhibit(made, by=by, how="poured"),
        )

    return work


def _trial(_outcome: Results, size: int, step: Step) -> JobResult:
    """Pour a planned container on the computer; the size is the number of the plan."""
    row, vessel = planned_into(size)
    own = row.piece_mass_g
    made = jar_build.try_out(
        row.pieces,
        row.material,
        vessel,
        piece_mass_g=None if own is None else float(own),
        step=step,
    )
    walls = Walls(made.share, made.share_u)
    brim = brim_count(row.material, vessel, piece_mass_g=own, walls=walls)
    told = f"{made.words} {brim_words(brim)}"
    return JobResult(told, f"trial-{row.item.code}.png", "image/png", made.pictures)


def _heat_plan(event: EventRecord | None, how: int, step: Step) -> JobResult:
    """Look for a plan of the heats; it is saved by nobody but the lead."""
    if event is None:
        raise RuleError("there is no event", mend="Ask again when there is one")
    start = plan_start(event)
    found = plan_heats(
        start.pairs,
        start.frame,
        wishes=start.wishes,
        kept=start.started,
        before=start.now if how == FEW_MOVES else {},
        now=monotonic,
        tell=step,
    )
    if isinstance(found, NoFit):
        what, *changes = no_fit_words(found) or ("no plan keeps every wish",)
        raise RuleError(what.rstrip("."), mend=" ".join(changes))
    rows = [[p.code, p.school, p.heat, p.room] for heat in found.heats for p in heat.pairs]
    told = " ".join(aim_words(level, has_coaches=start.has_coaches) for level in found.levels)
    return JobResult(
        told,
        "heats.csv",
        "text/csv",
        csv_text(["code", "school", "heat", "room"], rows).encode(),
        lambda by: keep_draft(event, start.pairs, found.heats, found.levels, by=by),
    )


KINDS.update(
    {
        PLAN_KIND: Kind("A plan of the heats", _heat_plan, most=FEW_MOVES, asked_elsewhere=True),
        "feedback": Kind("Feedback pages of all pairs (PDF)", _of_results(_feedback_pages)),
        "confidence": Kind(
            "Rank confidence with many draws",
            _of_results(_sure_standings),
            size_label="Draws",
            least=1_000,
            usual=1_000_000,
            most=5_000_000,
        ),
        **{
            f"paper-{paper}{'-large' if large else ''}{language}": Kind(
                f"The day in a folder, {said}{', large print' if large else ''}{spoken} (PDF)",
                _of_results(partial(_paper, paper=paper, large=large, language=code)),
                size_label="First start (930 for 09:30, 0: left open)",
                most=2359,
                asked_elsewhere=large or code != ENGLISH.code,
            )
            for paper, said in (("a4", "A4"), ("us-letter", "US letter"))
            for large in (False, True)
            for code in language_codes()
            for language, spoken in [
                ("", "") if code == ENGLISH.code else (f"-{code}", f", {own_name(code)}")
            ]
        },
        **{
            f"jar-{band}": Kind(
                f"Pour a {band} practice jar", _jar(band), most=len(SHAPES), needs_event=False
            )
            for band in ("small", "medium", "large")
        },
        TRIAL: Kind(
            "A planned container on the computer",
            _of_results(_trial),
            most=2**62,
            asked_elsewhere=True,
        ),
    }
)
IDLE.append(pour_ahead)
