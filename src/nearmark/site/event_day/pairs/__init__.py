"""Pairs and schools: adding, changing, importing."""
