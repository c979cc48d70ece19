"""The pages of the help: which files of the documentation they are, and in which order."""

import posixpath
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Final

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from nearmark.docs_folder import docs_folder
from nearmark.site.help.markdown import Section, links_in, read_document

REFERENCE: Final = ("glossary", "event-folder", "rules", "catalogue", "command-line")
"""The files of ``reference`` that are help; the others are for who changes the code."""

GROUPS: Final = {
    "handbook": "Run a contest",
    "use": "Use this site",
    "reference": "Look something up",
}
"""Folder of the documentation -> what its pages are called together, in their order."""


@dataclass(frozen=True, slots=True)
class Link:
    """A link of a file."""

    written: str  # as in the file
    file: str  # where it leads, from the folder of the documentation; empty: out of it
    anchor: str
    address: str | None  # on the site; none: it is plain text there


@dataclass(frozen=True, slots=True)
class HelpPage:
    """One page of the help."""

    name: str  # in its address
    file: str  # from the folder of the documentation
    title: str
    summary: str  # its first sentence
    html: SafeString
    sections: tuple[Section, ...]
    links: tuple[Link, ...]

    @property
    def address(self) -> str:
        """Where it is on the site."""
        return reverse("help-page", args=[self.name])

    @property
    def contents(self) -> list[Section]:
        """The parts of the page."""
        return [section for section in self.sections if section.level in {2, 3}]

    @property
    def group(self) -> str:
        """What it and its like are called together."""
        return GROUPS[self.file.split("/", maxsplit=1)[0]]


@cache
def help_pages() -> dict[str, HelpPage]:
    """All pages by name, in the order of the documentation's links; read once in a process."""
    folder = docs_folder()
    names = {file: page_name(file) for file in _ordered(folder)}
    return {name: _Reader(folder, file, names).page() for file, name in names.items()}


def page_name(file: str) -> str:
    """The name of a file in the address of its page.

    >>> page_name("use/kit-room.md"), page_name("handbook/README.md")
    ('kit-room', 'handbook')
    """
    path = Path(file)
    return path.parent.name if path.stem == "README" else path.stem


def _ordered(folder: Path) -> list[str]:
    """The files that are help, group by group: those a README links to first, in its order."""
    linked = [
        *(_from(readme, link) for readme in ("handbook/README.md", "README.md")
          for link in _links_of(folder / readme))
    ]  # fmt: skip
    ordered: list[str] = []
    for group in GROUPS:
        there = {
            file.relative_to(folder).as_posix()
            for file in sorted((folder / group).glob("*.md"))
            if group != "reference" or file.stem in REFERENCE
        }
        known = dict.fromkeys([f"{group}/README.md", *linked, *sorted(there)])
        ordered += [file for file in known if file in there]
    return ordered


def _links_of(file: Path) -> list[str]:
    return links_in(file.read_text(encoding="utf-8")) if file.is_file() else []


def _from(file: str, link: str) -> str:
    """Where a link of a file leads, from the folder of the documentation, without its anchor."""
    path = link.partition("#")[0]
    return posixpath.normpath(posixpath.join(posixpath.dirname(file), path)) if path else file


@dataclass(slots=True)
class _Reader:
    """Reads one file and remembers its links."""

    folder: Path
    file: str
    names: dict[str, str]  # file -> name of its page
    links: list[Link] = field(default_factory=list)

    def page(self) -> HelpPage:
        text = (self.folder / self.file).read_text(encoding="utf-8")
        document = read_document(text, self.link_to, self.picture_at)
        head = document.sections[0]
        return HelpPage(
            name=self.names[self.file],
            file=self.file,
            title=head.title,
            summary=_first_sentence(head.text),
            html=mark_safe(document.html),  # noqa: S308  # of our own files; HTML in them is left out
            sections=document.sections,
            links=tuple(self.links),
        )

    def link_to(self, written: str) -> str | None:
        if written.startswith(("https://", "http://")):
            return written
        file, anchor = _from(self.file, written), written.partition("#")[2]
        address = None
        if file == "README.md":
            address = reverse("help")
        elif file in self.names:
            place = f"#{anchor}" if anchor else ""
            address = reverse("help-page", args=[self.names[file]]) + place
        self.links.append(Link(written, file, anchor, address))
        return address

    def picture_at(self, written: str) -> str | None:
        file = _from(self.file, written)
        folder, _, name = file.rpartition("/")
        is_kept = folder == PICTURES and name in pictures()
        address = reverse("help-picture", args=[name]) if is_kept else None
        self.links.append(Link(written, file, "", address))
        return address


def _first_sentence(text: str) -> str:
    """Up to the first full stop that ends a line or stands before a space."""
    line = text.partition("\n")[0]
    return line.partition(". ")[0].removesuffix(".") + "." if line else ""


PICTURES: Final = "pictures"
"""Folder of the documentation."""


@cache
def pictures() -> dict[str, Path]:
    """The pictures of the documentation by their names: no other file is served."""
    return {file.name: file for file in sorted((docs_folder() / PICTURES).glob("*.png"))}


def groups() -> Iterator[tuple[str, list[HelpPage]]]:
    """The pages as the first page lists them: what they are called together, and they."""
    for title in GROUPS.values():
        of_it = [page for page in help_pages().values() if page.group == title]
        if of_it:
            yield title, of_it
