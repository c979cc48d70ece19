"""The core returns facts; a sentence is said in ``nearmark.words`` alone.

What counts as a sentence: a string, an f-string or a sum of strings with four words or more that
begins with a capital letter (and is no name, of which every word does), ends with a full stop, a
question mark or an exclamation mark, or has one of ``VERBS`` in it.  What is no sentence of ours:

- a docstring, or a string alone under a name;
- the value of an enum: it is a name, kept in files and in JSON;
- the words of an error: inside ``raise``, in a call of an error, in a function that returns one or
  in a call of it, in a call of a function that raises what it is given, in ``__post_init__`` (which
  only checks), in a function that is called for an error alone, and what a function puts under a
  name that it gives to such a call;
- data files of the package, which are no Python.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "nearmark"

CORE = ("measurement", "packing", "kit", "contest", "coaching")

ALLOWED = frozenset(
    {
        # The name of a method, kept in files and in JSON.
        "count by hand, checked by weighing",
        # The first lines of two files: they say which form is read, and never change.
        "Nearmark sealed keys, format 1",
        "Nearmark history, format 1",
        # What was probably meant, in the words of an error that names an unknown code.
        "Did you mean {}?",
    }
)
"""What may stay, each with its reason."""

VERBS = frozenset(
    "is are was were be been has have had can cannot could may might must will would do does did "
    "need needs show shows bring brings give gives take takes read reads weigh count measure "
    "agree agrees differ differs scatter scatters".split()
)


def shown(node: ast.AST) -> str | None:
    """The text of a string as it is written, each placeholder as ``{}``."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(str(v.value) if isinstance(v, ast.Constant) else "{}" for v in node.values)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        left, right = shown(node.left), shown(node.right)
        if left is not None or right is not None:
            return f"{left or '{}'}{right or '{}'}"
    return None


def is_sentence(text: str) -> bool:
    words = re.findall(r"[A-Za-z']+|\{\}", text)
    if len(words) < 4 or " " not in text:
        return False
    is_name = all(word[0].isupper() for word in words)
    if (text[0].isupper() and not is_name) or text.rstrip()[-1] in ".?!":
        return True
    return bool(VERBS & {word.lower() for word in words})


def name_of(node: ast.expr) -> str:
    """The last part of a dotted name."""
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.id if isinstance(node, ast.Name) else ""


def makes_error(function: ast.FunctionDef) -> bool:
    returns = function.returns
    text = returns.value if isinstance(returns, ast.Constant) else name_of(returns or ast.Name(""))
    return function.name == "__post_init__" or str(text).endswith("Error")


def raises_its_argument(function: ast.FunctionDef) -> bool:
    arguments = (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
    names = {argument.arg for argument in arguments if argument.arg != "self"}
    return any(
        isinstance(inner, ast.Name) and inner.id in names
        for node in ast.walk(function)
        if isinstance(node, ast.Raise)
        for inner in ast.walk(node)
    ) and (names & {"mend", "what", "wanted"} != set())


def error_makers(trees: list[ast.Module]) -> frozenset[str]:
    """Names of functions that return an error, or raise one with words that they are given."""
    return frozenset(
        node.name
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and (makes_error(node) or raises_its_argument(node))
    )


def called_for_errors(trees: list[ast.Module], makers: frozenset[str]) -> frozenset[str]:
    """Names of functions that nobody calls but for the words of an error."""
    calls = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    inside = {
        id(inner)
        for tree in trees
        for node in ast.walk(tree)
        if is_of_error(node, makers)
        for inner in ast.walk(node)
    }
    elsewhere = {name_of(call.func) for call in calls if id(call) not in inside}
    return frozenset({name_of(call.func) for call in calls if id(call) in inside} - elsewhere)


def is_of_error(node: ast.AST, makers: frozenset[str]) -> bool:
    if isinstance(node, ast.Raise):
        return True
    if isinstance(node, ast.FunctionDef):
        return makes_error(node) or node.name in makers
    if not isinstance(node, ast.Call):
        return False
    name = name_of(node.func)
    return name in makers or name.endswith("Error") or name in NAMED_ERRORS


NAMED_ERRORS = frozenset({"TooFewReadings", "ReadingsDisagree"})
"""Errors of ``nearmark.errors`` whose names do not end in ``Error``."""


def is_enum(node: ast.AST) -> bool:
    return isinstance(node, ast.ClassDef) and any(name_of(b).endswith("Enum") for b in node.bases)


def names_in(node: ast.AST) -> set[str]:
    return {inner.id for inner in ast.walk(node) if isinstance(inner, ast.Name)}


def names_given_to_errors(function: ast.AST, makers: frozenset[str]) -> frozenset[str]:
    """Names whose values go into an error, also those that a loop over them takes apart."""
    given = {
        name
        for node in ast.walk(function)
        if is_of_error(node, makers) and not isinstance(node, ast.FunctionDef)
        for name in names_in(node)
    }
    for node in ast.walk(function):
        if isinstance(node, ast.For) and names_in(node.target) & given:
            given |= names_in(node.iter)
    return frozenset(given)


def sentences(
    node: ast.AST, makers: frozenset[str], given: frozenset[str] = frozenset()
) -> Iterator[tuple[int, str]]:
    """Line and text of each sentence beneath a node."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant):
            continue
        if is_of_error(child, makers) or is_enum(child):
            continue
        names = given
        if isinstance(child, ast.FunctionDef):
            names = names_given_to_errors(child, makers)
        if isinstance(child, ast.Assign) and names_in(ast.Tuple(child.targets)) & given:
            continue
        text = shown(child)
        if text is None:
            yield from sentences(child, makers, names)
        elif is_sentence(text) and isinstance(child, ast.expr):
            yield child.lineno, text


def found_in(package: str) -> list[str]:
    files = sorted((SOURCE / package).rglob("*.py"))
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in files]
    makers = error_makers(trees)
    makers |= called_for_errors(trees, makers)
    return [
        f"{file.relative_to(SOURCE)}:{line}: {text}"
        for file, tree in zip(files, trees, strict=True)
        for line, text in sentences(tree, makers)
        if text not in ALLOWED
    ]


@pytest.mark.slow
@pytest.mark.parametrize("package", CORE)
def test_no_sentence_is_built_below_words(package):
    assert found_in(package) == []


@pytest.mark.parametrize(
    "source",
    [
        "def f(n):\n    return f'{n} sheets are read'",
        "X = 'Weigh the container empty'",
        "def f(a):\n    return a + ' differs by more than twice'",
        "def f():\n    return Step('ask', 'Was the dish tared away?')",
    ],
)
def test_a_sentence_is_found(source):
    assert list(sentences(ast.parse(source), frozenset()))


@pytest.mark.parametrize(
    "source",
    [
        "def f():\n    raise InputError('is not what it must be')",
        "def f():\n    mend = 'Weigh it empty again'\n    raise InputError('no', mend=mend)",
        "def f() -> InputError:\n    return InputError('a', mend='Weigh it empty again')",
        "class A:\n    x: int\n    '''What it is in a few words.'''",
        "X = 'count by weighing'",
        "class A(StrEnum):\n    B = 'count the layers again'",
        "X = 'Larkspur Valley Estimation Day'",
    ],
)
def test_what_is_no_sentence_is_left_alone(source):
    assert not list(sentences(ast.parse(source), frozenset()))
