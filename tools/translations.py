"""Keeps the catalogues of messages: ``src/nearmark/words/translations/CODE.po``.

    python tools/translations.py            bring every catalogue up to date with the source
    python tools/translations.py new CODE   begin a catalogue for another language
    python tools/translations.py open CODE  list what is not translated yet

A message whose English was changed is empty again: somebody has to read it once more.
"""

import os
import sys
import warnings
from collections.abc import Iterable, Iterator
from io import BytesIO
from pathlib import Path

import django
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.pofile import read_po, write_po
from django.template.base import Node, Template
from django.templatetags.i18n import BlockTranslateNode, TranslateNode

from nearmark.words.languages import FOLDER, own_name
from nearmark.words.translation import KEYWORDS

ROOT = Path(__file__).parents[1]
WORDS = ROOT / "src" / "nearmark" / "words"
SITE = ROOT / "src" / "nearmark" / "site"
TEMPLATES = SITE / "templates"
GETTEXT = {"_": None, "gettext": None, "gettext_lazy": None, "ngettext": (1, 2)}

TRANSLATED_WORDS = (
    "answer_sheets",
    "answers",
    "labels",
    "letters",
    "station_rules",
    "coaching_advice",
    "cautions",
    "coaching_child",
    "coaching_habits",
    "coaching_jars",
    "coaching_certificate",
    "coaching_steps",
    "home_tasks",
    "measuring",
    "season_papers",
    "room",
    "slips",
    "answer_advice",
    "award_papers",
    "awards",
    "day_papers",
    "day_roles",
    "desk",
    "deviations",
    "divisions",
    "doubts",
    "event_rooms",
    "feedback_page",
    "hand_scoring",
    "handout",
    "heats",
    "kept_lines",
    "numbers",
    "odd_readings",
    "place_changes",
    "proofs",
    "public",
    "refusals",
    "replies",
    "rules",
    "school_totals",
    "score_tables",
    "sides",
    "standings",
)
"""Modules of sentences that a child, a family or a helper reads."""

_NOT_KEPT = (
    '"Project-Id',
    '"Report-Msgid',
    '"POT-Creation',
    '"PO-Revision',
    '"Last-Translator',
    '"Language-Team',
    '"Generated-By',
)
"""Lines of the head of a catalogue that say nothing here."""

Text = str | tuple[str, ...] | list[str]
Found = tuple[str, Text]
"""Where a message is, and the message; with its plural where it counts."""


def messages_of_words() -> Iterator[Found]:
    """The messages of the modules of sentences."""
    for name in TRANSLATED_WORDS:
        file = WORDS / f"{name}.py"
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a number that is written as an f-string is no message
            found = extract_from_file("python", str(file), keywords=KEYWORDS)
        for _, message, _, _ in found:
            yield f"words/{file.name}", message


def messages_of_pages() -> Iterator[Found]:
    """The messages that the code of the site itself marks, such as labels of forms."""
    for file in sorted(SITE.rglob("*.py")):
        found = extract_from_file("python", str(file), keywords=GETTEXT)
        for _, message, _, _ in found:
            yield f"site/{file.relative_to(SITE)}", message


def messages_of_templates() -> Iterator[Found]:
    """The messages of the templates, as Django itself asks the catalogue for them."""
    for file in sorted(TEMPLATES.rglob("*.html")):
        name = str(file.relative_to(TEMPLATES))
        template = Template(file.read_text(encoding="utf-8"))
        for node in _nodes(template.nodelist):
            yield from ((name, message) for message in _messages_of(node))


def _nodes(nodes: Iterable[Node]) -> Iterator[Node]:
    for node in nodes:
        yield node
        for name in node.child_nodelists:
            yield from _nodes(getattr(node, name, None) or ())


def _messages_of(node: Node) -> Iterator[Text]:
    if isinstance(node, TranslateNode):
        text = getattr(node.filter_expression.var, "literal", None)
        if text is not None:
            yield str(text).replace("%", "%%")
    if isinstance(node, BlockTranslateNode):
        one, _ = node.render_token_list(node.singular)
        if node.plural:
            many, _ = node.render_token_list(node.plural)
            yield (_trimmed(node, one), _trimmed(node, many))
        else:
            yield _trimmed(node, one)


def _trimmed(node: BlockTranslateNode, text: str) -> str:
    return " ".join(line.strip() for line in text.strip().splitlines()) if node.trimmed else text


def template_catalogue() -> Catalog:
    """Every message that has to be translated, with the files that it is in."""
    catalogue = Catalog(fuzzy=False)
    for place, text in (*messages_of_words(), *messages_of_pages(), *messages_of_templates()):
        catalogue.add(text, auto_comments=[place])
    for message in catalogue:
        # The texts hold percent signs and braces of both kinds; a test holds what has to match.
        message.flags -= {"python-format", "python-brace-format"}
    return catalogue


def read(code: str) -> Catalog:
    """The catalogue of a language."""
    with (FOLDER / f"{code}.po").open("rb") as lines:
        return read_po(lines, locale=code)


def written(code: str, template: Catalog) -> str:
    """The file of a language with the messages that the source has now."""
    file = FOLDER / f"{code}.po"
    catalogue = read(code) if file.exists() else Catalog(locale=code)
    catalogue.update(template, no_fuzzy_matching=True)
    catalogue.obsolete.clear()
    catalogue.fuzzy = False
    catalogue.header_comment = f"# Nearmark, {own_name(code)}. See docs/develop/translating.md."
    out = BytesIO()
    write_po(out, catalogue, width=100, sort_output=True)
    lines = out.getvalue().decode("utf-8").splitlines(keepends=True)
    # Without dates and names of programs: the same messages give the same file.
    return "".join(line for line in lines if not line.startswith(_NOT_KEPT))


def open_messages(code: str) -> list[Text]:
    """Messages without a translation."""
    return [
        one.id
        for one in read(code)
        if one.id and not (all(one.string) if isinstance(one.string, tuple) else one.string)
    ]


def main(words: list[str]) -> None:
    """Do what the words ask for."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nearmark.site.server.configured")
    django.setup()
    if words[:1] == ["open"]:
        sys.stdout.write("".join(f"{one!r}\n" for one in open_messages(words[1])))
        return
    template = template_catalogue()
    codes = [words[1]] if words[:1] == ["new"] else [file.stem for file in FOLDER.glob("*.po")]
    for code in codes:
        (FOLDER / f"{code}.po").write_text(written(code, template), encoding="utf-8")
        sys.stdout.write(f"{code}: {len(template)} messages, {len(open_messages(code))} open\n")


if __name__ == "__main__":
    main(sys.argv[1:])
