"""A whole event as readable files: TOML and CSV, read with row-exact errors."""
