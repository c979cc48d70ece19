"""The pages: each parses, calls an act or the core, and shows."""
