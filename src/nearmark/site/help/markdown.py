"""One file of the documentation as HTML, and its sections as plain text for the search."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from markdown_it import MarkdownIt
from markdown_it.token import Token

_PARSER: Final = MarkdownIt("commonmark").enable("table")

MAX_WHOLE: Final = 24
"""Signs of code that stand on one line, such as an option: a hyphen is no place to break it."""

LinkTo = Callable[[str], str | None]
"""A link as a file writes it -> the address on the site; ``None``: it becomes plain text."""


@dataclass(frozen=True, slots=True)
class Section:
    """What lies between one heading and the next."""

    anchor: str  # empty: before the first heading
    level: int  # of the heading, 1 to 6
    title: str  # the heading without markup
    text: str  # everything below it, without markup


@dataclass(frozen=True, slots=True)
class Document:
    """One file, read."""

    html: str
    sections: tuple[Section, ...]


def read_document(text: str, link_to: LinkTo, picture_at: LinkTo) -> Document:
    """Read one file.

    ``text``: Markdown with tables; HTML in it is left out. ``link_to``, ``picture_at``: are asked
    for every link and every picture.
    """
    tokens = [token for token in _PARSER.parse(text) if token.type != "html_block"]
    sections = tuple(_sections(tokens))
    anchors = iter([section.anchor for section in sections if section.anchor])
    for at, token in enumerate(tokens):
        if token.type == "heading_open":
            token.attrSet("id", next(anchors))
        elif token.type in {"th_open", "td_open"} and token.attrs.pop("style", "") == _TO_THE_RIGHT:
            token.attrSet("class", "n")
        elif token.type == "inline":
            if tokens[at - 1].type == "td_open" and len(token.content) > _LONG:
                tokens[at - 1].attrSet("class", "long")
            token.children = list(_on_the_site(token.children or [], link_to, picture_at))
        elif token.type == "fence":
            tokens[at] = _scrolling_code(token)
    as_html = _PARSER.renderer.render
    return Document(as_html([*_wide(tokens)], _PARSER.options, {}), sections)


_TO_THE_RIGHT: Final = "text-align:right"
_LONG: Final = 60
"""Signs: a cell with more is not squeezed on a phone; its table scrolls."""


def links_in(text: str) -> list[str]:
    """All links of a file, in its order."""
    return [
        str(child.attrs["href"])
        for token in _PARSER.parse(text)
        for child in token.children or []
        if child.type == "link_open"
    ]


def anchor_of(title: str) -> str:
    """The anchor of a heading, as code hosts make it.

    >>> anchor_of("Before the release: the paper audit")
    'before-the-release-the-paper-audit'
    """
    return re.sub(r"[^\w\- ]", "", title.strip().lower()).replace(" ", "-")


def _sections(tokens: Sequence[Token]) -> Iterator[Section]:
    anchor, level, title, texts = "", 1, "", list[str]()
    seen: dict[str, int] = {}
    for before, token in zip([None, *tokens], tokens, strict=False):
        if token.type == "heading_open":
            if anchor or texts:
                yield Section(anchor, level, title, "\n".join(texts))
            level, texts = int(token.tag[1:]), []
        elif token.type == "inline" and before is not None and before.type == "heading_open":
            title = _plain(token)
            anchor = anchor_of(title)
            again = seen[anchor] = seen.get(anchor, -1) + 1
            anchor = f"{anchor}-{again}" if again else anchor
        elif token.type == "inline":
            texts.append(_plain(token))
        elif token.type in {"fence", "code_block"}:
            texts.append(token.content)
    yield Section(anchor, level, title, "\n".join(texts))


def _plain(inline: Token) -> str:
    return "".join(
        " " if child.type in {"softbreak", "hardbreak"} else child.content
        for child in inline.children or []
        if child.type != "html_inline"
    )


def _on_the_site(tokens: Sequence[Token], link_to: LinkTo, picture_at: LinkTo) -> Iterator[Token]:
    """The inside of a line with links and pictures of the site; a link to nowhere is plain text."""
    is_link = False
    for token in tokens:
        if token.type == "html_inline":
            continue
        if token.type == "code_inline" and len(token.content) <= MAX_WHOLE:
            token.attrSet("class", "whole")
        if token.type == "link_open":
            address = link_to(str(token.attrs["href"]))
            is_link = address is not None
            if not is_link:
                continue
            token.attrSet("href", address or "")
        elif token.type == "link_close" and not is_link:
            continue
        elif token.type == "image":
            address = picture_at(str(token.attrs["src"]))
            if address is None:
                continue
            token.attrSet("src", address)
            token.attrSet("loading", "lazy")
        yield token


def _scrolling_code(fence: Token) -> Token:
    """A block of code that can be scrolled by the keyboard; its language changes nothing."""
    return Token("code_block", "code", 0, attrs={"tabindex": "0"}, content=fence.content)


def _wide(tokens: Sequence[Token]) -> Iterator[Token]:
    """Every table in a box that scrolls by itself, by keyboard too."""
    heading, n_tables = "", 0
    for before, token in zip([None, *tokens], tokens, strict=False):
        if token.type == "inline" and before is not None and before.type == "heading_open":
            heading = _plain(token)
        if token.type == "table_open":
            box = {"class": "scroll", "tabindex": "0", "role": "region"}
            n_tables += 1
            named = {"aria-label": f"Table {n_tables}: {heading}"}
            yield Token("box_open", "div", 1, attrs={**box, **named}, block=True)
        yield token
        if token.type == "table_close":
            yield Token("box_close", "div", -1, block=True)
