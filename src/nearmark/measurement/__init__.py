"""Readings, uncertainty budgets, propagation and coverage; knows nothing of contests."""
