"""Places by division and school: for the lead, for everybody, on the screen, as awards."""

import io
import re
import zipfile
from dataclasses import replace

import pytest
from django.utils import timezone

from nearmark.cli import main
from nearmark.contest.event import Division
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal
from nearmark.contest.school_totals import school_totals
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing.run_off import run_off_pdf, run_off_view
from nearmark.printing.standings import standings_view
from nearmark.site.event.load import load_event, save_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.actions import release, standings_kept
from nearmark.site.models import (
    AdjudicationEntry,
    AnswerEntry,
    EventRecord,
    Release,
)

NAMES = ("Grade 3", "Grade 4", "Grade 5")
RUN_OFF = "Both scoop 100 g once more; the nearer cup is called first."


def with_divisions(*, apart=False):
    """The invented event with three divisions, school totals and a run-off."""
    day = larkspur_valley()
    items = day.items
    if apart:
        items = tuple(replace(i, divisions=NAMES[1:]) if i.code == "C2" else i for i in items)
    return replace(
        day,
        rules=RuleSet(school_total=SchoolTotal(SchoolRule.BEST, 3), run_off=RUN_OFF),
        divisions=tuple(Division(name, awarded_places=2) for name in NAMES),
        items=items,
        pairs=tuple(replace(p, division=NAMES[n % 3]) for n, p in enumerate(day.pairs)),
    )


def keep(event):
    for table in (AdjudicationEntry, AnswerEntry, EventRecord):
        table.objects.all().delete()
    return save_event(event, by="Juniper", now=timezone.now())


@pytest.fixture
def together(lead):
    return keep(with_divisions())


@pytest.fixture
def apart(lead):
    return keep(with_divisions(apart=True))


def first_of(record, name):
    outcome = results(load_event(record))
    return next(line for line in outcome.pairs if line.pair.division == name and line.is_placed)


@pytest.mark.slow
def test_the_lead_chooses_all_pairs_a_division_or_the_schools(lead, together, source_of):
    whole = source_of(lead.get("/standings/"))
    assert '<th scope="col" class="n">place there</th>' in whole
    assert 'aria-current="true">All pairs</a>' in whole
    best = first_of(together, "Grade 5")
    cut = source_of(lead.get("/standings/", {"division": "Grade 5"}))
    assert 'aria-current="true">Grade 5</a>' in cut
    assert cut.index(f">{best.pair.code}</a>") > 0
    outsider = first_of(together, "Grade 3").pair.code
    assert f">{outsider}</a></th>" not in cut
    schools = source_of(lead.get("/standings/", {"schools": "1"}))
    top = school_totals(results(load_event(together)))[0]
    assert f'<th scope="row">{top.school}</th>' in schools
    assert "sum of its best 3 pairs" in schools


def test_without_a_common_list_of_items_the_first_division_is_shown_and_why(lead, apart, source_of):
    page = source_of(lead.get("/standings/"))

    assert "nobody has a place over all" in page
    assert "All pairs" not in page
    assert 'aria-current="true">Grade 3</a>' in page


@pytest.mark.slow
def test_everybody_sees_the_places_of_a_division_after_the_release(
    lead, client, together, source_of
):
    release(by="Juniper", why="ready", shows_names=False, shows_feedback=True, public_places=2)
    page = source_of(client.get("/results/", {"division": "Grade 4"}))
    placed = [
        line.pair.code
        for line in results(load_event(together)).pairs
        if line.pair.division == "Grade 4" and line.division_place
    ]

    assert f'<th scope="row">{placed[0]}</th>' in page
    # Only the first two places are published.
    assert f'<th scope="row">{placed[2]}</th>' not in page
    big = source_of(client.get("/results/", {"division": "Grade 4", "screen": "big"}))
    assert "Larkspur Valley Estimation Day, Grade 4" in big
    assert placed[0] in big
    assert "division=Grade+5&amp;screen=big" in big
    # A total of a school would tell those of its pairs behind them.
    schools = source_of(client.get("/results/", {"schools": "1"}))
    assert "pairs that count" not in schools


@pytest.mark.slow
def test_a_pair_reads_its_place_in_the_division(lead, client, together, source_of):
    release(by="Juniper", why="ready", shows_names=False, shows_feedback=True)
    best = first_of(together, "Grade 5")
    page = source_of(client.get("/results/pair/", {"code": best.pair.code}))

    assert "first place of" in page
    assert "in Grade 5" in page


def test_a_release_keeps_the_places_of_the_divisions(lead, together):
    release(by="Juniper", why="ready", shows_names=False, shows_feedback=False)
    (kept,) = Release.objects.all()
    outcome = results(load_event(together))

    assert [(row.code, row.division, row.division_place) for row in standings_kept(kept)] == [
        (line.pair.code, line.pair.division, line.division_place) for line in outcome.pairs
    ]


