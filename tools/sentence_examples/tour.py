"""What the tour of the invented event says."""

from nearmark.words import tour
from sentence_examples.facts import Examples


def tour_said() -> Examples:
    """Every step, before and after the release."""
    return {
        say: list(tour.TourStep)
        for say in (tour.tour_title, tour.tour_look, tour.tour_task, tour.tour_task_released)
    }
