"""The command line: a twin of the library."""

from nearmark.cli.main import main

__all__ = ["main"]
