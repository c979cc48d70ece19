"""The fixed words of papers and of the pages for everybody."""

from nearmark.contest.event import PairStatus
from nearmark.words import feedback_page, public, refusals
from sentence_examples.facts import Examples


def feedback_page_said() -> Examples:
    """The page of a pair."""
    return {
        feedback_page.feedback_words: [("Larkspur Valley", "percent accuracy, version 1")],
        feedback_page.out_of: ["500"],
        feedback_page.with_points: ["93"],
        feedback_page.no_estimate: [()],
        feedback_page.own_mark: [()],
        feedback_page.place_of: [("3rd", 49)],
        feedback_page.shared_place_of: [("3rd", 49)],
        feedback_page.not_placed: list(PairStatus),
        feedback_page.page_of_pages: [()],
    }


def public_said() -> Examples:
    """What everybody reads."""
    return {
        public.pair_title: ["P07"],
        public.release_title: [2],
        public.own_page_title: [()],
        public.closest_words: [("jar of chickpeas", "2 % low")],
        public.corrections_since: [1, 2],
        public.keys_sealed: [("2027-05-07 18:20", "1b2c 9f03")],
        public.clock_title: [()],
        public.not_started: [()],
        public.last_minutes_words: [1, 5],
        refusals.refusal_words: sorted(refusals.TRANSLATED),
    }
