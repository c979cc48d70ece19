"""Answers and cups: entry, weigh-in, differences."""
