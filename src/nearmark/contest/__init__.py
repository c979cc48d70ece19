"""Rules, scoring, standings, rank confidence, key check and paper audit of one event."""
