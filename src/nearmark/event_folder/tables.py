"""Every CSV file of an event folder, defined once for reading, writing and the docs."""

from typing import Any

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    BoxReading,
    Closing,
    ContainerWeighing,
    CountedSample,
    Cup,
    Division,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    Room,
    SamplesFrom,
    Side,
)
from nearmark.contest.heat_program.frame import MAX_HEATS
from nearmark.contest.heat_wish import HeatWish
from nearmark.event_folder.kinds import NAME, TEXT, TEXTS, TIME, YES, choice, measure, whole
from nearmark.event_folder.table import Column, Definition, Reference, Table
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.station import Station

_SCALE = Reference("instrument", "g")
_RULER = Reference("instrument", "cm")
_COUNTED = Reference("item", "count")


def _pair(*cells: str) -> Pair:
    code, school, first, second, status, heat, room, division = cells
    members = (first, second) if second else (first,)
    return Pair(code, school, members, PairStatus(status), heat, room, division)


def _pair_cells(pair: Pair) -> tuple[str, ...]:
    first, second = (*pair.members, "", "")[:2]
    return (
        *(pair.code, pair.school, first, second),
        *(pair.status, pair.heat, pair.room, pair.division),
    )


def _status_agrees(
    reading: AnswerReading | Adjudication | AuditReading,
) -> tuple[str, str, str] | None:
    if reading.status is AnswerStatus.ANSWERED and reading.value is None:
        return "value", "is empty although the status is answered", "Write the number or blank"
    if reading.status is not AnswerStatus.ANSWERED and reading.value is not None:
        return (
            "value",
            f"holds a number although the status is {reading.status}",
            "Empty the cell, or write answered as the status",
        )
    return None


def _item_of(*cells: Any) -> Item:  # noqa: ANN401 - a cell is what its column says
    code, station, name, material, weight, samples_from, *box, mixing_u, divisions = cells
    faces = BoxFaces(*box)
    return Item(code, station, name, material, weight, samples_from, faces, mixing_u, divisions)


def _item_cells(item: Item) -> tuple[Any, ...]:
    known = (item.code, item.station, item.name, item.material, item.weight, item.samples_from)
    box = (item.box.faces, item.box.wall_cm, item.box.bulge_cm)
    return (*known, *box, item.mixing_u, item.divisions)


def _fits_station(item: Item) -> tuple[str, str, str] | None:
    """Containers have samples, boxes have faces; a wall is taken off what was read outside."""
    if item.samples_from and item.station is not Station.COUNT:
        return "samples_from", "is given although nothing is counted here", "Empty the cell"
    if item.mixing_u is not None and item.station is not Station.COUNT:
        return "mixing_u", "is given although nothing is counted here", "Empty the cell"
    given = next(item.box.stated(), "")
    if given and item.station is not Station.VOLUME:
        return given, "is given although this is no box", "Empty the cell"
    if item.box.misplaced_wall:
        mend = "Write outside as the faces, or empty the cell"
        return "wall_cm", "is given although the box was not read outside", mend
    return None


def _has_its_places(room: Room) -> tuple[str, str, str] | None:
    if room.accessible_places is not None and room.accessible_places > room.places:
        what = f"is more than the {room.places} places of the room"
        return "accessible_places", what, "Count the places once more"
    return None


def _asks_something(wish: HeatWish) -> tuple[str, str, str] | None:
    if wish == HeatWish(wish.who):
        return "who", "asks for nothing", "Fill one more cell of the row, or remove the row"
    if wish.earliest and wish.latest and wish.earliest >= wish.latest:
        what = f"is not after the earliest time, {wish.earliest:%H:%M}"
        return "latest", what, "Look at both times once more"
    return None


def _weighs_something(row: ContainerWeighing) -> tuple[str, str, str] | None:
    if row.gross_g is None and row.tare_g is None:
        return "gross_g", "is empty, and so is tare_g", "Write what the scale showed"
    return None


def _item(about: str, refers: Reference = Reference("item")) -> Column:  # noqa: B008 - frozen
    return Column("item", NAME, about, refers=refers)


def _answer_tail() -> tuple[Column, ...]:
    return (
        Column("status", choice(AnswerStatus), "answered, blank or illegible"),
        Column(
            "value",
            measure(zero_allowed=True),
            "pieces or cm3 as written; at the mass station the gross mass in g",
            empty=None,
        ),
        Column(
            "cup",
            TEXT,
            "number of the cup handed in, or the name of its batch; only at the mass station",
            empty="",
            refers=Reference("cup"),
        ),
    )


