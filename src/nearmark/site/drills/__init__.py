"""Drills by seat code and mock contests."""
