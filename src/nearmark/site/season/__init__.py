"""Clubs, pupils, practice and what it tells."""
