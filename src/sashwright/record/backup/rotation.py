"""Backups made by themselves: one a day, the old ones thinned out."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.utils import timezone

from sashwright.record.backup.archive import Manifest, make_backup

FOLDER = "backups"
EVERY = timedelta(days=1)
DAYS, WEEKS, MONTHS = 7, 5, 12
"""Kept: the last one of each of so many days, weeks and months."""

_STAMP = "%Y-%m-%d-%H%M%S"
_NAME = re.compile(r"sashwright-(\d{4}-\d{2}-\d{2}-\d{6})\.zip")


def folder() -> Path:
    """Where they lie: in the data folder."""
    return Path(settings.DATA_FOLDER) / FOLDER


def own_backups() -> list[tuple[datetime, Path]]:
    """Those made so far, the newest first, with their times (UTC) by their names."""
    found = []
    for path in folder().glob("sashwright-*.zip"):
        named = _NAME.fullmatch(path.name)
        if named:
            at = datetime.strptime(named[1], _STAMP).replace(tzinfo=UTC)
            found.append((at, path))
    return sorted(found, reverse=True)


def backup_now(passphrase: str | None = None) -> tuple[Path, Manifest]:
    """One more, and those thinned out that are past their time; where it lies and what it holds."""
    target = folder() / f"sashwright-{timezone.now().astimezone(UTC):{_STAMP}}.zip"
    manifest = make_backup(target, passphrase)
    made = own_backups()
    keep = kept(at for at, _ in made)
    for at, path in made:
        if at not in keep:
            path.unlink(missing_ok=True)
    return target, manifest


def backup_if_due() -> Path | None:
    """One more where the last is a day old, or from the future by a clock that was wrong."""
    made, now = own_backups(), timezone.now()
    if made and timedelta(0) <= now - made[0][0] < EVERY:
        return None
    return backup_now()[0]


def kept(times: Iterable[datetime]) -> set[datetime]:
    """Which of these stay: the newest of each of the latest days, weeks and months that have any."""
    newest_first = sorted(times, reverse=True)
    stay: set[datetime] = set()
    for count, span in ((DAYS, "%Y-%m-%d"), (WEEKS, "%G-%V"), (MONTHS, "%Y-%m")):
        newest: dict[str, datetime] = {}
        for at in newest_first:
            newest.setdefault(at.strftime(span), at)
        stay.update(list(newest.values())[:count])
    return stay
