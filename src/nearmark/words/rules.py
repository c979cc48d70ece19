"""What a rule set is called, and what each station asks."""

from typing import Final

from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.station import Station
from nearmark.words.translation import message, say

_QUESTIONS: Final = {
    Station.MASS: message("Mass in the cup, without the cup, in g"),
    Station.COUNT: message("How many pieces?"),
    Station.VOLUME: message("What volume, in cm³?"),
}

_TIE_BREAKS: Final = {
    TieBreak.MASS_TOTAL: message("the points at the mass station"),
    TieBreak.COUNT_TOTAL: message("the points at the count station"),
    TieBreak.VOLUME_TOTAL: message("the points at the volume station"),
    TieBreak.WORST_ITEM: message("the score of the worst item"),
    TieBreak.ITEMS_AT_90: message("the number of items with 90 points or more"),
}

_NAMES: Final = {
    "percent accuracy": message("percent accuracy"),
    "balanced stations": message("balanced stations"),
    "beginners": message("beginners"),
}


def rules_words(rules: RuleSet) -> str:
    """The name of a rule set, as every result shows it beside its numbers.

    >>> rules_words(RuleSet())
    'percent accuracy, version 1'
    """
    name = say(_NAMES[rules.name]) if rules.name in _NAMES else rules.name
    return say("{name}, version {version}", name=name, version=rules.version)


def tie_break_words(breaker: TieBreak) -> str:
    """The figure that may separate equal totals; the larger one is better."""
    return say(_TIE_BREAKS[breaker])


def question(station: Station) -> str:
    """What is asked of one thing, with the unit of the answer where it is not plain."""
    return say(_QUESTIONS[station])
