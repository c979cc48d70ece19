"""The --language option of the commands that print what children, families and helpers read."""

from collections.abc import Callable
from typing import Any

import click

from nearmark.words.languages import language
from nearmark.words.translation import ENGLISH, Language


def language_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add the language of the papers; what only the lead reads stays English."""
    return click.option(
        "--language",
        "spoken",
        default=ENGLISH.code,
        metavar="CODE",
        callback=_read,
        help="Language of the papers for children and helpers (en, es).",
    )(function)


def _read(context: click.Context, option: click.Parameter, code: str) -> Language:
    del context, option
    return language(code.strip().lower())
