"""The pages as a Django application."""

from __future__ import annotations

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Pages that read the record, ask a chapter and show the answer."""

    name = "sashwright.web"
    label = "web"
    verbose_name = "pages"
