"""The one Django application of the site."""

from django.apps import AppConfig


class SiteConfig(AppConfig):
    """Names the application; its tables begin with ``site_``."""

    name = "nearmark.site"
    label = "site"
    default_auto_field = "django.db.models.BigAutoField"
