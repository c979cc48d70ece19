"""How the sealed score tables are read, and how near two totals may be."""

from nearmark.words.translation import say


def how_to_read() -> tuple[str, ...]:
    """What a person does with a score table."""
    return (
        say("Open the tables with the key sheet, in front of witnesses, when all answers are in."),
        say(
            "Find the accepted answer of the pair: on the left if it is the true value or less, on "
            "the right if it is more. Copy the bold number of that line into the form."
        ),
        say(
            "A dash between two answers means both of them and every answer between them; ≥ means "
            "this answer and every larger one."
        ),
    )


def weight_is_in(item: str, times: str) -> str:
    """True of an item whose points count more or less than once.

    >>> weight_is_in("C1", "1.5")
    'C1 counts 1.5 times: its weight is in the bold number'
    """
    return say(
        "{item} counts {times} times: its weight is in the bold number",
        item=item,
        times=times,
    )


def nearest_totals(points: str) -> str:
    """True of tables whose points are rounded: below this difference an order is unsure.

    >>> nearest_totals("0.35").partition(".")[0]
    'Points are rounded'
    """
    return say(
        "Points are rounded. Two totals that differ by less than {points} may be in the wrong "
        "order: work out both pairs again with all decimals, by the formula on the tally form.",
        points=points,
    )


def true_value(value: str, unit: str) -> str:
    """The true value that a table belongs to."""
    return say("True value {value} {unit}", value=value, unit=unit)


def no_table_yet(items: str) -> str:
    """True of items that have no true value yet."""
    return say("No table yet, for no true value is known: {items}.", items=items)
