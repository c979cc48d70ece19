"""The one Django application of the site."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class SiteConfig(AppConfig):
    """Names the application; its tables begin with ``site_``."""

    name = "nearmark.site"
    label = "site"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Make the triggers after every ``migrate``, and add the kinds of long work."""
        from nearmark.site.server import long_work  # noqa: F401, PLC0415 - needs the tables
        from nearmark.site.server.revision_triggers import make_triggers  # noqa: PLC0415 - needs the tables

        post_migrate.connect(make_triggers, sender=self)
