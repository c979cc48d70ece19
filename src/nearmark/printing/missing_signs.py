"""Which names of an event do not print with the fonts in use."""

from collections.abc import Iterator
from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.printing.fonts_in_use import unprintable
from nearmark.words.missing_signs import NameOf, does_not_print, name_of


@dataclass(frozen=True, slots=True)
class MissingSigns:
    """One name that does not print whole."""

    what: NameOf
    name: str
    signs: str  # that no font has

    @property
    def words(self) -> str:
        """The same in a sentence."""
        return does_not_print(name_of(self.what), self.name, ", ".join(self.signs))


def missing_signs(event: Event, *, names: bool) -> tuple[MissingSigns, ...]:
    """Every name that would not print, each once; empty when all print.

    ``names``: whether children's names are printed.
    """
    found = dict.fromkeys(_named(event, names=names))
    bad = unprintable(word for _, name in found for word in name.split())
    return tuple(
        MissingSigns(what, name, "".join(dict.fromkeys("".join(signs))))
        for what, name in found
        if (signs := [bad[word] for word in name.split() if word in bad])
    )


def _named(event: Event, *, names: bool) -> Iterator[tuple[NameOf, str]]:
    yield NameOf.EVENT, event.name
    yield NameOf.VENUE, event.venue
    for item in event.items:
        yield NameOf.ITEM, item.name
    for material in event.materials:
        yield NameOf.MATERIAL, material.name
    for division in event.divisions:
        yield NameOf.DIVISION, division.name
    for pair in event.pairs:
        yield NameOf.SCHOOL, pair.school
        if names:
            for member in pair.members:
                yield NameOf.CHILD, member
