"""Letters to schools and families, with blanks for what only the school knows."""

from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.kit.own_material import care_of
from nearmark.printing.school_lists import School, schools_of
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes
from nearmark.printing.words import day_text, wrappable
from nearmark.words.cautions import allergen_words, local_rules_words
from nearmark.words.day_roles import day_texts
from nearmark.words.letters import (
    LetterPart,
    allergens_held,
    day_and_place,
    expected_at_school,
    letter_heading,
    letter_lines,
    letter_texts,
    materials_in_the_room,
    materials_unknown,
    never_taste,
    not_in_catalogue,
    raw_pulses,
)
from nearmark.words.numbers import capital


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One part of a letter."""

    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SchoolLetter:
    """The letter to one school, with its pairs."""

    expected: str
    school: School


@dataclass(frozen=True, slots=True)
class LettersView:
    """All letters of one kind, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    columns: dict[str, str]
    paragraphs: tuple[Paragraph, ...]
    schools: tuple[SchoolLetter, ...]  # none in a letter to families
    has_times: bool
    names: bool


def school_letters_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set a letter to each school. Raises InputError if there are no pairs."""
    schools = tuple(
        SchoolLetter(expected_at_school(school.n_pairs), school)
        for school in schools_of(event, wishes)
    )
    return _set("school_letter", "school", event, wishes, schools)


def family_letter_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set the letter to families: one, to be copied."""
    return _set("family_letter", "family", event, wishes, ())


def _set(
    template: str, kind: str, event: Event, wishes: Wishes, schools: tuple[SchoolLetter, ...]
) -> bytes:
    view = LettersView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=letter_texts(),
        columns=day_texts(),
        paragraphs=tuple(
            Paragraph(letter_heading(part), _lines(kind, part, event)) for part in LetterPart
        ),
        schools=schools,
        has_times=wishes.start is not None,
        names=wishes.names,
    )
    return typeset(template, view, day=event.day, paper=wishes.paper, large=wishes.large)


def _lines(kind: str, part: LetterPart, event: Event) -> tuple[str, ...]:
    if part is LetterPart.ALLERGENS:
        return allergen_lines(event)
    said = letter_lines(kind, part)
    if part is LetterPart.WHEN:
        venue = wrappable(event.venue, 120)
        return day_and_place(wrappable(event.name, 120), day_text(event.day), venue), *said
    return said


def allergen_lines(event: Event) -> tuple[str, ...]:
    """Which materials are in the room, and their cautions: allergens, and what is not known."""
    if not event.materials:
        return materials_unknown(), never_taste(), local_rules_words()
    names = ", ".join(wrappable(m.name, 60) for m in event.materials)
    own = dict.fromkeys(f"{capital(c).rstrip('.')}." for m in event.materials for c in m.cautions)
    care = {m.name: care_of(m.code, m.name) for m in event.materials}
    allergens = dict.fromkeys(a for each in care.values() for a in each.allergens)
    strange = [wrappable(name, 60) for name, each in care.items() if not each.in_catalogue]
    return (
        materials_in_the_room(names),
        *((allergens_held(", ".join(map(allergen_words, allergens))),) if allergens else ()),
        *((raw_pulses(),) if any(each.raw_pulse for each in care.values()) else ()),
        *((wrappable(" ".join(own), 600),) if own else ()),
        *((not_in_catalogue(", ".join(strange)),) if strange else ()),
        never_taste(),
        local_rules_words(),
    )
