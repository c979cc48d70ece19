"""What a rule set is called, and what each station asks."""

from typing import Final

from nearmark.contest.rules import RuleSet
from nearmark.station import Station
from nearmark.words.translation import message, say

_QUESTIONS: Final = {
    Station.MASS: message("Mass in the cup, without the cup, in g"),
    Station.COUNT: message("How many pieces?"),
    Station.VOLUME: message("What volume, in cm³?"),
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


def question(station: Station) -> str:
    """What is asked of one thing, with the unit of the answer where it is not plain."""
    return say(_QUESTIONS[station])
