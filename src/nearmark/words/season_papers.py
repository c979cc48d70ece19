"""The fixed words of what children take home: home sheet, certificate, slip, label of a bag."""

from dataclasses import dataclass
from typing import Final

from nearmark.kit import percent_text
from nearmark.station import Station
from nearmark.words.translation import message, say

_PRACTISED: Final = {
    Station.MASS: message("Scooping 100 g"),
    Station.COUNT: message("Counting by layers"),
    Station.VOLUME: message("Volume of boxes"),
}
_SIZES: Final = {
    "small": message("small"),
    "medium": message("medium"),
    "large": message("large"),
}


def practised(station: Station, size: str) -> str:
    """What is to be practised, with the size of the things where it is known.

    >>> practised(Station.COUNT, "small"), practised(Station.MASS, "")
    ('Counting by layers, small', 'Scooping 100 g')
    """
    name = say(_PRACTISED[station])
    if not size:
        return name
    return say("{what}, {size}", what=name, size=size_words(size))


def size_words(size: str) -> str:
    """A size class of things; one that Nearmark does not know stays as it is."""
    return say(_SIZES[size]) if size in _SIZES else size


@dataclass(frozen=True, slots=True)
class HomeSheetWords:
    """The fixed words of a home sheet."""

    title: str
    footer: str
    over: str
    advice: str
    practise: str
    tries: str
    legend: str
    home: str
    ruler: str
    bag: str
    care: str


def home_sheet_words(pupil: str, day: str, bag: str) -> HomeSheetWords:
    """On the sheet of a pupil; ``bag`` is the material taken home, empty for none."""
    return HomeSheetWords(
        title=say("Home sheet of {pupil}", pupil=pupil),
        footer=say("Home sheet of {pupil} · {day}", pupil=pupil, day=day),
        over=say("For the days after {day}", day=day),
        advice=say("What would bring most"),
        practise=say("Practise next"),
        tries=say("Your last tries"),
        legend=say("The tint is 90 % to 110 % of the true value; the diamond is you."),
        home=say("Three things to try at home"),
        ruler=say("Your own ruler"),
        bag=say("In your bag: {bag}, 100 g. Bring it back.", bag=bag) if bag else "",
        care=say(
            "Ask before you take things from the kitchen. Keep small pieces away from small "
            "children, and never taste raw beans or what hands have been in. Follow your local "
            "rules."
        ),
    )


def you_and_true(own: str, true: str) -> str:
    """Under one try: what was answered and what was right, with their units."""
    return say("you {own}, true {true}", own=own, true=true)


@dataclass(frozen=True, slots=True)
class CertificateWords:
    """The fixed words of a certificate of the season."""

    title: str
    footer: str
    practice: str
    headline: str
    legend: str
    day: str
    coach: str


def certificate_words(club: str) -> CertificateWords:
    """On every certificate; ``club`` may be empty."""
    return CertificateWords(
        title=say("Certificates of the season"),
        footer=(
            say("{club} · certificate of the season", club=club)
            if club
            else say("certificate of the season")
        ),
        practice=say("Practice"),
        headline=say("A season of estimating"),
        legend=say("The tint is 90 % to 110 % of the true value; the diamond is your closest try."),
        day=say("day"),
        coach=say("coach"),
    )


def from_to(first: str, last: str) -> str:
    """Two days, the first and the last of a season."""
    return say("{first} to {last}", first=first, last=last)


@dataclass(frozen=True, slots=True)
class SlipWords:
    """The fixed words of the slips of a drill."""

    title: str
    footer: str
    qr: str  # for those who cannot see the picture


def slip_words(drill: str) -> SlipWords:
    """On the page of slips."""
    return SlipWords(
        title=say("Codes for {drill}", drill=drill),
        footer=say("Cut apart · one slip a child · good for this drill only"),
        qr=say("QR code to the page for codes"),
    )


@dataclass(frozen=True, slots=True)
class BagWords:
    """The fixed words of the labels of take-home bags."""

    title: str
    footer: str
    weighed: str  # in front of a line to write on


def bag_words() -> BagWords:
    """On every label of a bag."""
    return BagWords(
        title=say("Labels of take-home bags"),
        footer=say("Take-home bags · one label on every bag"),
        weighed=say("Weighed when it came back:"),
    )


def about_volume(cm3: str) -> str:
    """The volume of the pieces in a bag."""
    return say("about {volume} cm³", volume=cm3)


def pieces_within(pieces: str, relative_u: float) -> str:
    """True of a bag or a pour: how many pieces, in as many figures as are known, at 95 %.

    >>> pieces_within("4800", 0.031)
    'about 4800 pieces, within 3.1 %'
    """
    return say(
        "about {pieces} pieces, within {within}", pieces=pieces, within=percent_text(relative_u)
    )
