"""The documentation as pages of the site: every file, every link, every anchor, every picture."""

import itertools
import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from django.test import Client

from nearmark.docs_folder import docs_folder
from nearmark.site.door.access import Role
from nearmark.site.help import pages
from nearmark.site.help.markdown import anchor_of, read_document
from nearmark.site.help.pages import REFERENCE, help_pages, page_name

ROOT = Path(__file__).parents[3]
DOCS = ROOT / "docs"


def test_every_file_for_people_is_a_page_and_no_other():
    files = [*DOCS.glob("use/*.md"), *DOCS.glob("handbook/*.md")]
    files += [DOCS / "reference" / f"{name}.md" for name in REFERENCE]
    names = [page_name(file.relative_to(DOCS).as_posix()) for file in files]

    assert sorted(names) == sorted(help_pages())
    assert len(set(names)) == len(names), "two files have one name"


def test_pages_lie_in_the_order_of_the_links():
    order = list(help_pages())

    # docs/README.md: kit room, event day, season; use before reference.
    assert order.index("kit-room") < order.index("event-day") < order.index("season")
    assert order.index("verify") < order.index("event-folder")


def test_no_link_of_a_page_leads_nowhere():
    dead = []
    for page in help_pages().values():
        for link in page.links:
            target = DOCS / link.file
            if not target.resolve().is_relative_to(ROOT) or not target.is_file():
                dead.append((page.file, link.written, "no such file"))
            elif link.anchor and link.anchor not in anchors(target):
                dead.append((page.file, link.written, "no such heading"))

    assert dead == []
    assert sum(len(page.links) for page in help_pages().values()) > 20


def anchors(file: Path) -> set[str]:
    text = file.read_text(encoding="utf-8")
    document = read_document(text, lambda link: link, lambda link: link)
    return {section.anchor for section in document.sections}


def test_a_dead_link_would_be_seen(tmp_path, monkeypatch):
    (tmp_path / "use").mkdir()
    (tmp_path / "use" / "one.md").write_text("# One\n\n[gone](two.md#x), [out](../../secret.txt)\n")
    monkeypatch.setattr(pages, "docs_folder", lambda: tmp_path)

    page = pages._Reader(tmp_path, "use/one.md", {"use/one.md": "one"}).page()

    assert [(link.file, link.anchor, link.address) for link in page.links] == [
        ("use/two.md", "x", None),
        ("../secret.txt", "", None),
    ]
    assert page.html == '<h1 id="one">One</h1>\n<p>gone, out</p>\n'


@pytest.mark.slow
def test_every_address_on_a_page_answers_and_every_anchor_is_there(db):
    client = Client()
    client.raise_request_exception = True
    answers: dict[str, str] = {}
    for start in ("/help/", *(page.address for page in help_pages().values())):
        text = answers.setdefault(start, client.get(start).content.decode())
        main = text.partition("<main")[2].partition("</main>")[0]
        for place in re.findall(r'(?:href|src)="([^"]+)"', main):
            if place.startswith("http"):
                continue
            address, _, anchor = place.partition("#")
            address = address or start
            if address not in answers:
                answer = client.get(address)
                assert answer.status_code == 200, (start, place)
                is_page = answer.headers["Content-Type"].startswith("text/html")
                answers[address] = answer.content.decode() if is_page else ""
            assert not anchor or f'id="{unquote(anchor)}"' in answers[address], (start, place)

    assert len(answers) > len(help_pages())


def test_a_page_shows_what_the_file_holds(db):
    text = Client().get("/help/site/").content.decode()

    assert "<h1" in text
    assert '<code tabindex="0">nearmark serve --data our-event' not in text  # pre has it
    assert "nearmark serve --data our-event" in text
    assert "<!-- not run" not in text
    assert "not run:" not in text
    assert "style=" not in text.partition("<main")[2]  # the site forbids styles in a page


