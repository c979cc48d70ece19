"""Names that a template of the site asks for and nobody gave: Django shows nothing there.

python tools/missing_names.py FILE serve ...    ``nearmark serve`` that adds each of them to FILE

A password or PIN is hashed in a moment there: the tests sign in too often for a slow hash.
"""

import sys
from collections.abc import Callable
from pathlib import Path

from django.contrib.auth.hashers import PBKDF2PasswordHasher
from django.template import Context
from django.template.base import Variable, VariableDoesNotExist

import nearmark.site
from nearmark.cli.main import main

TEMPLATES = Path(nearmark.site.__file__).parent / "templates"


def noting_resolve(note: Callable[[str], None]) -> Callable[[Variable, Context], object]:
    """``Variable.resolve`` that notes what it does not find, and the template and page it is in.

    It does not raise: the tag ``if`` would take that for "no".  Templates of Django itself may ask
    for what is not there.
    """
    resolve = Variable.resolve

    def resolve_or_note(self: Variable, context: Context) -> object:
        try:
            return resolve(self, context)
        except VariableDoesNotExist:
            template, page = context.render_context.template, context.template
            file = Path(template.origin.name if template else "")
            if TEMPLATES in file.parents:
                note(f"{page and page.name}, {file.relative_to(TEMPLATES)}: {self.var}")
            raise

    return resolve_or_note


def _serve(file: Path, *words: str) -> None:
    def note(words: str) -> None:
        with file.open("a", encoding="utf-8") as notes:
            notes.write(f"{words}\n")

    setattr(Variable, "resolve", noting_resolve(note))  # noqa: B010 - mypy: only for a test
    PBKDF2PasswordHasher.iterations = 1000
    main(words)


if __name__ == "__main__":
    _serve(Path(sys.argv[1]), *sys.argv[2:])
