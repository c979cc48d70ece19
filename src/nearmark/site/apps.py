"""The one Django application of the site."""

from pathlib import Path

from django.apps import AppConfig
from django.conf import settings
from django.db.models.signals import post_migrate

from nearmark.printing.fonts_in_use import FONTS_FOLDER, use_fonts_of


class SiteConfig(AppConfig):
    """Names the application; its tables begin with ``site_``."""

    name = "nearmark.site"
    label = "site"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Make the triggers after every ``migrate``, add the kinds of long work, and find fonts."""
        if data := getattr(settings, "NEARMARK_DATA", ""):
            use_fonts_of(Path(data) / FONTS_FOLDER)
        from nearmark.site.server import long_work  # noqa: F401, PLC0415 - needs the tables
        from nearmark.site.server.revision_triggers import make_triggers  # noqa: PLC0415 - needs the tables

        post_migrate.connect(make_triggers, sender=self)
