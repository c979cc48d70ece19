"""Readings of the kit."""

from decimal import Decimal

from nearmark.kit import hand_count
from nearmark.kit.box_faces import Faces
from nearmark.kit.drawn_check import DrawnCheck, Stated
from nearmark.kit.key_warnings import (
    CountsDisagree,
    FarFromOthers,
    LargeBox,
    LongSide,
    ManyPieces,
    OffGrid,
    PiecesVary,
    SamplesAllAgree,
    SidesReadOnce,
    SkewCorner,
)
from nearmark.kit.odd_records import (
    BoxSlip,
    DishLeftOn,
    FullNotHeavier,
    MassDiffers,
    OddCup,
    OddSample,
    OddSide,
    OddSpread,
    OddVolume,
    OtherCount,
    OtherSample,
    SideDiffers,
)
from nearmark.kit.usual import UsualPiece
from nearmark.measurement.slips import Meant, SlipKind
from nearmark.words import key_remarks, odd_readings
from sentence_examples.facts import UNFIT, Examples

FAR_APART = hand_count([412, 421])
POINT = Meant(SlipKind.POINT, Decimal("8.6"))
INCHES = Meant(SlipKind.INCHES, Decimal("16.3"))


def odd_readings_said() -> Examples:
    """Odd readings."""
    usual = UsualPiece(0.19, 0.13, 0.1)
    before = UsualPiece(0.19, 0.13, 0.1, ("J1",))

    def sample(beside: OtherSample | UsualPiece, mass_g: str = "18.91") -> OddSample:
        return OddSample(75, Decimal(mass_g), beside, None)

    spreads = [
        OddSpread(0.0015, 0.1, is_of_catalogue=of, meant=0.15 if of else None)
        for of in (True, False)
    ]
    swapped = FullNotHeavier(Decimal("212.4"), Decimal("712.4"))
    masses = [MassDiffers(full, Decimal(42), Decimal(24), None) for full in (True, False)]
    cups = [OddCup(Decimal(86), other, 1.5, 60.0, None) for other in (Decimal("8.6"), None)]
    sides = [OddSide(edge, Decimal(98), 1.0, 60.0, None) for edge in ("length", "width", "height")]
    slips = (None, INCHES, *reversed(Faces), "length", "width", "height")
    read = [SideDiffers("length", Decimal("6.4"), Decimal("16.3"), slip) for slip in slips]
    boxes = [OddVolume(101.0, 200.0, 8000.0, slip, 1660.0) for slip in (None, *BoxSlip)]
    return {
        odd_readings.ratio_words: [1.33, 10.0, 0.8, 0.1],
        odd_readings.odd_sample: [sample(OtherSample(0.19)), sample(usual), sample(before)],
        odd_readings.ask_odd_sample: [
            sample(usual),
            sample(usual, "7.1"),
            sample(OtherSample(0.19, is_unusual=True)),
            sample(OtherSample(0.19)),
        ],
        odd_readings.sample_slip: [
            OtherCount(100),
            POINT,
            DishLeftOn("7", Decimal("8.6")),
            DishLeftOn("", Decimal("212.4")),
        ],
        odd_readings.odd_spread: spreads,
        odd_readings.ask_odd_spread: spreads,
        odd_readings.full_not_heavier: [swapped],
        odd_readings.ask_full_not_heavier: [swapped],
        odd_readings.mass_differs: masses,
        odd_readings.ask_mass_differs: masses[:1],
        odd_readings.odd_cup: cups,
        odd_readings.ask_odd_cup: cups[:1],
        odd_readings.odd_side: sides,
        odd_readings.ask_odd_side: sides[:1],
        odd_readings.side_differs: read[:1],
        odd_readings.ask_side_differs: read,
        odd_readings.odd_volume: boxes[:1],
        odd_readings.ask_odd_volume: boxes,
    }


def drawn(verdict: Stated) -> DrawnCheck:
    """A check by drawing."""
    return DrawnCheck((951.0, 1058.0), 200_000, 1.0, -3.0, 4.0, "pieces", 0, verdict)


def key_remarks_said() -> Examples:
    """Remarks on a key."""
    grids = [
        OffGrid("gross", 61.23, "g", 0.1, "bench scale"),
        OffGrid("length", 12.43, "cm", 0.1, "ruler", may_be_inches=True),
    ]
    return {
        key_remarks.off_grid: grids,
        key_remarks.far_from_others: [FarFromOthers("length", 14.2, "cm", 12.5)],
        key_remarks.pieces_vary: [PiecesVary(1.3)],
        key_remarks.samples_all_agree: [SamplesAllAgree()],
        key_remarks.odd_spread: [
            OddSpread(0.0015, 0.15, is_of_catalogue=False, meant=0.15),
            OddSpread(0.05, 0.15, is_of_catalogue=False, meant=None),
        ],
        key_remarks.long_side: [LongSide("length", 241.0)],
        key_remarks.large_box: [LargeBox(5_336_000.0)],
        key_remarks.sides_read_once: [SidesReadOnce()],
        key_remarks.skew_corner: [SkewCorner(10.0, 0.0152)],
        key_remarks.counts_disagree: [CountsDisagree((412, 421), 4.0, 9)],
        key_remarks.many_pieces: [ManyPieces(2000)],
        key_remarks.lack_words: [UNFIT],
        key_remarks.u_words: [UNFIT],
        key_remarks.coverage_words: [UNFIT.budget, FAR_APART.budget],
        key_remarks.points_moved: [UNFIT],
        key_remarks.drawn_words: [drawn(verdict) for verdict in Stated],
    }
