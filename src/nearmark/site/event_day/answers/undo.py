"""What the two desks share: a reading of one's own is taken back, at a sheet as at the scale."""

import uuid
from typing import Final

from django.http import HttpRequest, HttpResponse, JsonResponse

from nearmark.errors import InputError, NearmarkError
from nearmark.site.common.forms import words
from nearmark.site.common.refusals import asks_json
from nearmark.site.common.responses import done
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event_day.answers.actions import take_back
from nearmark.words.desk import is_taken_back

UNDO: Final = "undo"
"""Name of the field that takes a reading back instead of adding one: its key."""

DOUBT: Final = "doubt"
"""Name of the field with the doubts that are answered with "save it as it is"."""


def undo_reading(request: HttpRequest, address: str) -> HttpResponse:
    """Take back the reading whose key was sent. ``address``: where to go on without script."""
    key = request.POST[UNDO]
    try:
        try:
            where = take_back(uuid.UUID(key), by=visitor_of(request).name)
        except ValueError as error:
            raise InputError("is not known", where="reading", mend="Load the page again") from error
    except NearmarkError as refusal:
        if asks_json(request):
            facts = {"saved": [], "refused": {key: words(refusal)}}
            return JsonResponse(facts, status=422)
        raise
    if asks_json(request):
        return JsonResponse({"saved": [key]})
    return done(request, is_taken_back(where), address)