@pytest.mark.slow
@pytest.mark.parametrize("is_apart", [False, True])
def test_score_and_verify_agree_with_the_site(lead, tmp_path, capsys, is_apart):
    record = keep(with_divisions(apart=is_apart))
    release(by="Juniper", why="ready", shows_names=True, shows_feedback=False)
    packed = zipfile.ZipFile(io.BytesIO(lead.get("/event/export.zip").content))
    packed.extractall(tmp_path)
    main(["score", str(tmp_path / "event"), "--draws", "200", "--export", str(tmp_path / "out")])
    capsys.readouterr()
    main(["verify", str(tmp_path / "event")])

    assert "unchanged" in capsys.readouterr().out
    tables = zipfile.ZipFile(io.BytesIO(lead.get("/exports/results.zip?names=1").content))
    for name in ("standings.csv", "schools.csv", "item_scores.csv"):
        assert (tmp_path / "out" / name).read_bytes() == tables.read(name), name
    assert record.divisions.count() == 3


def test_awards_are_listed_with_the_first_place_last(lead, together, source_of):
    page = source_of(lead.get("/awards/"))

    for name in NAMES:
        best = first_of(together, name)
        part = page[page.index(f">{name}</h2>") :]
        assert part.index("Second place: ") < part.index(f"First place: {best.pair.code}")
    assert "6 certificates in all." in page
    assert "run-off.pdf" not in page


def tied():
    """The demo event in which the best pair of grade 3 has a twin."""
    day = with_divisions()
    best = next(x for x in results(day).pairs if x.pair.division == NAMES[0] and x.is_placed)
    twin = replace(best.pair, code="T1", school="Quillbank")
    code = best.pair.code
    return replace(
        day,
        pairs=(*day.pairs, twin),
        answers=(*day.answers, *(replace(a, pair="T1") for a in day.answers if a.pair == code)),
        adjudications=(
            *day.adjudications,
            *(replace(a, pair="T1") for a in day.adjudications if a.pair == code),
        ),
    )


def test_a_shared_first_place_has_a_run_off_and_a_sheet(lead, source_of):
    keep(tied())
    page = source_of(lead.get("/awards/"))

    assert RUN_OFF in page
    assert lead.get("/awards/run-off.pdf").content.startswith(b"%PDF")
    (one,) = run_off_view(results(tied())).run_offs
    assert len(one.pairs) == 2
    # Without a rule for it there is no sheet.
    without = replace(tied(), rules=RuleSet())
    with pytest.raises(InputError, match="run-off"):
        run_off_pdf(results(without))


def test_the_announcer_calls_division_by_division(lead, together, source_of):
    release(by="Juniper", why="ready", shows_names=False, shows_feedback=False)
    page = source_of(lead.get("/announcer/"))

    assert page.index("<h3>Grade 3</h3>") < page.index("<h3>Grade 5</h3>")
    assert f"First place: {first_of(together, 'Grade 5').pair.code}" in page


def test_printed_standings_have_each_division_and_the_schools():
    outcome = results(with_divisions(apart=True))
    sure = rank_confidence(outcome, n_draws=200, seed=1)
    view = standings_view(outcome, sure)

    assert not view.is_ranked
    assert [part.division for part in view.divisions] == list(NAMES)
    assert [part.division for part in view.schools] == list(NAMES)
    assert view.divisions[0].lines[0].place == "1"
    plain = standings_view(results(larkspur_valley()), sure)
    assert (plain.divisions, plain.schools, plain.school_rule) == ((), (), "")


@pytest.mark.slow
def test_the_announcer_reads_the_awards_of_the_page_of_awards(lead, together, source_of):
    release(by="Juniper", why="ready", shows_names=False, shows_feedback=False)

    def called(address: str) -> list[str]:
        return re.findall(r"\w+ place: [^<]*[^<\s]", source_of(lead.get(address)))

    assert len(called("/announcer/")) == 6
    assert called("/announcer/") == called("/awards/")


def test_without_divisions_the_announcer_reads_the_awards_and_names_where_they_are_shown(
    lead, demo, source_of
):
    outcome = current_results(demo)
    best = next(line for line in outcome.pairs if line.place == 1)
    release(by="Juniper", why="ready", shows_names=True, shows_feedback=False)

    page = source_of(lead.get("/announcer/"))

    assert f"First place: {best.pair.code} ({best.pair.school})" in page
    assert " and ".join(best.pair.members) in page
