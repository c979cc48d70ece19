"""Headers, forged and oversized requests, addresses that are not there."""

import re
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import OperationalError
from django.test import Client

import nearmark.site
from nearmark.site.models import AnswerEntry
from nearmark.site.server import tokens_css as look

SITE = Path(nearmark.site.__file__).parent


@pytest.mark.parametrize("path", ["/results/", "/sign-in/", "/nowhere/", "/static/0/x.css"])
def test_every_answer_carries_the_protecting_headers(demo, path):
    answer = Client().get(path)

    policy = answer["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"


def test_cookies_cannot_be_read_by_script_and_do_not_travel_to_other_sites(demo):
    client = Client()
    client.post("/sign-in/", {"name": "Juniper", "password": "four quiet otters swim"})
    client.get("/pairs/")
    cookies = [client.cookies["sessionid"], client.cookies["csrftoken"]]

    assert all(cookie["httponly"] and cookie["samesite"] == "Lax" for cookie in cookies)


def test_pages_of_a_role_are_not_stored_by_the_browser(lead):
    assert lead.get("/kit/")["Cache-Control"] == "no-store"


def test_a_post_without_its_token_is_refused_and_nothing_is_saved(demo):
    client = Client(enforce_csrf_checks=True)

    answer = client.post("/sign-in/", {"name": "Juniper", "password": "four quiet otters swim"})

    assert answer.status_code == 403
    assert "nothing was saved" in answer.content.decode()


def test_another_host_name_is_refused(demo):
    assert Client().get("/results/", headers={"host": "evil.example"}).status_code == 400


def test_a_page_that_is_not_there_says_so_in_plain_words(demo):
    answer = Client().get("/nowhere/")

    assert answer.status_code == 404


def test_an_upload_over_the_limit_is_refused(lead, no_event):
    huge = SimpleUploadedFile("pairs.csv", b"x" * 20_000_001)

    assert lead.post("/event/import/", {"files": [huge]}).status_code in {400, 413, 422}


def test_a_file_that_is_no_event_is_refused_with_the_mend(lead, no_event):
    answer = lead.post("/event/import/", {"files": [SimpleUploadedFile("photo.jpg", b"\xff\xd8")]})

    assert answer.status_code == 422
    assert "event.toml" in answer.content.decode()


def test_a_database_that_does_not_take_it_is_said_plainly(
    scorer, empty_event, cell_post, monkeypatch
):
    def full(*args: object, **kwargs: object) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(AnswerEntry.objects, "create", full)
    answer = scorer.post("/entry/save/", cell_post("P01", "C2", "2870"))

    assert answer.status_code == 503
    assert "othing was saved" in answer.content.decode()


def test_no_template_holds_inline_script_style_or_a_foreign_address():
    found = [
        (path.name, match[0])
        for path in SITE.glob("templates/**/*.html")
        for match in re.finditer(
            r"<script(?![^>]*src=)|<style|\sstyle=|\son\w+=|https?://", path.read_text("utf-8")
        )
    ]

    assert found == []


def test_no_static_file_names_a_foreign_address():
    # Of a library that is vendored unchanged, texts of messages name pages; the policy above keeps
    # it from asking any.
    files = [*SITE.glob("static/[!v]*/**/*.css"), *SITE.glob("static/[!v]*/**/*.js")]

    assert files
    assert not [f.name for f in files if re.search(r"https?://|//\w+\.", f.read_text("utf-8"))]


def test_every_file_that_a_template_loads_is_there():
    loaded = {
        name
        for path in SITE.glob("templates/**/*.html")
        for name in re.findall(r"{% static '([^']+)' %}", path.read_text("utf-8"))
    }

    assert loaded
    assert [name for name in loaded if not (SITE / "static" / name).is_file()] == []


def test_the_token_sheet_is_the_one_the_tokens_give():
    assert look.TOKENS_FILE.read_text(encoding="utf-8") == look.tokens_css()


def test_a_zero_for_children_is_the_same_on_paper_and_on_the_screen():
    on_paper = SITE.parent / "printing" / "fonts"
    on_screen = SITE / "static" / "shared" / "fonts"
    zeros = sorted(file.name for file in on_paper.glob("NearmarkPlainZero-*.ttf"))

    assert len(zeros) == 2
    for name in zeros:
        assert (on_screen / name).read_bytes() == (on_paper / name).read_bytes()


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.1, definition of the same name."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("mode", [look.DAY, look.NIGHT], ids=["day", "night"])
@pytest.mark.parametrize("ink", ["ink", "ink-soft", "accent", "alarm"])
@pytest.mark.parametrize("ground", ["paper", "white", "band"])
def test_text_has_the_contrast_of_wcag_aa_by_day_and_by_night(mode, ink, ground):
    # WCAG 2.1, success criterion 1.4.3: 4.5 to 1.
    assert contrast(mode[ink], mode[ground]) >= 4.5


def test_day_and_night_have_the_same_names():
    assert set(look.DAY) == set(look.NIGHT)


TORN = {"data": b"--x\r\nContent-Disposition: form-data", "content_type": "multipart/form-data"}
TOO_MANY = {
    "data": "&".join(f"a{n}=1" for n in range(5_001)),
    "content_type": "application/x-www-form-urlencoded",
}
TOO_MANY_FILES = {
    "data": {"files": [SimpleUploadedFile(f"{n}.csv", b"x") for n in range(41)]},
}


@pytest.mark.parametrize(
    ("post", "said"),
    [(TORN, "load the page again"), (TOO_MANY, "smaller form"), (TOO_MANY_FILES, "fewer files")],
    ids=["torn", "fields", "files"],
)
@pytest.mark.parametrize("accept", ["text/html", "application/json"])
def test_what_cannot_be_read_is_answered_with_a_mend(lead, post, said, accept):
    answer = lead.post("/event/import/", **post, headers={"accept": accept})

    assert answer.status_code == 400
    assert said in answer.content.decode()
    assert "nothing was saved" in answer.content.decode()
    assert answer["Content-Type"].startswith(accept)


def test_another_host_name_is_told_where_to_go(demo):
    answer = Client().get("/results/", headers={"host": "evil.example"})

    assert answer.status_code == 400
    assert "Open the address" in answer.content.decode()


def test_an_address_to_send_to_opened_as_a_page_says_to_go_back(lead):
    answer = lead.get("/entry/save/")

    assert (answer.status_code, answer["Allow"]) == (405, "POST")
    assert "Go back" in answer.content.decode()


@pytest.mark.parametrize("address", ["/jars/cards.pdf", "/jars/cards-key.pdf"])
def test_a_superscript_digit_is_no_number_of_a_jar(lead, address):
    assert lead.get(address, {"jar": "\N{SUPERSCRIPT TWO}"}).status_code == 422


@pytest.mark.parametrize("typed", [" ", "", "\t", "\N{NO-BREAK SPACE}"])
def test_a_blank_package_of_the_purchase_list_is_asked_for(lead, typed):
    page = lead.get("/kit/purchase/").content.decode()
    names = re.findall(r'name="(package-[^"]+)"', page)
    assert names

    answer = lead.get("/kit/purchase/", {"places": 2, "pairs": 9, names[0]: typed})

    assert answer.status_code < 500
    assert "Is empty" in answer.content.decode()