def test_html_in_a_file_is_left_out():
    shown = read_document(
        "# A\n\n<script>alert(1)</script>\n\nb <b onclick=x>c</b> `<i>`\n", str, str
    ).html

    assert shown == '<h1 id="a">A</h1>\n<p>b c <code class="whole">&lt;i&gt;</code></p>\n'


def test_the_files_hold_no_html_that_would_be_lost():
    held = [
        (page.file, found[0])
        for page in help_pages().values()
        for found in re.finditer(
            r"<(?!!-- not run: )[!/a-z][^>\n]*>",
            re.sub(
                r"```.*?```|`[^`\n]+`|^    .*$",
                "",
                text_of(page.file),
                flags=re.DOTALL | re.MULTILINE,
            ),
        )
    ]

    assert held == []


def text_of(file: str) -> str:
    return (docs_folder() / file).read_text(encoding="utf-8")


def test_headings_with_one_name_get_two_anchors():
    document = read_document("# A\n\n## B, or not\n\n## B or not\n", str, str)

    assert [section.anchor for section in document.sections] == ["a", "b-or-not", "b-or-not-1"]
    assert re.findall(r'id="(.*?)"', document.html) == ["a", "b-or-not", "b-or-not-1"]


@pytest.mark.parametrize(
    ("title", "anchor"),
    [
        # from memory: how code hosts make the anchor of a heading
        ("`pairs.csv`", "pairscsv"),
        ("Is 1 % right for a box?", "is-1--right-for-a-box"),
        ("Die Größe", "die-größe"),
    ],
)
def test_anchors_are_those_of_code_hosts(title, anchor):
    assert anchor_of(title.replace("`", "")) == anchor


def test_a_wide_table_scrolls_and_numbers_stand_at_the_right():
    html = read_document("# T\n\n| a | b |\n|---|--:|\n| x | 1 |\n", str, str).html

    assert '<div class="scroll" tabindex="0" role="region" aria-label="Table 1: T">' in html
    assert '<td class="n">1</td>' in html


def test_help_opens_before_the_first_account(nobody):
    assert Client().get("/event/").headers["Location"] == "/first-run/"
    assert Client().get("/help/site/").status_code == 200


def test_help_opens_on_a_locked_device(sign_in):
    client = sign_in(Role.SCORER)
    client.post("/lock/")

    assert client.get("/entry/").headers["Location"].startswith("/unlock/")
    assert client.get("/help/").status_code == 200


@pytest.mark.parametrize("name", ["nothing", "README", "map", "sentences"])
def test_there_is_no_page_of_what_is_no_help(db, name):
    assert Client().get(f"/help/{name}/").status_code == 404


@pytest.mark.parametrize(
    "name",
    ["../README.md", "..%2FREADME.md", "%2e%2e/README.md", "/etc/passwd", "none.png", "a\0b"],
)
def test_only_pictures_of_the_folder_are_served(db, name):
    assert Client().get(f"/help/pictures/{name}").status_code in {400, 404}


def test_a_picture_is_served(db, tmp_path, monkeypatch):
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "desk.png").write_bytes(b"\x89PNG")
    (tmp_path / "pictures" / "notes.txt").write_text("no")
    monkeypatch.setattr(pages, "docs_folder", lambda: tmp_path)
    pages.pictures.cache_clear()
    try:
        found = Client().get("/help/pictures/desk.png")
        other = Client().get("/help/pictures/notes.txt")
    finally:
        pages.pictures.cache_clear()

    assert (found.status_code, found.content, found.headers["Content-Type"]) == (
        200,
        b"\x89PNG",
        "image/png",
    )
    assert other.status_code == 404


def test_no_page_leaves_a_level_of_headings_out():
    """WCAG 1.3.1, as axe looks at it: a heading is one level below the one before at most."""
    left_out = [
        (page.file, section.title)
        for page in help_pages().values()
        for above, section in itertools.pairwise(page.sections)
        if section.level > above.level + 1
    ]

    assert left_out == []
