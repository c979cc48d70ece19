"""The places of a meeting as lines of a form: read back line by line, each kept on its own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from nearmark.coaching import attempts_in, station_advice
from nearmark.errors import NearmarkError
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.meeting_actions import PlaceResult, results_of
from nearmark.site.season.models import Club, Meeting, MeetingPlace, PracticeAttempt
from nearmark.site.season.round_sheet import pair_of_each, row_refusal, typed_attempt
from nearmark.station import UNITS, Station
from nearmark.words.coaching_meeting import rest_words, station_words


@dataclass(slots=True)
class PlaceLine:
    """One pupil in one slot."""

    place: MeetingPlace
    say: str = ""  # one sentence for the pupil there
    kept: PracticeAttempt | None = None  # what was saved
    typed: str = ""  # as typed, to be shown again
    refusal: str = ""

    @property
    def unit(self) -> str:
        """Of the number."""
        return UNITS[Station(self.place.thing.station)] if self.place.thing else ""

    @property
    def shown(self) -> str:
        """What the field holds."""
        return self.typed or (f"{self.kept.estimate:g}" if self.kept else "")


def place_lines(meeting: Meeting, places: Iterable[MeetingPlace]) -> list[PlaceLine]:
    """Lines with what is saved and what to say."""
    rows = list(places)
    kept = results_of(meeting)
    said = sentences(meeting.club, rows)
    return [PlaceLine(place, said[place.pk], kept.get(place.key)) for place in rows]


def sentences(club: Club, places: Iterable[MeetingPlace]) -> dict[int, str]:
    """What to say at each place: number of the place -> one sentence."""
    habits = habits_of(club)
    found: dict[tuple[str, Station], str] = {}
    said: dict[int, str] = {}
    for place in places:
        if place.thing is None:
            said[place.pk] = rest_words()
            continue
        key = (place.pupil.name, Station(place.thing.station))
        if key not in found:
            own = attempts_in(habits.get(key[0], ()))
            advice = station_advice([each for each in own if each.station is key[1]])
            found[key] = station_words(key[1], advice)
        said[place.pk] = found[key]
    return said


def read_places(
    post: Mapping[str, str], meeting: Meeting, lines: Iterable[PlaceLine]
) -> list[PlaceResult]:
    """What was typed in ``estimate-PLACE``, if anything; a line that cannot be kept says why."""
    pair_of = pair_of_each(meeting.club)
    results = []
    for line in lines:
        place = line.place
        line.typed = post.get(f"estimate-{place.pk}", "").strip()
        if not line.typed or place.thing is None:
            continue
        try:
            attempt = typed_attempt(place.pupil, {"estimate": line.typed}, place.thing, meeting.day)
            results.append(PlaceResult(place, attempt, pair_of.get(place.pupil_id)))
        except NearmarkError as refusal:
            line.refusal = row_refusal(refusal)
    return results
