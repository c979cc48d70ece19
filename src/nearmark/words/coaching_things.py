"""Whether a thing is still good for practice, in words."""

from nearmark.coaching.seen_truth import KnownThing
from nearmark.words.numbers import both
from nearmark.words.translation import say


def known_words(known: KnownThing) -> str:
    """How many know the true value of a thing.

    >>> from nearmark.station import Station
    >>> from nearmark.coaching.seen_truth import Thing
    >>> beans = Thing(Station.COUNT, "small", "beans", 420)
    >>> known_words(KnownThing(beans, (), 6)), known_words(KnownThing(beans, ("Ada",), 6))
    ('nobody knows its true value', '1 of 6 knows its true value')
    """
    n = len(known.pupils)
    if n == 0:
        return say("nobody knows its true value")
    if n == 1:
        return say("1 of {all} knows its true value", all=known.n_asked)
    return say("{n} of {all} know its true value", n=n, all=known.n_asked)


def warning_words(known: KnownThing) -> str:
    """A warning before a round with a thing that some know; empty when it is fresh for all.

    >>> from nearmark.station import Station
    >>> from nearmark.coaching.seen_truth import Thing
    >>> beans = Thing(Station.COUNT, "small", "beans", 420)
    >>> warning_words(KnownThing(beans, ("Ada", "Bo"), 6))
    'Ada and Bo have seen its true value: their answers are kept, and count for nothing.'
    """
    if not known.pupils:
        return ""
    who = both(known.pupils)
    if len(known.pupils) == 1:
        return say(
            "{who} has seen its true value: the answer is kept, and counts for nothing.", who=who
        )
    return say(
        "{who} have seen its true value: their answers are kept, and count for nothing.", who=who
    )
