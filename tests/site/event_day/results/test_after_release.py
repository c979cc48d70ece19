"""Pages on which nothing is left to do after the release say so."""

import pytest
from django.utils import timezone

from nearmark.site.door.access import Role

SAID = {
    "/differences/": "The results are out: nothing can be saved here now.",
    "/clock/control/": "The results are out: no heat can be started now.",
    "/kit/pour/": "The results are out: nothing more is planned",
    "/kit/seal/": "The keys were not sealed.",
}


@pytest.mark.parametrize("address", SAID)
def test_it_is_said_once_the_results_are_out_and_not_before(lead, demo, address):
    assert SAID[address] not in lead.get(address).content.decode()

    demo.released_at = timezone.now()
    demo.save()

    assert SAID[address] in lead.get(address).content.decode()


def test_a_difference_after_the_release_leads_the_lead_to_corrections(lead, sign_in, demo):
    demo.released_at = timezone.now()
    demo.save()
    link = '<a href="/corrections/">Corrections</a></p>'

    def source(visitor):
        return "".join(visitor.get("/differences/").content.decode().split())

    assert "".join(link.split()) in source(lead)
    assert "".join(link.split()) not in source(sign_in(Role.SCORER, "Cedar"))
