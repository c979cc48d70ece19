"""A whole event as readable files: TOML and CSV, read with row-exact errors."""

from nearmark.event_folder.reader import read_event
from nearmark.event_folder.results_export import export_results
from nearmark.event_folder.writer import write_event

__all__ = ["export_results", "read_event", "write_event"]
