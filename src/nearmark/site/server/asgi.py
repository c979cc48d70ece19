"""What the server runs."""

import os
from pathlib import Path

from nearmark.site.server.serving import end_with_parent

end_with_parent()  # before all else: what follows takes seconds, and the folder is held meanwhile

from django.core.wsgi import get_wsgi_application  # noqa: E402

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nearmark.site.server.configured")

site = get_wsgi_application()

# After the applications are ready: these read tables.
from django.conf import settings  # noqa: E402
from django.urls import reverse  # noqa: E402

from nearmark.site.copies import snapshots  # noqa: E402
from nearmark.site.jobs import worker  # noqa: E402
from nearmark.site.server.front import Front  # noqa: E402

application = Front(site, [reverse(name) for name in ("first-run", "sign-in", "join", "unlock")])
worker.start()
if data := getattr(settings, "NEARMARK_DATA", ""):
    snapshots.start(Path(data))
