"""Sealed keys, the head of a release, and what anybody can check with it."""

import hashlib
import io
import re
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest
from django.db.models import F
from pypdf import PdfReader

from nearmark.contest.corrections import KeyCorrection
from nearmark.contest.proof.release import PairProof
from nearmark.contest.results import results
from nearmark.event_folder.verify import verify_folder
from nearmark.site.event.load import load_event
from nearmark.site.event_day.results import actions as releases
from nearmark.site.event_day.results import corrections
from nearmark.site.kit import seal_actions as seals
from nearmark.site.models import EventRecord, KeySeal, PairRecord, ReleaseProof, SampleRow


@pytest.fixture
def released(demo) -> EventRecord:
    """The invented event with sealed keys, released."""
    seals.seal_keys(by="Juniper")
    releases.release(by="Juniper", why="a test", shows_names=False, shows_feedback=True)
    demo.refresh_from_db()
    return demo


def unpacked(content: bytes, place: Path) -> Path:
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        packed.extractall(place)
    return place


def hashes_on(page: str) -> list[str]:
    shown = re.findall(r'<p class="hash">([0-9a-f ]+)</p>', page)
    return [text.replace(" ", "") for text in shown]


def test_the_hash_is_shown_at_once_and_the_keys_are_not(lead, client, demo):
    assert lead.post("/kit/seal/", follow=True).status_code == 200
    seal = KeySeal.objects.get()

    page = client.get("/verify/").content.decode()
    assert hashes_on(page) == [seal.commitment]
    assert seal.text.split("\n")[3] not in page
    assert seal.text.rpartition("\t")[2].strip() not in page


def test_the_same_keys_are_not_sealed_twice_and_other_ones_are(lead, demo):
    lead.post("/kit/seal/")
    assert lead.post("/kit/seal/").status_code == 409
    SampleRow.objects.filter(item__code="C2").update(mass_g=F("mass_g") + 3)
    assert "have changed since" in lead.get("/kit/seal/").content.decode()

    lead.post("/kit/seal/")
    assert KeySeal.objects.count() == 2


def test_keys_that_are_not_measured_cannot_be_sealed(lead, demo):
    SampleRow.objects.filter(item__code="C2").delete()
    refused = lead.post("/kit/seal/")

    assert refused.status_code == 409
    assert "C2 has no key yet" in refused.content.decode()


@pytest.mark.slow
def test_the_exported_folder_is_the_released_one(lead, released, tmp_path):
    folder = unpacked(lead.get("/event/export.zip").content, tmp_path) / "event"
    head = ReleaseProof.objects.get().head

    found = verify_folder(folder, printed_head=head)
    assert found.differences == ()
    text = (folder / "sealed-keys-1.txt").read_bytes()
    assert hashlib.sha256(text).hexdigest() == KeySeal.objects.get().commitment


def test_a_change_behind_the_back_of_the_site_is_named(lead, released, tmp_path):
    released.changes.filter(what__startswith="sealed").update(who="Rowan")
    PairRecord.objects.filter(code="P03").update(school="Elsewhere")
    folder = unpacked(lead.get("/event/export.zip").content, tmp_path) / "event"

    found = "\n".join(verify_folder(folder).differences)
    assert "history line" in found
    assert "pairs.csv, row" in found


def test_the_folder_for_everybody_holds_without_a_name(lead, released, tmp_path):
    folder = unpacked(lead.get("/exports/released.zip").content, tmp_path)

    assert verify_folder(folder, printed_head=ReleaseProof.objects.get().head).holds
    everything = b"".join(p.read_bytes() for p in folder.iterdir()).decode()
    names = {name for pair in PairRecord.objects.all() for name in pair.members}
    assert not [name for name in names if f",{name}," in everything]


@pytest.mark.slow
def test_a_correction_gives_a_second_release_that_follows_from_the_first(lead, released, tmp_path):
    first = ReleaseProof.objects.get().head
    correction = KeyCorrection("C1", Decimal(430), by="Juniper", why="counted again by two")
    corrections.correct(correction, number=1)
    second = ReleaseProof.objects.exclude(head=first).get()

    folder = unpacked(lead.get("/event/export.zip").content, tmp_path) / "event"
    found = verify_folder(folder, printed_head=second.head)
    assert found.differences == ()
    assert any("Reason: counted again by two" in line for line in found.facts)
    assert "that of release 1" in verify_folder(folder, printed_head=first).differences[0]


def test_the_public_page_checks_the_proof_of_a_pair(client, released):
    text = client.get("/results/pair/proof.txt?code=P03").content.decode()
    head = ReleaseProof.objects.get().head
    assert PairProof.from_text(text).holds

    good = client.post("/verify/", {"proof": text, "head": head.upper()})
    assert "Pair P03" in good.content.decode()
    bad = client.post("/verify/", {"proof": text.replace('"place":"', '"place":"1'), "head": ""})
    assert "not in the release" in bad.content.decode()
    other = client.post("/verify/", {"proof": text, "head": "0" * 64})
    assert "of another release" in other.content.decode()


@pytest.mark.parametrize("text", ["{}", "nonsense", "[" * 5000, '{"leaf":{}}'])
def test_what_is_no_proof_is_refused_on_the_page(client, released, text):
    refused = client.post("/verify/", {"proof": text})

    assert refused.status_code == 422
    assert "Copy all of it" in refused.content.decode()


def test_a_pair_behind_the_last_public_place_has_no_proof(client, demo):
    """It would say the place that the lead does not publish."""
    releases.release(
        by="Juniper", why="a test", shows_names=False, shows_feedback=True, public_places=3
    )
    lines = results(load_event(demo)).pairs

    assert client.get(f"/results/pair/proof.txt?code={lines[0].pair.code}").status_code == 200
    behind = lines[20].pair.code
    assert client.get(f"/results/pair/proof.txt?code={behind}").status_code == 409
    assert "Proof of this" not in client.get(f"/results/pair/?code={behind}").content.decode()


def test_the_page_of_a_pair_carries_its_proof(client, released):
    page = client.get("/results/pair/?code=P03").content.decode()

    assert "Proof of this result" in page
    assert "/results/pair/proof.txt?code=P03" in page


def test_nothing_is_proved_before_the_release(client, lead, demo):
    assert "not out yet" in client.get("/verify/").content.decode()
    assert client.get("/results/pair/proof.txt?code=P03").status_code == 409
    assert lead.get("/exports/released.zip").status_code == 409


def text_of(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s", "", "".join(page.extract_text() for page in pages))


@pytest.mark.slow
def test_the_papers_and_the_public_pages_carry_seal_and_head(lead, client, demo):
    lead.post("/kit/seal/")
    commitment = KeySeal.objects.get().commitment

    assert commitment in client.get("/results/").content.decode().replace(" ", "")
    for address in ("/paper/station-rules.pdf", "/standings/key-sheet.pdf", "/paper/key-sheet.pdf"):
        assert commitment in text_of(lead.get(address).content), address
    assert "Headofthisrelease" not in text_of(lead.get("/standings/standings.pdf").content)

    releases.release(by="Juniper", why="a test", shows_names=False)
    head = ReleaseProof.objects.get().head
    assert head in text_of(lead.get("/standings/standings.pdf").content)
    assert hashes_on(client.get("/results/").content.decode()) == [head]
