"""Templates to PDF: certificates, key sheet, standings, feedback."""
