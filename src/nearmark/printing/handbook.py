"""The handbook of a lead, and the handout for coaches, set from their Markdown files.

Only text leaves the files: the template shows it and never reads it as markup.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path, PurePosixPath
from types import MappingProxyType
from typing import Final

from markdown_it import MarkdownIt
from markdown_it.tree import SyntaxTreeNode

from nearmark.docs_folder import docs_folder
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset

HANDBOOK: Final = "handbook"
HANDOUT: Final = "coaches-handout"
"""What can be printed; the handout is a chapter too."""

_PARSER: Final = MarkdownIt("commonmark").enable("table")
_NARROW, _WIDE = 16, 60
"""Signs of a cell: a column with no longer one is as wide as it needs; the others share the rest by
what their usual cell holds, up to the second figure. An empty column is to be written in."""


@dataclass(frozen=True, slots=True)
class Span:
    """Some words of a line."""

    text: str
    strong: bool = False
    emphasis: bool = False
    code: bool = False
    chapter: str = ""  # where it leads in the same document; empty: nowhere
    address: str = ""  # where it leads on the web; empty: nowhere


@dataclass(frozen=True, slots=True)
class Block:
    """A heading, a paragraph, a list, a table, a block of code, a quotation or a new page."""

    kind: str
    spans: tuple[Span, ...] = ()
    level: int = 0  # of a heading
    lines: tuple[str, ...] = ()  # of a block of code
    start: int = 1  # first number of a list
    entries: tuple[tuple["Block", ...], ...] = ()  # of a list; of a quotation the only one
    rows: tuple[tuple[tuple[Span, ...], ...], ...] = ()  # of a table, its headings the first
    widths: tuple[int, ...] = ()  # of its columns, one against the other; 0: as its cells need
    aligned: tuple[str, ...] = ()  # left, center or right


@dataclass(frozen=True, slots=True)
class Chapter:
    """One file."""

    name: str  # of the file, without its ending
    title: str
    blocks: tuple[Block, ...]  # without the title


@dataclass(frozen=True, slots=True)
class HandbookView:
    """What is printed."""

    title: str
    foot: str
    is_handout: bool  # two pages and nothing else, or a book with its contents
    intro: tuple[Block, ...]
    chapters: tuple[Chapter, ...]


def handbook_pdf(name: str = HANDBOOK, *, day: date, paper: str = "a4") -> bytes:
    """Set the handbook, or one of its chapters alone.

    ``name``: ``handbook`` or ``coaches-handout``. ``day``: date of the document. ``paper``: ``a4``
    or ``us-letter``. Raises InputError if nothing of that name is printed.
    """
    folder = docs_folder() / "handbook"
    if name not in {HANDBOOK, HANDOUT}:
        raise InputError("is not printed here", where="handbook", value=name[:40])
    view = handbook_view(folder) if name == HANDBOOK else _handout_view(folder)
    return typeset("handbook", view, day=day, paper=paper)


def handbook_view(folder: Path) -> HandbookView:
    """The whole handbook: what its README says before the list of chapters, then each of them."""
    title, readme = _title_and_blocks(_read(folder, "README", ()))
    names = chapter_names(folder)
    at = next(i for i, block in enumerate(readme) if block.kind == "ordered_list")
    return HandbookView(
        title=title,
        foot=title,
        is_handout=False,
        intro=(*readme[:at], *readme[at + 1 :]),
        chapters=tuple(_chapter(folder, name, names) for name in names),
    )


def _handout_view(folder: Path) -> HandbookView:
    chapter = _chapter(folder, HANDOUT, ())
    return HandbookView(
        chapter.title, chapter.title, is_handout=True, intro=(), chapters=(chapter,)
    )


def chapter_names(folder: Path) -> tuple[str, ...]:
    """The names of the chapters, in the order of the list in the README."""
    tree = SyntaxTreeNode(_PARSER.parse((folder / "README.md").read_text(encoding="utf-8")))
    listed = next(node for node in tree.children if node.type == "ordered_list")
    links = (node for node in listed.walk() if node.type == "link")
    return tuple(PurePosixPath(str(link.attrs["href"])).stem for link in links)


def _chapter(folder: Path, name: str, names: Sequence[str]) -> Chapter:
    title, blocks = _title_and_blocks(_read(folder, name, names))
    return Chapter(name, title, blocks)


def _read(folder: Path, name: str, names: Sequence[str]) -> tuple[Block, ...]:
    text = (folder / f"{name}.md").read_text(encoding="utf-8")
    tree = SyntaxTreeNode(_PARSER.parse(text))
    return tuple(_Reader(frozenset(names)).blocks(tree))


def _title_and_blocks(blocks: tuple[Block, ...]) -> tuple[str, tuple[Block, ...]]:
    return "".join(span.text for span in blocks[0].spans), blocks[1:]


@dataclass(frozen=True, slots=True)
class _Style:
    strong: bool = False
    emphasis: bool = False
    chapter: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads the nodes of one file; ``chapters``: those that a link may lead to."""

    chapters: frozenset[str] = field(default_factory=frozenset)

    def blocks(self, parent: SyntaxTreeNode) -> Iterator[Block]:
        for node in parent.children:
            match node.type:
                case "html_block":
                    continue
                case "heading":
                    yield Block("heading", self.spans(node), level=int(node.tag[1:]))
                case "paragraph":
                    yield Block("paragraph", self.spans(node))
                case "fence" | "code_block":
                    yield Block("code", lines=tuple(node.content.rstrip("\n").split("\n")))
                case "hr":
                    yield Block("page")
                case "bullet_list" | "ordered_list":
                    yield Block(
                        node.type,
                        start=int(node.attrs.get("start", 1)),
                        entries=tuple(tuple(self.blocks(item)) for item in node.children),
                    )
                case "blockquote":
                    yield Block("quotation", entries=(tuple(self.blocks(node)),))
                case "table":
                    yield self.table(node)
                case _:
                    raise InputError("is not set in print", where="Markdown", value=node.type)

    def table(self, node: SyntaxTreeNode) -> Block:
        lines = [row for part in node.children for row in part.children]
        rows = tuple(tuple(self.spans(cell) for cell in row.children) for row in lines)
        columns = list(zip(*rows, strict=True))
        return Block(
            "table",
            rows=rows,
            widths=tuple(_width(column) for column in columns),
            aligned=tuple(_aligned(cell) for cell in lines[0].children),
        )

    def spans(self, node: SyntaxTreeNode) -> tuple[Span, ...]:
        return tuple(span for inline in node.children for span in self.inside(inline, _Style()))

    def inside(self, parent: SyntaxTreeNode, style: _Style) -> Iterator[Span]:
        for node in parent.children:
            match node.type:
                case "html_inline":
                    continue
                case "strong":
                    yield from self.inside(node, _changed(style, strong=True))
                case "em":
                    yield from self.inside(node, _changed(style, emphasis=True))
                case "link":
                    yield from self.inside(node, self.linked(str(node.attrs["href"]), style))
                case "softbreak" | "hardbreak":
                    yield _span(" ", style)
                case "code_inline":
                    yield _span(node.content, style, code=True)
                case _:  # text, and of a picture what it shows
                    yield _span(node.content, style)

    def linked(self, href: str, style: _Style) -> _Style:
        if href.startswith(("https://", "http://")):
            return _changed(style, address=href)
        path = PurePosixPath(href.partition("#")[0])
        is_here = len(path.parts) == 1 and path.stem in self.chapters
        return _changed(style, chapter=path.stem if is_here else "")


def _changed(
    style: _Style,
    *,
    strong: bool = False,
    emphasis: bool = False,
    chapter: str = "",
    address: str = "",
) -> _Style:
    return _Style(
        style.strong or strong,
        style.emphasis or emphasis,
        style.chapter or chapter,
        style.address or address,
    )


def _span(text: str, style: _Style, *, code: bool = False) -> Span:
    return Span(text, style.strong, style.emphasis, code, style.chapter, style.address)


def _width(column: Sequence[Sequence[Span]]) -> int:
    lengths = [sum(len(span.text) for span in cell) for cell in column]
    is_to_write_in = not any(lengths[1:])
    is_narrow = max(lengths) <= _NARROW and not is_to_write_in
    return 0 if is_narrow else max(_NARROW, min(_WIDE, sum(lengths) // len(lengths)))


_ALIGNED: Final[Mapping[str, str]] = MappingProxyType(
    {"text-align:right": "right", "text-align:center": "center"}
)


def _aligned(cell: SyntaxTreeNode) -> str:
    return _ALIGNED.get(str(cell.attrs.get("style", "")), "left")
