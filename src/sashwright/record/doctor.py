"""Whether an installation is in good health: each point looked at, and what to do where it is not."""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from importlib import metadata
from pathlib import Path
from typing import Literal

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from sashwright import __version__
from sashwright.record.backup.archive import BackupError, check, is_locked
from sashwright.record.backup.rotation import EVERY, own_backups
from sashwright.record.models import Change, Photograph

State = Literal["good", "look", "bad"]

LITTLE_ROOM = 2_000_000_000
NO_ROOM = 200_000_000
"""Left on the disk [bytes]."""


@dataclass(frozen=True, slots=True)
class Point:
    """One thing looked at: how it is, and what to do about it."""

    about: str
    state: State
    says: str
    do: str = ""


def examine() -> list[Point]:
    """Look at everything; what cannot even be looked at is bad."""
    return [_looked(about, look) for about, look in _POINTS]


def _looked(about: str, look: Callable[[], tuple[State, str, str]]) -> Point:
    try:
        return Point(about, *look())
    except (OSError, DatabaseError, BackupError, metadata.PackageNotFoundError) as error:
        return Point(about, "bad", f"cannot be looked at: {error}", "see what the message says")


def _versions() -> tuple[State, str, str]:
    found = ", ".join(
        f"{name} {metadata.version(name)}" for name in ("django", "pydantic", "numpy")
    )
    python = ".".join(map(str, sys.version_info[:3]))
    return "good", f"Sashwright {__version__}, Python {python}, {found}", ""


def _data_folder() -> tuple[State, str, str]:
    folder = Path(settings.DATA_FOLDER)
    if not os.access(folder, os.W_OK):
        return (
            "bad",
            f"{folder} cannot be written",
            "give yourself the right, or set SASHWRIGHT_HOME",
        )
    if os.name == "posix" and folder.stat().st_mode & 0o077:
        return "look", f"others on this computer can read {folder}", f"chmod 700 {folder}"
    return "good", f"{folder}", ""


def _disk() -> tuple[State, str, str]:
    left = shutil.disk_usage(settings.DATA_FOLDER).free
    says = f"{left / 1e9:.1f} GB left"
    if left < NO_ROOM:
        return "bad", says, "make room now: saving will soon fail"
    return ("look", says, "make room soon") if left < LITTLE_ROOM else ("good", says, "")


def _database() -> tuple[State, str, str]:
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if plan:
        return (
            "bad",
            f"{len(plan)} steps behind this program",
            "start Sashwright once to bring it up",
        )
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA quick_check(3)")
            told = ", ".join(str(row[0]) for row in cursor.fetchall())
            if told != "ok":
                return "bad", f"damaged: {told}", "stop Sashwright and restore the last backup"
            cursor.execute("PRAGMA foreign_key_check")
            if cursor.fetchone() is not None:
                return "bad", "rows point to nothing", "restore the last backup"
        cursor.execute("SELECT count(*) FROM record_house")
        houses = cursor.fetchone()[0]
    name = {"sqlite": "SQLite", "postgresql": "PostgreSQL"}.get(
        connection.vendor, connection.vendor
    )
    return "good", f"{name}, {houses} houses, whole", ""


def _clock() -> tuple[State, str, str]:
    now = timezone.now()
    last = Change.objects.order_by("-at").values_list("at", flat=True).first()
    if last is not None and last > now + timedelta(minutes=5):
        says = f"something was saved {last - now} from now"
        return "look", says, "set the computer's clock, and let it set itself from the network"
    if now.year < 2025:
        return "bad", f"it says {now:%Y-%m-%d}", "set the computer's clock"
    return "good", f"{timezone.localtime(now):%Y-%m-%d %H:%M} {time.tzname[time.daylight > 0]}", ""


def _backup() -> tuple[State, str, str]:
    made = own_backups()
    if not made:
        return "look", "none yet", "sashwright backup"
    at, last = made[0]
    age, how = timezone.now() - at, "locked"
    if not is_locked(last):
        # A locked one takes its pass phrase, which nobody is here to give.
        check(last)
        how = "whole"
    says = f"the last is {how} and {_age(age)} old; {len(made)} kept in {last.parent}"
    if age > 7 * EVERY:
        return "look", says, "sashwright backup; and keep a copy on another disk"
    return "good", says, ""


def _photographs() -> tuple[State, str, str]:
    folder = Path(settings.DATA_FOLDER) / "photographs"
    kept = set(Photograph.objects.values_list("digest", flat=True))
    there = {path.name.partition(".")[0] for path in folder.glob("*/*")}
    gone = kept - there
    if gone:
        return "bad", f"{len(gone)} of {len(kept)} files are missing", "restore them from a backup"
    return "good", f"{len(kept)}, all there", ""


def _age(age: timedelta) -> str:
    hours = int(age.total_seconds() // 3600)
    return f"{hours} hours" if hours < 48 else f"{hours // 24} days"


_POINTS = (
    ("program", _versions),
    ("data folder", _data_folder),
    ("disk", _disk),
    ("database", _database),
    ("clock", _clock),
    ("backup", _backup),
    ("photographs", _photographs),
)


def lines(points: list[Point]) -> Iterator[str]:
    """The examination for a terminal."""
    width = max(len(point.about) for point in points)
    for point in points:
        mark = {"good": "good", "look": "LOOK", "bad": "BAD "}[point.state]
        yield f"{mark}  {point.about:<{width}}  {point.says}"
        if point.do:
            yield f"{'':>{width + 8}}-> {point.do}"
