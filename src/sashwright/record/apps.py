"""The record as a Django application."""

from __future__ import annotations

from django.apps import AppConfig


class RecordConfig(AppConfig):
    """Houses, families, windows, readings, and the history of them all."""

    name = "sashwright.record"
    label = "record"
    verbose_name = "record"
    default_auto_field = "django.db.models.BigAutoField"
