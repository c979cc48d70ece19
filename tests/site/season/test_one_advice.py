"""Page, home sheet, command line and JSON say the same: advice, next thing, worth and order."""

import html
import io
import json
import re

import pypdf
import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from nearmark.cli import main
from nearmark.coaching import attempts_in, kinds_of, pupil_advice, read_club, what_next
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.site.drills.actions import Plan, open_drill
from nearmark.site.drills.seat_actions import code_of
from nearmark.site.jars.actions import shelve_ready
from nearmark.site.models import DrillKind, PracticeJar, Thing
from nearmark.site.season.attempt_columns import attempts_of
from nearmark.site.season.demo import fill_demo_season
from nearmark.words.coaching_advice import trial_words
from nearmark.words.coaching_child import child_reason_words
from nearmark.words.coaching_habits import reason_words
from nearmark.words.sides import kind_words


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", text))).replace("\xa0", " ")


@pytest.fixture
def season(db, tmp_path):
    club = fill_demo_season(today=timezone.localdate(), by="Juniper")
    log = tmp_path / "season.csv"
    log.write_text(practice_log_text(attempts_of(club)), encoding="utf-8")
    return club, log


@pytest.fixture
def command(capsys):
    def run(*words: str) -> str:
        main(words)
        return capsys.readouterr().out

    return run


@pytest.mark.slow
@pytest.mark.parametrize("name", ["Juno", "Kai", "Milo", "Tove", "Wren", "Zed"])
def test_all_places_say_the_same_of_a_pupil(coach, coached, season, command, name):
    club, log = season
    coached(club)
    habits = read_club(attempts_of(club))
    own = habits[name]
    advice = [trial_words(trial) for trial in pupil_advice(attempts_in(own))]
    plan = what_next(own, kinds_of(habits))
    order = [
        f"{kind_words(item.station, item.size)}: {reason_words(item)}".casefold() for item in plan
    ]
    pupil = club.pupils.get(name=name)

    page = plain(coach.get(f"/season/pupil/{pupil.pk}/").content.decode())
    club_page = plain(coach.get(f"/season/{club.pk}/").content.decode())
    sheet = coach.get(reverse("home-sheet", args=[pupil.pk])).content
    reader = pypdf.PdfReader(io.BytesIO(sheet))
    paper = re.sub(r"\s+", " ", " ".join(p.extract_text() for p in reader.pages))
    found = json.loads(command("pupil", str(log), "--pupil", name, "--json"))["pupils"][0]
    terminal = re.sub(r"\s+", " ", command("pupil", str(log), "--pupil", name))

    # The page
    places = [page.find(words) for words in advice]
    assert -1 not in places
    assert places == sorted(places)
    assert [row for row in order if row.replace(": ", " : ") not in page.casefold()] == []
    # The list of the club
    assert reason_words(plan[0]) in club_page
    # Paper: the first two pieces of advice, the first three things to practise
    assert [words for words in advice[:2] if words not in paper] == []
    reasons = [child_reason_words(item) for item in plan[:3]]
    assert [words for words in reasons if words not in paper] == []
    # What a child reads has the worth that the coach reads.
    for item, words in zip(plan, reasons, strict=False):
        assert item.n == 0 or f"about {item.worth:.1f} points" in words
        assert item.n == 0 or f"about {item.worth:.1f} points" in reason_words(item)
    # JSON
    assert [each["words"] for each in found["advice"]] == advice
    assert [(each["station"], each["size"], each["reason"]) for each in found["next"]] == [
        (item.station.value, item.size, reason_words(item)) for item in plan
    ]
    assert [each["worth"] for each in found["next"]] == pytest.approx([item.worth for item in plan])
    # The terminal
    assert [words for words in advice if words not in terminal] == []
    spots = [terminal.casefold().find(f"next: {row}.") for row in order]
    assert -1 not in spots


def test_a_thing_known_to_most_is_never_the_next_one(coach, coached, season):
    club, _ = season
    coached(club)
    seen = set(club.attempts.exclude(station="mass").values_list("thing", flat=True))

    page = plain(coach.get(f"/season/{club.pk}/").content.decode())
    proposed = re.search(r"Practise (?:count|volume|mass)[^:]*: (.*?) Comes first for", page)

    assert proposed is not None
    assert not [name for name in seen if proposed[1].strip() == name]
    assert "nobody knows its true value" in page


def test_a_known_thing_is_warned_of_and_does_not_count(coach, coached, season, round_post, text_of):
    club, _ = season
    coached(club)
    thing = club.things.get(name="jar of chickpeas")

    before = plain(coach.get(f"/season/{club.pk}/round/?thing={thing.pk}").content.decode())
    answer = round_post(coach, club, {"Juno": "438"}, thing=thing.name)
    done = text_of(coach.get(answer.headers["Location"]))

    assert "have seen its true value: their answers are kept, and count for nothing." in before
    assert "The true value was known already: this is not counted." in done
    juno = club.pupils.get(name="Juno")
    page = plain(coach.get(f"/season/pupil/{juno.pk}/").content.decode())
    assert "1 attempt more was at a true value seen before and does not count." in page


@pytest.mark.slow
def test_round_drill_jar_and_paper_say_the_same_of_one_attempt(coach, coached, season, round_post):
    # 250 of 303, 25 a layer for 37, 10 layers for 10.54: the beans of the package.
    club, _ = season
    coached(club)
    shelve_ready(by="Juniper")
    jar = next(each for each in PracticeJar.objects.all() if each.count == 303)
    kai = club.pupils.get(name="Kai")
    Thing.objects.create(
        club=club, station="count", size="small", name="beans", true=303,
        layer_true=jar.layer, layers_true=jar.layers,
    )  # fmt: skip
    said = {"estimate": "250", "layer": "25", "layers": "10"}
    wanted = (
        "One layer shows 37, not 25. Leave out one in five of what is seen in a layer: pieces of "
        "the layer beneath are seen too. That gives 296: 98 points instead of 83."
    )

    on_shelf = plain(coach.post(f"/jars/{jar.pk}/", said).content.decode())
    plan = Plan("Monday", DrillKind.DRILL, [club.things.get(name="beans")], [kai])
    drill = open_drill(club, plan, by="Juniper")
    phone = Client()
    phone.post("/drill/", {"code": code_of(drill.seats.get())})
    in_drill = plain(
        phone.post(f"/drill/thing/{drill.items.get().pk}/", said, follow=True).content.decode()
    )
    answer = round_post(coach, club, {"Milo": said}, thing="beans")
    in_round = plain(coach.get(answer.headers["Location"]).content.decode())
    sheet = coach.get(reverse("home-sheet", args=[club.pupils.get(name="Milo").pk])).content
    reader = pypdf.PdfReader(io.BytesIO(sheet))
    paper = re.sub(r"\s+", " ", " ".join(p.extract_text() for p in reader.pages))

    assert [wanted in text for text in (on_shelf, in_drill, in_round, paper)] == [True] * 4
