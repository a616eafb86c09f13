"""What the shop's houses teach each other: tasks that are finished, with the hours they took."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache

from sashwright.chapters.price import finished
from sashwright.chapters.price.hours import Done
from sashwright.record.errors import Refused
from sashwright.record.facts import knowledge
from sashwright.record.houses import list_houses, load_house


def jobs_elsewhere(slug: str) -> list[Done]:
    """Finished tasks at all other houses of the shop."""
    tables = id(knowledge())
    others = (row for row in list_houses() if row.slug != slug)
    return [job for row in others for job in _jobs_of(row.slug, row.changed_at, tables)]


@lru_cache(maxsize=512)
def _jobs_of(slug: str, changed: datetime, tables: int) -> tuple[Done, ...]:
    try:
        jobs, _ = finished(load_house(slug), knowledge())
    except Refused:
        # An older house that cannot be read any more teaches nothing.
        return ()
    return tuple(jobs)
