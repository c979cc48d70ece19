"""Templates that one can review, and what they are given."""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

import pytest
from django.template.loader import get_template

import nearmark.site

TEMPLATES = Path(nearmark.site.__file__).parent / "templates"
SITE = TEMPLATES.parent
MAX_LINE = 120

RENDERERS = {"render", "render_to_string", "TemplateResponse", "SimpleTemplateResponse"}
TAGS = {"open_points", "post_form", "reason_form"}
"""Tags with a template of their own: Django takes a dictionary from them."""

Code = TypeVar("Code", bound=ast.AST)
FROZEN = "dataclass(frozen=True, slots=True)"


def found_in_site(kind: type[Code]) -> Iterator[tuple[str, Code]]:
    """Every piece of code of a kind, with the file it is in."""
    for file in sorted(SITE.rglob("*.py")):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for each in ast.walk(tree):
            if isinstance(each, kind):
                yield str(file.relative_to(SITE)), each


def test_no_line_is_too_long_to_be_read():
    lines = [
        f"{file.relative_to(TEMPLATES)}:{number}: {len(line)} signs"
        for file in sorted(TEMPLATES.rglob("*.html"))
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > MAX_LINE
    ]

    assert lines == []


@pytest.mark.parametrize(
    "name", sorted(str(file.relative_to(TEMPLATES)) for file in TEMPLATES.rglob("*.html"))
)
def test_a_template_loads_the_tags_and_filters_that_it_uses(name):
    """Django finds a filter that nobody loaded only when it reads the file."""
    assert get_template(name)


@pytest.mark.slow
def test_every_page_is_given_the_names_of_a_view_record():
    """mypy holds that ``names_of`` takes a dataclass; here, that nothing goes round it."""
    found = [
        f"{file}: {ast.unparse(call)}"
        for file, call in found_in_site(ast.Call)
        if ast.unparse(call.func).split(".")[-1] in RENDERERS
        and not any(ast.unparse(given).startswith("names_of(") for given in call.args)
    ]
    tags = {
        made.name
        for _, made in found_in_site(ast.FunctionDef)
        if "inclusion_tag(" in " ".join(map(ast.unparse, made.decorator_list))
    }

    assert found == []
    assert tags == TAGS


@pytest.mark.slow
def test_every_view_record_is_frozen():
    """Nobody adds a name to it on its way to the template."""
    found = [
        f"{file}: {made.name}"
        for file, made in found_in_site(ast.ClassDef)
        if made.name.endswith("View") and FROZEN not in map(ast.unparse, made.decorator_list)
    ]

    assert found == []
