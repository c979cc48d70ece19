"""The entry of an answer as a plain Django view: what the site's own way is measured against.

Run by ``benchmarks/site.py``: python benchmarks/plain_entry.py DATA PORT

The same database with the same durability (write-ahead log, full sync, one transaction an answer),
the same sessions and accounts, the usual middleware, the usual queries by the ORM, and the server
library's own threads.  It has no shared commit, no snapshot of the event and no roles.
"""

import os
import sys
import uuid
from decimal import Decimal

from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.http import HttpRequest, JsonResponse
from django.urls import path

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
]


def save(request: HttpRequest) -> JsonResponse:
    """Keep one answer: a session, an account, a pair, an item, the other reading, one insert."""
    from django.db import transaction  # noqa: PLC0415 - after the setup
    from django.utils import timezone  # noqa: PLC0415

    from nearmark.site.models import AnswerEntry, ItemRecord, PairRecord  # noqa: PLC0415

    if not request.user.is_authenticated:
        return JsonResponse({}, status=401)
    (cell,) = (name[2:] for name in request.POST if name.startswith("v-"))
    pair_id, item_id = map(int, cell.split("-"))
    key = uuid.UUID(request.POST[f"k-{cell}"])
    with transaction.atomic():
        pair = PairRecord.objects.select_related("event").get(pk=pair_id)
        item = ItemRecord.objects.get(pk=item_id)
        before = AnswerEntry.objects.filter(key=key).first()
        made = list(AnswerEntry.objects.filter(pair=pair, item=item, struck_at=None))
        if before is None and (pair.event.released_at or len(made) > 1):
            return JsonResponse({}, status=422)
        if before is None:
            AnswerEntry.objects.create(
                key=key,
                pair=pair,
                item=item,
                reading=len(made) + 1,
                clerk=request.user.get_username(),
                status="answered",
                value=Decimal(request.POST[f"v-{cell}"]),
                at=timezone.now(),
            )
    return JsonResponse({"saved": [cell], "refused": {}, "questions": {}})


def first(_: HttpRequest) -> JsonResponse:
    """Answer that it is up."""
    return JsonResponse({})


urlpatterns = [path("entry/save/", save), path("results/", first)]


def application(environ, start):
    """The WSGI application, made at the first request of the process that answers."""
    global _site  # noqa: PLW0603
    if _site is None:
        import django  # noqa: PLC0415
        from django.core.wsgi import get_wsgi_application  # noqa: PLC0415

        from nearmark.site.server import configured  # noqa: PLC0415

        values = {k: getattr(configured, k) for k in dir(configured) if k.isupper()}
        settings.configure(**values | {"MIDDLEWARE": MIDDLEWARE, "ROOT_URLCONF": "plain_entry"})
        django.setup()
        _site = get_wsgi_application()
    return _site(environ, start)


_site: WSGIHandler | None = None

if __name__ == "__main__":
    from granian import Granian
    from granian.constants import Interfaces

    os.environ["NEARMARK_DATA"] = sys.argv[1]
    os.environ["PYTHONPATH"] = os.path.dirname(os.path.abspath(__file__))  # noqa: PTH100, PTH120
    Granian(
        "plain_entry:application",
        address="127.0.0.1",
        port=int(sys.argv[2]),
        interface=Interfaces.WSGI,
        blocking_threads=16,
        log_enabled=False,
    ).serve()
