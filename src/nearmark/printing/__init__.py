"""Templates to PDF: certificates, key sheet, standings, feedback."""

from nearmark.printing.certificate import certificate_pdf, event_certificate_pdf
from nearmark.printing.feedback import feedback_pdf
from nearmark.printing.key_sheet import key_sheet_pdf
from nearmark.printing.readings import ReadingsTable, item_readings
from nearmark.printing.standings import standings_pdf

__all__ = [
    "ReadingsTable",
    "certificate_pdf",
    "event_certificate_pdf",
    "feedback_pdf",
    "item_readings",
    "key_sheet_pdf",
    "standings_pdf",
]
