"""Heats: the plan, who is here, and the clock."""
