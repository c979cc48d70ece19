"""The day planned with numbers: what-if questions about places, helpers, minutes and rooms."""
