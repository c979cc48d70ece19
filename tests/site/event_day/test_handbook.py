"""The handbook as PDF: a link on the page of papers, open to everybody."""

import pytest


@pytest.mark.slow
@pytest.mark.parametrize("name", ["handbook", "coaches-handout"])
def test_the_page_of_papers_links_to_it_and_everybody_may_open_it(lead, client, demo, name):
    address = f"/handbook/{name}.pdf"
    assert address in lead.get("/paper/").content.decode()

    for paper in ("a4", "us-letter"):
        answer = client.get(address, {"paper": paper})
        assert answer.status_code == 200
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")


def test_no_other_file_is_printed(client, db):
    assert client.get("/handbook/README.pdf").status_code == 422
