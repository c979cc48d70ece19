"""The FOLDER argument of the commands that read an event."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click


def folder_argument(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add the event folder as an argument; the reader says what is wrong with it."""
    return click.argument("folder", type=click.Path(path_type=Path))(function)
