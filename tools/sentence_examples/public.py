"""The fixed words of papers and of the pages for everybody."""

from nearmark.contest.event import PairStatus
from nearmark.kit.materials import ALLERGENS
from nearmark.station import Station
from nearmark.words import (
    answer_sheets,
    cautions,
    feedback_page,
    public,
    refusals,
    season_papers,
    station_rules,
)
from sentence_examples.desk import filled
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
        refusals.refusal_words: [
            *sorted(refusals.TRANSLATED),
            *map(filled, refusals.PATTERNS),
        ],
    }


_TELL = "tell families beforehand, keep it off shared surfaces and wash hands."


def season_papers_said() -> Examples:
    """What children take home."""
    sizes = ("small", "medium", "large", "")
    return {
        season_papers.practised: [(s, "") for s in Station] + [(Station.COUNT, z) for z in sizes],
        season_papers.home_sheet_words: [("Ada", "3 February 2027", "chickpeas")],
        season_papers.you_and_true: [("412", "420")],
        season_papers.certificate_words: ["Fernhollow", ""],
        season_papers.from_to: [("3 February 2027", "5 May 2027")],
        season_papers.slip_words: ["Monday"],
        season_papers.bag_words: [()],
        season_papers.about_volume: ["130"],
        season_papers.pieces_within: [("4800", 0.031)],
        cautions.caution_words: [
            *sorted(cautions.TRANSLATED),
            f"Contains or may contain milk, wheat, soybeans, peanuts, tree nuts: {_TELL}",
        ],
        cautions.local_rules_words: [()],
        cautions.as_for: ["mung beans"],
        cautions.by_its_name: [()],
        cautions.not_known: [()],
        cautions.near_codes: [("bean", "Runner beans"), ("acorn", "Acorn caps")],
    }


def day_sheets_said() -> Examples:
    """Answer sheets and the rules on the wall."""
    return {
        answer_sheets.sheet_words: [("Larkspur Valley", "a blank earns none")],
        answer_sheets.blank_earns: ["", "5"],
        answer_sheets.foot_of: [("Larkspur Valley", "P07-9", "Heat 1")],
        answer_sheets.scratch_title: ["P07-9", ""],
        answer_sheets.qr_of: ["P07-9"],
        answer_sheets.scoop_and_go: ["100 g"],
        station_rules.together_lines: [30],
        station_rules.station_headline: [(station, "100 g") for station in Station],
        station_rules.station_steps: [(station, "100 g") for station in Station],
        station_rules.forbidden_words: list(Station),
        station_rules.scoop_here: [()],
        station_rules.if_it_were: [("100", "cm³")],
        station_rules.you_act: [Station.MASS, Station.COUNT],
        station_rules.you_get: [()],
        station_rules.best_points: [("", "100"), ("5 %", "100")],
        station_rules.both_sides_alike: [()],
        station_rules.no_points: ["", "80 %"],
        station_rules.left_blank_earns: ["", "5"],
        station_rules.rules_title: ["Larkspur Valley"],
        station_rules.rules_foot: [("Larkspur Valley", "percent accuracy, version 1")],
        cautions.allergen_words: sorted(ALLERGENS),
    }
