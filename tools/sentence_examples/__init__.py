"""Example facts for every sentence: what ``list_sentences`` and the tests say with them."""

from collections.abc import Callable
from dataclasses import astuple, is_dataclass
from typing import Any, NamedTuple

from sentence_examples import (
    answers,
    coaching,
    day,
    desk,
    divisions,
    event_rooms,
    heat_plans,
    keys,
    kit,
    kit_advice,
    kit_plans,
    material,
    meetings,
    next_event,
    pages,
    papers,
    places,
    public,
    rooms,
    tour,
)


class Example(NamedTuple):
    """One call of a function of ``nearmark.words``."""

    say: Callable[..., Any]
    facts: tuple[Any, ...]

    @property
    def text(self) -> str:
        """The sentence; phrases that are shown apart, with a stroke between."""
        said = self.say(*self.facts)
        if is_dataclass(said) and not isinstance(said, type):
            said = _flat(astuple(said))
        return said if isinstance(said, str) else " / ".join(said)


def _flat(parts: tuple[Any, ...]) -> tuple[str, ...]:
    """Phrases, those in tuples too."""
    return tuple(text for part in parts for text in (part if isinstance(part, tuple) else (part,)))


def examples() -> list[Example]:
    """Every sentence at least once."""
    tables = (
        answers.numbers_said(),
        answers.answers_said(),
        answers.slips_said(),
        answers.doubts_said(),
        keys.keys_said(),
        keys.key_check_said(),
        keys.next_step_said(),
        places.open_points_said(),
        places.paper_audit_said(),
        places.place_changes_said(),
        places.heats_said(),
        heat_plans.heat_plans_said(),
        places.proofs_said(),
        places.standings_said(),
        divisions.divisions_said(),
        divisions.awards_said(),
        kit.odd_readings_said(),
        kit.key_remarks_said(),
        kit_advice.acts_said(),
        kit_advice.key_advice_said(),
        kit_advice.budget_notes_said(),
        kit_plans.kit_plans_said(),
        pages.deviations_said(),
        pages.answer_advice_said(),
        pages.replies_said(),
        pages.rules_said(),
        papers.hand_scoring_said(),
        papers.day_papers_said(),
        papers.letters_said(),
        papers.award_papers_said(),
        public.feedback_page_said(),
        public.public_said(),
        public.season_papers_said(),
        public.day_sheets_said(),
        coaching.sides_said(),
        coaching.home_tasks_said(),
        coaching.lean_said(),
        coaching.steps_said(),
        coaching.advice_said(),
        coaching.habits_said(),
        coaching.pairs_said(),
        coaching.jars_said(),
        coaching.things_said(),
        coaching.progress_said(),
        coaching.ladder_said(),
        coaching.child_said(),
        coaching.measuring_said(),
        meetings.meeting_said(),
        rooms.room_said(),
        day.day_flow_said(),
        day.day_changes_said(),
        day.day_course_said(),
        day.day_steps_said(),
        event_rooms.event_rooms_said(),
        desk.desk_said(),
        material.material_said(),
        next_event.next_event_said(),
        tour.tour_said(),
    )
    return [
        Example(say, facts if isinstance(facts, tuple) else (facts,))
        for table in tables
        for say, rows in table.items()
        for facts in rows
    ]
