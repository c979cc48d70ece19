"""Readings, uncertainty budgets, drawing and coverage; knows nothing of contests."""
