"""What the server runs."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nearmark.site.configured")

application = get_wsgi_application()

# After the applications are ready: these read tables.
from nearmark.site import worker  # noqa: E402
from nearmark.site.serving import end_with_parent  # noqa: E402

end_with_parent()
worker.start()
