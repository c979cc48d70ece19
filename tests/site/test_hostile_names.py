"""Names that are code: shown as text on every page, in every PDF, in every exported cell."""

import csv
import io
import re
import zipfile

import pypdfium2
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import DatabaseError, connection, transaction
from django.urls import URLPattern, get_resolver
from django.utils import timezone

from nearmark.event_folder.writer import contents_of
from nearmark.site.event.load import load_event
from nearmark.site.models import Account, Change, Club, EventRecord, PairRecord, Pupil

SCRIPT = "<script>alert('pair')</script>"
FORMULA = "=HYPERLINK(1)"
FORMULA_STARTS = tuple("=+-@\t\r")
MARKUP = '#import "x"; *bold* $a$ <label>'


@pytest.fixture
def spoilt(demo) -> EventRecord:
    """The invented event, where everything that a person names is code."""
    first, second, *_ = demo.pairs.order_by("pk")
    PairRecord.objects.filter(pk=first.pk).update(
        school=SCRIPT, members=[SCRIPT, MARKUP], heat=SCRIPT
    )
    PairRecord.objects.filter(pk=second.pk).update(school=FORMULA, members=[FORMULA, "@SUM(1)"])
    demo.items.filter(code="C3").update(name=SCRIPT)
    demo.name, demo.venue = f"{SCRIPT} {MARKUP}", FORMULA
    demo.released_at, demo.shows_names, demo.shows_feedback = timezone.now(), True, True
    demo.save()
    Change.objects.create(
        event=demo, at=timezone.now(), who=SCRIPT, what=SCRIPT, old=SCRIPT, new=SCRIPT, why=SCRIPT
    )
    Account.objects.filter(name="Juniper").update(name="<b>J</b>")
    for club in Club.objects.all():
        Club.objects.filter(pk=club.pk).update(name=SCRIPT)
    Pupil.objects.update(name=FORMULA)
    return demo


def addresses(demo: EventRecord):
    known = {
        "item_id": demo.items.get(code="C3").pk,
        "pair_id": demo.pairs.order_by("pk").first().pk,
        "club_id": getattr(Club.objects.first(), "pk", 1),
        "pupil_id": getattr(Pupil.objects.first(), "pk", 1),
    }
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns:
        if isinstance(pattern, URLPattern) and pattern.name not in {"sign-out", "lock"}:
            yield "/" + re.sub(
                r"<(?:(\w+):)?(\w+)>",
                lambda m: str(known.get(m[2], "sample" if m[1] == "str" else 1)),
                str(pattern.pattern),
            )


@pytest.mark.slow
def test_a_name_that_is_script_or_formula_is_text_everywhere(lead, spoilt):
    wrong, shown, files = [], 0, 0
    for address in addresses(spoilt):
        answer = lead.get(address)
        content = b"".join(answer.streaming_content) if answer.streaming else answer.content
        kind = answer.headers.get("Content-Type", "")
        if answer.status_code >= 500:
            wrong.append((address, answer.status_code))
        elif kind.startswith("text/html"):
            wrong += [(address, "script")] if SCRIPT in content.decode() else []
            shown += "alert(" in content.decode()
        elif kind == "application/pdf":
            document = pypdfium2.PdfDocument(content)
            files += len(document) > 0
            document.close()
        elif kind == "application/zip":
            files += 1
            wrong += [(address, cell) for cell in cells_of_archive(content) if bites(cell)]
        elif kind.startswith("text/csv"):
            files += 1
            wrong += [(address, cell) for cell in cells_of(content.decode()) if bites(cell)]

    assert wrong == []
    # It was on the pages, not just nowhere.
    assert shown > 5
    assert files > 3


def cells_of_archive(content: bytes):
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        for name in archive.namelist():
            if name.endswith(".csv"):
                yield from cells_of(archive.read(name).decode())


def cells_of(text: str):
    return [cell for row in csv.reader(io.StringIO(text)) for cell in row]


def bites(cell: str) -> bool:
    """Whether a spreadsheet would run it; a negative number is none."""
    return cell.startswith(FORMULA_STARTS) and not re.fullmatch(r"-?[0-9.]+", cell)


def test_files_that_name_another_place_are_left_alone(lead, no_event, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    wanted = ("../../event.toml", "/etc/cron.d/pairs.csv", "..\\..\\pairs.csv", "C:\\pairs.csv")
    files = [SimpleUploadedFile("x", b"name = 'x'") for _ in wanted]
    for file, name in zip(files, wanted, strict=True):
        vars(file)["_name"] = name  # past the check of a well-meaning sender

    answer = lead.post("/event/import/", {"files": files})

    assert answer.status_code == 422
    assert list(tmp_path.iterdir()) == []
    assert EventRecord.objects.count() == 0


def test_an_event_with_one_file_spoilt_brings_nothing(lead, demo, settings):
    contents = dict(contents_of(load_event(demo)))
    spoilt = contents["pairs.csv"].replace(b"\n", b"\n\x00", 2)
    answer = lead.post(
        "/event/import/",
        {"files": [SimpleUploadedFile(n, spoilt if n == "pairs.csv" else c)
                   for n, c in contents.items()]},
    )  # fmt: skip

    assert answer.status_code == 422
    assert EventRecord.objects.count() == 1


@pytest.fixture
def read_only(demo):
    """A database that takes nothing, as on a disk that went read-only."""

    def begin() -> None:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA query_only=1")

    yield begin
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA query_only=0")


def test_pages_can_still_be_read_when_nothing_can_be_written(lead, demo, read_only, fake_clock):
    lead.get("/event/")
    fake_clock.forward(minutes=3)  # so that the last sight of the device is due to be noted
    lead.raise_request_exception = False
    read_only()

    told = {}
    for address in ("/event/", "/entry/", "/standings/", "/results/", "/pairs/", "/history/"):
        # The first failure breaks the transaction of the test, not that of a server.
        with transaction.atomic():
            told[address] = lead.get(address).status_code

    assert told == dict.fromkeys(told, 200)


def test_what_cannot_be_written_is_refused_plainly_on_every_way(lead, demo, read_only):
    lead.raise_request_exception = False
    pair = demo.pairs.first()
    read_only()

    for address, sent in (
        ("/pairs/add/", {"school": "Quillbank", "first": "Ada"}),
        (f"/pairs/{pair.pk}/status/", {"status": "absent"}),
        ("/devices/code/", {"role": "scorer"}),
        ("/standings/withhold/", {"why": "slip"}),
    ):
        try:
            with transaction.atomic():
                answer = lead.post(address, sent)
        except DatabaseError:  # of the test's own transaction
            continue
        page = answer.content.decode()
        assert answer.status_code in {409, 422, 503}, (address, page[:200])
        assert "Traceback" not in page


def test_a_disk_that_fails_before_a_page_is_at_work_is_said_plainly(lead, demo, read_only):
    read_only()
    lead.raise_request_exception = False

    with transaction.atomic():
        page = lead.post("/sign-out/")
        transaction.set_rollback(True)

    assert page.status_code == 503
    assert "othing was saved" in page.content.decode()
