"""The docstring form of the core, held by a test: meaning, unit and shape, an example that runs.

That the examples run is held by pytest's --doctest-modules.
"""

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import nearmark

CORE = ("measurement", "kit", "packing", "contest", "coaching")
BARE_NUMBER = re.compile(r"(float|int|list|tuple|sequence|array|ndarray)( of (float|int))?")
"""A type slot that says nothing the signature does not: the unit and the shape are missing."""
NUMBER = re.compile(r"\b(float|int|ndarray|NDArray|ArrayLike|Decimal|Fraction)\b")


def core_modules() -> Iterator[ModuleType]:
    for layer in CORE:
        package = importlib.import_module(f"nearmark.{layer}")
        yield package
        for module in pkgutil.walk_packages(package.__path__, f"nearmark.{layer}."):
            yield importlib.import_module(module.name)


def public_functions() -> list[Callable[..., Any]]:
    return [
        function
        for module in core_modules()
        for name, function in vars(module).items()
        if inspect.isfunction(function)
        and not name.startswith("_")
        and function.__module__ == module.__name__
    ]


def type_slots(doc: str) -> dict[str, str]:
    """Name -> type slot of the Parameters section."""
    section = re.search(
        r"^Parameters\n-+\n(.*?)(?=^\w[^\n]*\n-+$|\Z)", doc, re.MULTILINE | re.DOTALL
    )
    slots: dict[str, str] = {}
    for line in section[1].splitlines() if section else []:
        head = re.match(r"([*\w][\w, *]*?)(?: : (.*))?$", line)
        if head and not line.startswith(" "):
            slots |= {n.strip().lstrip("*"): head[2] or "" for n in head[1].split(",")}
    return slots


FUNCTIONS = public_functions()


def test_the_core_has_functions_to_look_at():
    assert len(FUNCTIONS) > 40


def test_a_public_function_says_what_each_number_is():
    """A type of its own speaks for itself; a number needs its meaning and unit."""
    missing = [
        f"{function.__module__}.{function.__name__}: {name}"
        for function in FUNCTIONS
        for name, parameter in inspect.signature(function).parameters.items()
        if NUMBER.search(inspect.formatannotation(parameter.annotation))
        if name not in type_slots(inspect.getdoc(function) or "")
    ]

    assert missing == []


def test_an_argument_says_its_unit_and_shape():
    bare = [
        f"{function.__module__}.{function.__name__}: {name} : {slot}"
        for function in FUNCTIONS
        for name, slot in type_slots(inspect.getdoc(function) or "").items()
        if BARE_NUMBER.fullmatch(slot.strip())
    ]

    assert bare == []


def test_a_public_function_shows_an_example():
    silent = [
        f"{function.__module__}.{function.__name__}"
        for function in FUNCTIONS
        if ">>>" not in (inspect.getdoc(function) or "")
    ]

    assert silent == []


def test_every_module_opens_with_a_sentence():
    # Read, not imported: importing what the server runs would start it.
    source = Path(nearmark.__file__).parent
    silent = [
        str(path.relative_to(source))
        for path in source.rglob("*.py")
        if not ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    ]

    assert silent == []
