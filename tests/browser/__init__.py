"""Tests with a real browser; a package, so that one browser serves them all."""
