"""Which migrations this program knows, by name."""

from __future__ import annotations

from importlib import resources


def last_migration() -> str:
    """The newest migration of the record: ``0002_…``."""
    folder = resources.files("sashwright.record.migrations")
    names = (entry.name.removesuffix(".py") for entry in folder.iterdir())
    return max(name for name in names if name[:4].isdigit())
