"""The certificates of the season, a page a child."""

from django.http import HttpRequest, HttpResponse

from nearmark.coaching import attempts_in
from nearmark.printing import season_certificates_pdf
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import file_answer, paper_size
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.views import club_of


def certificates(request: HttpRequest, club_id: int) -> HttpResponse:
    """Those of a club as PDF, in the order of its pupils; names only when asked for."""
    record = club_of(club_id)
    habits = habits_of(record)
    names = record.pupils.values_list("name", flat=True)
    document = season_certificates_pdf(
        [attempts_in(habits.get(name, ())) for name in names],
        club=record.name,
        day=today(),
        with_names=request.GET.get("names") == "on",
        paper=paper_size(request),
    )
    return file_answer(document, "certificates.pdf")
