"""What is said of buckets, check weights, cups, costs and boxes for the car."""

from dataclasses import replace
from decimal import Decimal

from nearmark.kit.bucket_balance import BucketWeighing, CupContents, bucket_balance
from nearmark.kit.check_weight import check_weight
from nearmark.kit.purchase import Costs, cups_needed
from nearmark.kit.transport import CarBox, FilledThing, packed_boxes
from nearmark.measurement.instruments import Instrument
from nearmark.words import material
from sentence_examples.facts import Examples

_SCALE = Instrument("bench scale", "g", 0.1, gain_u=0.0005)
_FINE = Instrument("fine scale", "g", 0.01)


def material_said() -> Examples:
    """Before the first heat and after each."""
    cups = [CupContents(101.4, 0.041), CupContents(96.2, 0.041)]
    three_kg = [FilledThing("bucket", 3.0)] * 6
    return {
        material.balance_words: [
            bucket_balance([BucketWeighing(5012, after, _SCALE)], cups)
            for after in (4814.4, 4800, 4714, 4830)
        ],
        material.check_weight_words: [
            check_weight(200.1, 200, _SCALE),
            check_weight(200.3, 200, _SCALE),
            check_weight(200, 200, _FINE),
        ],
        material.refills_words: [1, 2],
        material.cups_words: [cups_needed(80)],
        material.cost_words: [
            (Costs({}, Decimal("31.5"), ()), "EUR"),
            (Costs({}, Decimal("31.5"), ("chickpeas",)), ""),
        ],
        material.transport_words: [
            packed_boxes(three_kg[:1]),
            packed_boxes(three_kg),
            packed_boxes([FilledThing("bucket", 5.5)] * 3),
            packed_boxes([*three_kg[:3], FilledThing("water butt", 18.0)]),
            packed_boxes([FilledThing("bucket", 6.0), FilledThing("bucket", 6.0)]),
            replace(packed_boxes(three_kg), min_boxes=1),
        ],
        material.box_words: [CarBox((*three_kg[:2], FilledThing("C1", 2.5)), 9.0)],
    }
