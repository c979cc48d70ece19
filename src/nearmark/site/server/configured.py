"""Django's settings module: ``site_settings`` with what the environment says.

``nearmark serve`` sets the environment; without it nothing is kept (checks and tests).
"""

import os
from pathlib import Path

from nearmark.site.server.settings import site_settings

_data = os.environ.get("NEARMARK_DATA")
_hosts = os.environ.get("NEARMARK_HOSTS", "localhost 127.0.0.1").split()

globals().update(
    site_settings(
        Path(_data) if _data else None,
        database_url=os.environ.get("NEARMARK_DATABASE_URL", ""),
        hosts=_hosts,
        tls=os.environ.get("NEARMARK_TLS") == "1",
        url=os.environ.get("NEARMARK_URL", ""),
        pour_ahead=bool(_data) and os.environ.get("NEARMARK_POUR_AHEAD", "1") == "1",
    )
)
