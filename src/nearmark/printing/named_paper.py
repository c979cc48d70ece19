"""One printed thing: its file, and what is said of it."""

from dataclasses import dataclass

from nearmark.words.day_papers import PaperKind, how_to_print, paper_is_for, paper_title


@dataclass(frozen=True, slots=True)
class NamedPaper:
    """A kind of paper with its name and its words."""

    kind: PaperKind

    @property
    def name(self) -> str:
        """Of the file, without ending."""
        return self.kind.value

    @property
    def title(self) -> str:
        """What it is called."""
        return paper_title(self.kind)

    @property
    def what_for(self) -> str:
        """What it is for."""
        return paper_is_for(self.kind)

    @property
    def how(self) -> str:
        """How it is printed."""
        return how_to_print(self.kind)
