"""A reading that looks like a slip is asked about before it is saved; it is kept when confirmed."""

import pytest

from nearmark.site.models import Change, CupRecord, DecisionEntry, SampleRow
from nearmark.words.doubts import doubt_question

SAMPLE = {"pieces": "75", "mass_g": "42.1", "instrument": "bench scale"}
CUP = {"tare_g": "86", "instrument": "bench scale", "batch": "thin"}


@pytest.fixture
def jar(lead, demo):
    """Address of a new jar of chickpeas, which weigh 0.42 g each."""
    lead.post(
        "/kit/items/add/",
        {"code": "C9", "name": "jar", "station": "count", "material": "chickpea"},
    )
    return f"/kit/{demo.items.get(code='C9').pk}/"


def asks(answer) -> list[str]:
    return [doubt_question(doubt) for doubt in answer.context["asked"]]


def test_75_for_100_is_asked_about_and_nothing_is_saved(lead, jar):
    before = SampleRow.objects.count()

    answer = lead.post(f"{jar}add/sample/", SAMPLE)

    assert answer.status_code == 422
    assert asks(answer) == ["Did you count 100 pieces?"]
    assert SampleRow.objects.count() == before
    assert 'value="42.1"' in answer.content.decode()


@pytest.mark.slow
def test_saved_as_it_is_it_stays_in_sight_and_in_the_history(lead, jar):
    asked = lead.post(f"{jar}add/sample/", SAMPLE).context["asked"]

    lead.post(f"{jar}add/sample/", SAMPLE | {"doubt": [doubt.id for doubt in asked]})

    page = lead.get(jar)
    assert [one.doubt for one in page.context["odd"]] == list(asked)
    assert page.content.decode().count("Look again.") == 1
    assert "Saved as it is: C9: 75 pieces" in Change.objects.first().why
    assert "1 to check again" in lead.get("/kit/").content.decode()


def test_an_answered_doubt_lets_no_other_value_through(lead, jar):
    asked = lead.post(f"{jar}add/sample/", SAMPLE).context["asked"]

    other = SAMPLE | {"mass_g": "421", "doubt": [doubt.id for doubt in asked]}

    assert lead.post(f"{jar}add/sample/", other).status_code == 422


def test_the_right_value_is_not_asked_about_and_its_number_is_repeated(lead, jar):
    right = SAMPLE | {"pieces": "100"}
    lead.post(f"{jar}add/sample/", right)

    page = lead.post(f"{jar}add/sample/", right | {"mass_g": "42.6"}, follow=True)

    assert "Now 2 samples of 100." in page.content.decode()


def test_the_number_of_pieces_is_never_filled_in(lead, jar):
    lead.post(f"{jar}add/sample/", SAMPLE | {"pieces": "100"})

    page = lead.get(f"{jar}?read=sample")

    assert page.context["next_form"]["pieces"].value() is None
    assert page.context["again"] == 100


@pytest.mark.slow
def test_after_the_third_sample_the_form_stays_until_one_goes_on(lead, jar):
    lead.post(f"{jar}add/empty/", {"tare_g": "212.4", "instrument": "bench scale"})
    for mass in ("42.1", "42.6", "42.3"):
        page = lead.post(
            f"{jar}add/sample/", SAMPLE | {"pieces": "100", "mass_g": mass}, follow=True
        )

    assert page.context["way"].kind == "full"
    assert page.context["next_form"] is None
    assert lead.get(jar).context["kind"] == "full"


def test_a_box_says_its_faces_on_its_own_page_without_a_reason(lead, demo):
    lead.post("/kit/items/add/", {"code": "B9", "name": "box", "station": "volume"})
    box = demo.items.get(code="B9")
    address = f"/kit/{box.pk}/faces/"
    inner = {"read": "outside, less two walls"}

    assert "The ruler is held" in lead.get(f"/kit/{box.pk}/").content.decode()
    assert lead.post(address, inner).status_code == 422
    assert lead.post(address, {"read": "inside", "wall_cm": "0.4"}).status_code == 422
    assert lead.post(address, inner | {"wall_cm": "0.4"}).status_code == 302
    box.refresh_from_db()
    assert (box.faces, str(box.wall_cm)) == ("outside", "0.4")
    assert lead.post(address, {"read": "inside"}).status_code == 409


