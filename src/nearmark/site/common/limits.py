"""Limits of what the site takes in at once."""

MAX_UPLOAD_BYTES = 20_000_000
FORM_BYTES = 100_000
"""Around the files of an upload: boundaries, names of fields, short texts."""
