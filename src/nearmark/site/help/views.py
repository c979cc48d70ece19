"""The pages of the help, the search in them, and their pictures."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse

from nearmark.site.common.responses import file_answer, show
from nearmark.site.help.pages import HelpPage, groups, help_pages, pictures
from nearmark.site.help.search import Found, search, words_of

MAX_QUERY = 200
"""Signs of a question; the rest is not looked at."""


@dataclass(frozen=True, slots=True)
class HelpView:
    """All pages of the help."""

    title: str
    groups: Sequence[tuple[str, Sequence[HelpPage]]]
    query: str = ""


@dataclass(frozen=True, slots=True)
class HelpPageView:
    """One page of the help."""

    title: str
    page: HelpPage
    following: HelpPage | None  # the next one in the order of the list
    query: str = ""


@dataclass(frozen=True, slots=True)
class HelpSearchView:
    """What a search found."""

    title: str
    query: str
    has_words: bool
    found: Sequence[Found]


def help_list(request: HttpRequest) -> HttpResponse:
    """All pages of the help."""
    return show(request, "help/help", HelpView("Help", list(groups())))


def help_page(request: HttpRequest, name: str) -> HttpResponse:
    """One page of the help."""
    pages = help_pages()
    if name not in pages:
        raise Http404
    page = pages[name]
    order = list(pages.values())
    after = order[order.index(page) + 1 :]
    return show(request, "help/page", HelpPageView(page.title, page, after[0] if after else None))


def help_search(request: HttpRequest) -> HttpResponse:
    """What a search found."""
    query = request.GET.get("q", "")[:MAX_QUERY].strip()
    view = HelpSearchView("Search the help", query, bool(words_of(query)), search(query))
    return show(request, "help/search", view)


def help_picture(_request: HttpRequest, name: str) -> HttpResponse:
    """A picture of a page of the help."""
    known = pictures()
    if name not in known:
        raise Http404
    return file_answer(known[name].read_bytes(), name, kind="image/png")