MATERIALS = Table(
    "materials.csv",
    "materials",
    (
        Column("code", NAME, "short code of the material"),
        Column("name", NAME, "what it is"),
        Column(
            "piece_cv",
            measure(zero_allowed=True),
            "coefficient of variation of the piece mass (0.1 is 10 %), when known from elsewhere",
            empty=None,
        ),
        Column(
            "moisture_u",
            measure(zero_allowed=True),
            "allowance for moisture or dust, relative standard uncertainty (0.001 is 0.1 %)",
            empty=Material.__dataclass_fields__["moisture_u"].default,
        ),
        Column("cautions", TEXTS, "cautions, a bar between two of them", empty=()),
    ),
    Material,
    key=("code",),
    defines=Definition("material", "code"),
)

DIVISIONS = Table(
    "divisions.csv",
    "divisions",
    (
        Column("name", NAME, "name of the division"),
        Column(
            "awarded_places",
            whole(0, 1_000),
            "places that get an award; empty: 3",
            empty=Division.__dataclass_fields__["awarded_places"].default,
        ),
    ),
    Division,
    key=("name",),
    defines=Definition("division", "name"),
    only_if_used=True,
)

ROOMS = Table(
    "rooms.csv",
    "rooms",
    (
        Column("name", NAME, "name of the room"),
        Column("places", whole(1, 1_000), "pairs at a time"),
        Column(
            "accessible_places",
            whole(0, 1_000),
            "of these, how many somebody in a wheelchair reaches; empty: all",
            empty=None,
        ),
    ),
    Room,
    key=("name",),
    defines=Definition("room", "name"),
    only_if_used=True,
    check=_has_its_places,
)

ITEMS = Table(
    "items.csv",
    "items",
    (
        Column("code", NAME, "code on the label and the answer sheet"),
        Column("station", choice(Station), "mass, count or volume"),
        Column("name", NAME, "what it is"),
        Column(
            "material",
            TEXT,
            "code of the material; empty for a box",
            empty="",
            refers=Reference("material"),
        ),
        Column("weight", measure(), "weight in the total; empty: the station's", empty=None),
        Column(
            "samples_from",
            choice(SamplesFrom),
            "lot or container: where the counted samples came from; empty: the lot",
            empty=None,
        ),
        Column(
            "faces",
            choice(Faces),
            "inside or outside: the faces a box was read between; empty: not stated",
            empty=None,
        ),
        Column(
            "wall_cm",
            measure(),
            "thickness of one wall in cm, of a box read outside whose inner volume is asked for",
            empty=None,
        ),
        Column(
            "bulge_cm",
            measure(),
            "what a side may be off in cm because faces of the box bulge; empty: nothing",
            empty=None,
        ),
        Column(
            "mixing_u",
            measure(zero_allowed=True),
            "what all samples share because the lot was not mixed (0.02 is 2 %); empty: not stated",
            empty=None,
        ),
        Column(
            "divisions",
            TEXTS,
            "divisions whose pairs estimate it, a bar between two of them; empty: every pair",
            empty=(),
            refers=Reference("division"),
            only_if_used=True,
        ),
    ),
    _item_of,
    key=("code",),
    check=_fits_station,
    defines=Definition("item", "code", "station"),
    required=True,
    take=_item_cells,
)

CUPS = Table(
    "cups.csv",
    "cups",
    (
        Column("number", NAME, "written on the cup"),
        Column("tare_g", measure(zero_allowed=True), "mass of the empty cup in g"),
        Column("instrument", NAME, "name of the scale", refers=_SCALE),
        Column("batch", TEXT, "cups of one batch are alike; empty: a cup of its own", empty=""),
    ),
    Cup,
    key=("number",),
    defines=Definition("cup", "number", also="batch"),
)

PAIRS = Table(
    "pairs.csv",
    "pairs",
    (
        Column("code", NAME, "code of the pair"),
        Column("school", NAME, "school"),
        Column("member_1", NAME, "first child"),
        Column("member_2", TEXT, "second child; empty when one child takes part alone", empty=""),
        Column(
            "status",
            choice(PairStatus),
            "entered, absent, guest or withdrawn; empty: entered",
            empty=PairStatus.ENTERED,
        ),
        Column("heat", TEXT, "heat; empty until scheduled", empty=""),
        Column(
            "room",
            TEXT,
            "room; empty until scheduled",
            empty="",
            refers=Reference("room"),
            only_if_used=True,
        ),
        Column(
            "division",
            TEXT,
            "division; empty: in none",
            empty="",
            refers=Reference("division"),
            only_if_used=True,
        ),
    ),
    _pair,
    key=("code",),
    defines=Definition("pair", "code", owner="school"),
    required=True,
    take=_pair_cells,
)

