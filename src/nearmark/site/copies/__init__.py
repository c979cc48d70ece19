"""Backups, snapshots and the check of a database file."""
