"""What is said of the event before, to those who plan the next."""

from decimal import Decimal

from nearmark.contest.next_event import EventFigures
from nearmark.words import next_event
from sentence_examples.facts import Examples


def next_event_said() -> Examples:
    """Last time's figures."""
    full = EventFigures(46, 3, 12, (12, 12, 11, 11), 46, Decimal(108), Decimal(171), ())
    return {
        next_event.near_words: [()],
        next_event.figures_sentences: [full, EventFigures(1, 0, 1, (1,), 0, None, None, ())],
    }
