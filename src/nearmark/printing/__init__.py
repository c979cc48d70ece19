"""Templates to PDF: certificates, key sheet, standings, feedback, paper of day and season."""

from nearmark.printing.answer_sheets import answer_sheets_pdf, spare_sheet_pdf
from nearmark.printing.bag_labels import bag_labels_pdf
from nearmark.printing.certificate import event_certificate_pdf
from nearmark.printing.check_in_list import check_in_list_pdf
from nearmark.printing.cup_numbers import cup_numbers_pdf
from nearmark.printing.feedback import feedback_pdf
from nearmark.printing.home_sheet import Hand, home_sheet_pdf
from nearmark.printing.key_sheet import key_sheet_pdf
from nearmark.printing.labels import labels_pdf
from nearmark.printing.meeting_sheet import MeetingSheet, SheetChild, meeting_sheet_pdf
from nearmark.printing.pair_story import PairStory, StoryItem, StoryLine, pair_story_pdf
from nearmark.printing.readings import item_readings
from nearmark.printing.score_tables import score_tables_pdf
from nearmark.printing.season_certificate import season_certificates_pdf
from nearmark.printing.standings import standings_pdf
from nearmark.printing.station_rules import station_rules_pdf
from nearmark.printing.tally_form import tally_form_pdf

__all__ = [
    "Hand",
    "MeetingSheet",
    "PairStory",
    "SheetChild",
    "StoryItem",
    "StoryLine",
    "answer_sheets_pdf",
    "bag_labels_pdf",
    "check_in_list_pdf",
    "cup_numbers_pdf",
    "event_certificate_pdf",
    "feedback_pdf",
    "home_sheet_pdf",
    "item_readings",
    "key_sheet_pdf",
    "labels_pdf",
    "meeting_sheet_pdf",
    "pair_story_pdf",
    "score_tables_pdf",
    "season_certificates_pdf",
    "spare_sheet_pdf",
    "standings_pdf",
    "station_rules_pdf",
    "tally_form_pdf",
]