HEAT_WISHES = Table(
    "heat_wishes.csv",
    "heat_wishes",
    (
        Column(
            "who", NAME, "code of a pair, or name of a school", refers=Reference("pair or school")
        ),
        Column("earliest", TIME, "their heat starts at this time or later", empty=None),
        Column("latest", TIME, "their heat is over by this time", empty=None),
        Column("heat", whole(1, MAX_HEATS), "number of the heat they are in", empty=None),
        Column("room", TEXT, "room they are in", empty="", refers=Reference("room")),
        Column("together", TEXT, "name of a group; all who name it go in one heat", empty=""),
        Column("apart", TEXT, "name of a group; no two who name it go in one heat", empty=""),
        Column(
            "needs_accessible",
            YES,
            "yes: each of their pairs needs an accessible place",
            empty=False,
        ),
        Column(
            "coach",
            TEXT,
            "coach of the school; all schools of one coach go in one room and in heats that follow",
            empty="",
        ),
    ),
    HeatWish,
    only_if_used=True,
    check=_asks_something,
)

SAMPLES = Table(
    "counted_samples.csv",
    "samples",
    (
        _item("code of the item the pieces belong to", _COUNTED),
        Column("pieces", whole(1), "pieces counted"),
        Column("mass_g", measure(), "net mass of those pieces in g"),
        Column("instrument", NAME, "name of the scale", refers=_SCALE),
    ),
    CountedSample,
)

CONTAINERS = Table(
    "container_weighings.csv",
    "containers",
    (
        _item("code of the item", _COUNTED),
        Column(
            "gross_g",
            measure(),
            "mass of the filled container in g; empty: not in this row",
            empty=None,
        ),
        Column(
            "tare_g",
            measure(zero_allowed=True),
            "mass of the empty container in g; empty: not in this row",
            empty=None,
        ),
        Column("instrument", NAME, "name of the scale", refers=_SCALE),
    ),
    ContainerWeighing,
    check=_weighs_something,
)

HAND_COUNTS = Table(
    "hand_counts.csv",
    "hand_counts",
    (
        _item("code of the item", _COUNTED),
        Column("pieces", whole(0), "pieces counted, all of them"),
        Column("counter", NAME, "who counted"),
    ),
    HandCount,
)

BOX_READINGS = Table(
    "box_readings.csv",
    "box_readings",
    (
        _item("code of the box", Reference("item", "volume")),
        Column("side", choice(Side), "length, width or height"),
        Column("reading_cm", measure(), "one reading in cm"),
        Column("instrument", NAME, "name of the ruler", refers=_RULER),
    ),
    BoxReading,
)

ANSWERS = Table(
    "answers.csv",
    "answers",
    (
        Column("pair", NAME, "code of the pair", refers=Reference("pair")),
        _item("code of the item"),
        Column(
            "reading",
            whole(1, 2, above="A third reading belongs in adjudications.csv"),
            "1 or 2: first or second blind reading",
        ),
        Column("clerk", NAME, "who read it"),
        *_answer_tail(),
        Column(
            "scale",
            TEXT,
            "name of the scale that showed the gross mass; empty: the scale of the cup's tare",
            empty="",
            refers=_SCALE,
        ),
    ),
    AnswerReading,
    key=("pair", "item", "reading"),
    check=_status_agrees,
)

ADJUDICATIONS = Table(
    "adjudications.csv",
    "adjudications",
    (
        Column("pair", NAME, "code of the pair", refers=Reference("pair")),
        _item("code of the item"),
        Column("clerk", NAME, "who read the paper a third time"),
        *_answer_tail(),
        Column("reason", NAME, "why this reading holds"),
    ),
    Adjudication,
    key=("pair", "item"),
    check=_status_agrees,
)

KEY_DECISIONS = Table(
    "key_decisions.csv",
    "key_decisions",
    (
        _item("code of the item"),
        Column(
            "value",
            measure(),
            "the key to use in pieces, cm3 or g; empty: the measured value is used though not fit",
            empty=None,
        ),
        Column("by", NAME, "who decided"),
        Column("reason", NAME, "why"),
    ),
    KeyDecision,
    key=("item",),
)

AUDIT_READINGS = Table(
    "audit_readings.csv",
    "audit_readings",
    (
        Column("pair", NAME, "code of the pair", refers=Reference("pair")),
        _item("code of the item"),
        Column("clerk", NAME, "who read the paper again, without sight of what was typed"),
        *_answer_tail(),
    ),
    AuditReading,
    key=("pair", "item"),
    check=_status_agrees,
)

CLOSINGS = Table(
    "closings.csv",
    "closings",
    (
        Column("point", NAME, "id of the open point, as nearmark check --json prints it"),
        Column("by", NAME, "who closed it"),
        Column("reason", NAME, "why"),
    ),
    Closing,
    key=("point",),
)

TABLES = (
    MATERIALS,
    DIVISIONS,
    ROOMS,
    ITEMS,
    CUPS,
    PAIRS,
    HEAT_WISHES,
    SAMPLES,
    CONTAINERS,
    HAND_COUNTS,
    BOX_READINGS,
    ANSWERS,
    ADJUDICATIONS,
    KEY_DECISIONS,
    AUDIT_READINGS,
    CLOSINGS,
)
"""In reading order: a file is after every file it names something of."""
