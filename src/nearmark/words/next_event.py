"""What last time's figures say to those who plan the next event."""

from nearmark.contest.next_event import MAX_OFF_NEAR, EventFigures
from nearmark.words.numbers import percent, plural
from nearmark.words.translation import say


def near_words() -> str:
    """The heading of how many answers were near the true value."""
    return say("within {percent}", percent=percent(MAX_OFF_NEAR))


def figures_sentences(figures: EventFigures) -> tuple[str, ...]:
    """How many came, in which heats, and what was in their cups; each only if it is known."""
    said = [
        say(
            "{pairs} from {schools} took part.",
            pairs=plural(figures.n_pairs, "pair"),
            schools=plural(figures.n_schools, "school"),
        )
    ]
    if figures.n_absent:
        said.append(say("{pairs} did not take part.", pairs=plural(figures.n_absent, "pair")))
    if figures.pairs_in_heats:
        said.append(
            say(
                "{heats}. Pairs in each: {numbers}.",
                heats=plural(len(figures.pairs_in_heats), "heat"),
                numbers=", ".join(map(str, figures.pairs_in_heats)),
            )
        )
    if figures.mean_net_g is not None and figures.largest_net_g is not None:
        said.append(
            say(
                "The {cups} handed in held {mean} g on average, {largest} g at most.",
                cups=plural(figures.cups_handed_in, "cup"),
                mean=f"{figures.mean_net_g:.0f}",
                largest=f"{figures.largest_net_g:.0f}",
            )
        )
    return tuple(said)
