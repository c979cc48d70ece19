"""The page of a pair: who decides, how sure that is, no advice on noise."""

import re


def test_a_pair_without_a_common_station_is_told_so(coach, club, pair, text_of, log):
    log(club, "Ada", [0.9])

    assert "no station yet that both have practised" in text_of(
        coach.get(f"/season/pair/{pair.pk}/")
    )


def test_a_clear_pair_is_advised_with_its_probability(coach, club, pair, text_of, log):
    log(club, "Ada", [1.01, 0.99, 1.0, 1.02, 0.98, 1.0, 1.01, 0.99])
    log(club, "Bo", [0.5, 0.55, 0.45, 0.5, 0.52, 0.48, 0.5, 0.5])

    page = text_of(coach.get(f"/season/pair/{pair.pk}/"))

    assert "Ada decides: " in page
    assert "no other way is a point better" in page
    assert "too early" not in page.casefold()
    assert "<dd>Ada" in page


def test_the_ways_to_choose_name_the_pupils(coach, club, pair, text_of):
    page = text_of(coach.get(f"/season/pair/{pair.pk}/"))

    for way in ("Ada decides", "Bo decides", "two parts Bo, one part Ada"):
        assert f">{way}</option>" in page
    assert "first pupil" not in page


def test_two_alike_get_no_advice_on_noise(coach, club, pair, text_of, log):
    log(club, "Ada", [0.9, 1.1, 1.0])
    log(club, "Bo", [1.1, 0.9, 1.0])

    page = text_of(coach.get(f"/season/pair/{pair.pk}/"))

    # With three attempts each the middle of both is as good as any: that may be said.
    (lead,) = re.findall(r'<p class="lead">([^<]*)</p>', page)
    assert "decides" not in lead
    assert not re.search(r"\d % of (Ada|Bo)", page)


def test_a_trained_way_is_kept_until_the_difference_is_clear(coach, club, pair, text_of, log):
    log(club, "Ada", [1.01, 0.99, 1.0])
    log(club, "Bo", [0.5, 0.55, 0.45])

    coach.post(f"/season/pair/{pair.pk}/trained/", {"count": "second"})

    page = text_of(coach.get(f"/season/pair/{pair.pk}/"))
    assert "Trained: Bo decides. Keep what the pair has trained" in page


def test_a_way_that_is_no_longer_offered_counts_as_not_settled(coach, club, pair, text_of, log):
    log(club, "Ada", [1.01, 0.99])
    log(club, "Bo", [0.5, 0.55])
    pair.trained = {"count": "weighted"}
    pair.save()

    page = text_of(coach.get(f"/season/pair/{pair.pk}/"))

    assert "Trained:" not in page