def test_a_cup_without_its_point_is_asked_about_alone_and_among_many(lead, demo):
    one = lead.post("/kit/thing/cup/add/", CUP | {"number": "301"})
    many = lead.post("/kit/cups/paste/", CUP | {"lines": "301 8.6\n302 86", "batch": "thin"})

    assert [asks(one), asks(many)] == [["Is the decimal point in the wrong place: 8.6 g?"]] * 2
    assert not CupRecord.objects.filter(number__in=("301", "302")).exists()
    kept = [doubt.id for doubt in many.context["asked"]]
    again = lead.post("/kit/cups/paste/", CUP | {"lines": "301 8.6\n302 86", "doubt": kept})
    assert again.status_code == 302
    assert "cup 302: 86 g" in lead.get("/kit/cups/").content.decode()


def test_a_decided_key_far_from_the_measured_one_is_asked_about(lead, demo):
    address = f"/kit/{demo.items.get(code='C3').pk}/decide/"
    decision = {"value": "24312", "why": "as on the bag"}

    answer = lead.post(address, decision)

    assert asks(answer) == ["Is one digit wrong: 14312?"]
    assert not DecisionEntry.objects.filter(reason="as on the bag").exists()
    kept = [doubt.id for doubt in answer.context["asked"]]
    assert lead.post(address, decision | {"doubt": kept}).status_code == 302


def test_no_field_that_is_needed_is_called_optional(lead, demo):
    jar, cup = demo.items.get(code="C3").pk, demo.cups.first().pk
    pages = (f"/kit/{jar}/", f"/kit/thing/cup/{cup}/", f"/kit/thing/item/{jar}/", "/standings/")

    for page in pages:
        text = lead.get(page).content.decode()
        assert 'Reason <span class="quiet small">(if you like)' not in text


def test_the_target_cup_is_not_asked_to_be_measured(lead, demo):
    post = {"code": "M9", "name": "cup", "station": "mass"}

    page = lead.post("/kit/items/add/", post, follow=True).content.decode()

    assert "measure it now" not in page.casefold()
    assert page.count("Nothing to measure here") == 1


@pytest.mark.parametrize(
    ("kind", "post", "ask"),
    [
        ("sample", {"pieces": "100", "mass_g": "429"}, "point in the wrong place: 42.9 g?"),
        ("sample", {"pieces": "100", "mass_g": "255.2"}, "the empty container (212.4 g) left on"),
        ("sample", {"pieces": "100", "mass_g": "24.9"}, "two digits exchanged: 42.9 g?"),
        ("full", {"gross_g": "21.2"}, "Are full and empty exchanged"),
        ("empty", {"tare_g": "122.4"}, "Are two digits exchanged: 212.4 g?"),
    ],
)
def test_each_slip_at_the_scale_is_asked_about_and_its_right_value_is_not(
    lead, jar, kind, post, ask
):
    scale = {"instrument": "bench scale"}
    lead.post(f"{jar}add/empty/", scale | {"tare_g": "212.4"})
    right = {
        "sample": {"pieces": "100", "mass_g": "42.9"},
        "full": {"gross_g": "2212.4"},
        "empty": {"tare_g": "212.5"},
    }

    asked = asks(lead.post(f"{jar}add/{kind}/", scale | post))
    assert len(asked) == 1
    assert ask in asked[0]
    assert lead.post(f"{jar}add/{kind}/", scale | right[kind]).status_code == 302


@pytest.mark.parametrize(
    ("wrong", "ask"),
    [
        ("6.4", "Was it read in inches? That would be 16.3 cm."),
        ("162", "Was it read in millimetres? That would be 16.2 cm."),
        ("17.1", "Was this one read outside, with the walls?"),
        ("12.6", "Are two digits exchanged: 16.2 cm?"),
    ],
)
def test_each_slip_at_a_box_is_asked_about_and_its_right_value_is_not(lead, demo, wrong, ask):
    lead.post("/kit/items/add/", {"code": "B9", "name": "box", "station": "volume"})
    box = f"/kit/{demo.items.get(code='B9').pk}/"
    lead.post(f"{box}faces/", {"read": "inside"})
    edge = {"side": "length", "instrument": "steel ruler"}
    lead.post(f"{box}add/edge/", edge | {"reading_cm": "16.2"})

    assert asks(lead.post(f"{box}add/edge/", edge | {"reading_cm": wrong})) == [ask]
    assert lead.post(f"{box}add/edge/", edge | {"reading_cm": "16.3"}).status_code == 302
