"""The day of the event: overview, settings, papers; its parts have folders of their own."""
