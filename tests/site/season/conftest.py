"""An invented club of three, and what the tests of the season room do again and again."""

import html
import uuid
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from nearmark.coaching import Attempt
from nearmark.site.door.access import Role
from nearmark.site.models import Club, PracticePair, Pupil, Source, Thing
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.station import Station


@pytest.fixture
def coach(sign_in) -> Client:
    return sign_in(Role.COACH)


@pytest.fixture
def club(coached) -> Club:
    """An invented club of three, with a jar, a box and a cup."""
    made = Club.objects.create(
        name="Fernhollow",
        keep_until=timezone.localdate() + timedelta(days=300),
        made_at=timezone.now(),
    )
    for name in ("Ada", "Bo", "Quillon"):
        Pupil.objects.create(club=made, name=name)
    Thing.objects.create(
        club=made, station="count", name="jar of beans", size="small", true=420,
        layer_true=42, layers_true=10,
    )  # fmt: skip
    Thing.objects.create(
        club=made, station="volume", name="tea box", true=645,
        length_true_cm=12.4, width_true_cm=8.0, height_true_cm=6.5,
    )  # fmt: skip
    Thing.objects.create(
        club=made, station="mass", name="rice", true=100, cup_g=8.6, density_g_cm3=0.78
    )
    return coached(made)


@pytest.fixture
def text_of(source_of) -> Callable:
    """The words of an answer."""

    def act(answer) -> str:
        return html.unescape(source_of(answer))

    return act


@pytest.fixture
def round_post() -> Callable:
    """Post a round."""

    def act(client, club, said, *, thing="jar of beans", **more):
        """Post a round: pupil -> estimate, or pupil -> dict of columns."""
        given = {"thing": club.things.get(name=thing).pk, "day": timezone.localdate().isoformat()}
        for name, typed in said.items():
            pupil = club.pupils.get(name=name).pk
            columns = typed if isinstance(typed, dict) else {"estimate": typed}
            given |= {f"{column}-{pupil}": text for column, text in columns.items()}
            given.setdefault(f"key-{pupil}", str(uuid.uuid4()))
        return client.post(f"/season/{club.pk}/round/save/", given | more)

    return act


@pytest.fixture
def log() -> Callable:
    """Keep attempts of one pupil."""

    def act(club, name, ratios, *, station=Station.COUNT, parts=None, true=420.0, size="small"):
        """Keep attempts of one pupil, one a week, the last one a week ago."""
        last = timezone.localdate()
        for i, ratio in enumerate(reversed(ratios), start=1):
            keep_attempt(
                uuid.uuid4(),
                club=club,
                pupil=club.pupils.get(name=name),
                attempt=Attempt(
                    last - timedelta(weeks=i), name, station, f"jar of week {i}", ratio * true,
                    true, size, parts,
                ),
                source=Source.ROUND,
                by="Juniper",
            )  # fmt: skip

    return act


@pytest.fixture
def pair(club) -> PracticePair:
    ada, bo, _ = club.pupils.all()
    return PracticePair.objects.create(club=club, code="S1", first=ada, second=bo)
