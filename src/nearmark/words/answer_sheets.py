"""The fixed words of the answer sheets."""

from dataclasses import dataclass

from nearmark.words.translation import say


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What stands on every sheet beside codes and names."""

    title: str
    pair: str
    school: str
    heat: str
    spare: str
    how: str  # the one sentence that is printed bold
    change: str
    careful: str
    desk_writes: str
    cup_number: str
    gross_mass: str
    left_blank: str
    helpers: str
    helpers_how: str
    helpers_fields: tuple[str, ...]
    not_scored: str
    front: str  # at the foot of the first side
    back: str


def sheet_words(event: str, blank: str) -> SheetWords:
    """On the sheets of an event; ``blank`` says what an answer left blank earns."""
    return SheetWords(
        title=say("Answer sheets, {event}", event=event),
        pair=say("Pair"),
        school=say("School"),
        heat=say("Heat"),
        spare=say("spare sheet: copy a whole code from the check-in list"),
        how=say("One digit in each box, the last digit in the last box."),
        change=say("To change a number, cross it all out and write the new one above the boxes."),
        careful=say(
            "A careful estimate earns points, {blank}. Hand this sheet in once.", blank=blank
        ),
        desk_writes=say("The scale desk writes here."),
        cup_number=say("cup number"),
        gross_mass=say("gross mass"),
        left_blank=say("left blank"),
        helpers=say("Helpers only"),
        helpers_how=say("initials; read blind"),
        helpers_fields=(
            say("handed in at"),
            say("scale desk"),
            say("first reading"),
            say("second reading"),
            say("third, if they differ"),
        ),
        not_scored=say("Nobody scores this side. Your answers go on the other side."),
        front=say("answers: hand in once; scratch work on the back"),
        back=say("scratch work, not scored"),
    )


def blank_earns(points: str) -> str:
    """What an answer left blank earns; without points: none."""
    if not points:
        return say("a blank earns none")
    return say("a blank earns {points}", points=points)


def foot_of(event: str, pair: str, heat: str) -> str:
    """At the foot of a sheet: whose it is."""
    return say("{event} · pair {pair} · {heat}", event=event, pair=pair, heat=heat)


def scratch_title(pair: str) -> str:
    """Above the scratch work; ``pair`` is empty on a spare sheet."""
    return say("Scratch work, pair {pair}", pair=pair) if pair else say("Scratch work")


def qr_of(pair: str) -> str:
    """What the picture on a sheet holds, for those who cannot see it."""
    return say("QR code of pair {pair}", pair=pair)


def scoop_and_go(target: str) -> str:
    """What is asked of the item of the mass station."""
    return say("Scoop {target} and take the cup to the scale desk.", target=target)
