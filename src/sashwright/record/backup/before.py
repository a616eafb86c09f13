"""A copy of the database as it is, before a newer program changes its tables: the way back."""

from __future__ import annotations

import logging
import shutil
import sqlite3
import subprocess
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from django.db import connection

from sashwright.record.backup.rotation import folder

log = logging.getLogger("sashwright.backup")

MOST = 5
"""Copies kept."""


def copy_before(step: str) -> Path | None:
    """Copy the whole database before the migration ``step``; answer where to, if it could be done.

    The older program opens the copy as it was: put it in the place of the database, and start that. On
    PostgreSQL its own pg_dump does it, where that is installed. Raises ``OSError`` and ``sqlite3.Error``:
    without its copy, nothing may be changed.
    """
    stamp = f"{datetime.now(UTC):%Y-%m-%d-%H%M%S}"
    place = folder()
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    if connection.vendor == "sqlite":
        target = place / f"before-{step}-{stamp}.db"
        _copy_file(Path(str(connection.settings_dict["NAME"])), target)
    else:
        target = place / f"before-{step}-{stamp}.dump"
        if not _dump(target):
            log.warning(
                "No copy was made before the upgrade: pg_dump is not installed. Make your own."
            )
            return None
    for old in sorted(place.glob("before-*"), key=lambda path: path.stat().st_mtime)[:-MOST]:
        old.unlink()
    log.info("Before the upgrade the database was copied to %s.", target)
    return target


def _copy_file(source: Path, target: Path) -> None:
    draft = target.with_suffix(".part")
    draft.touch(mode=0o600)
    with closing(sqlite3.connect(source)) as here, closing(sqlite3.connect(draft)) as there:
        here.backup(there)
    draft.replace(target)


def _dump(target: Path) -> bool:
    program = shutil.which("pg_dump")
    if program is None:
        return False
    known = connection.settings_dict
    environ = {"PGPASSWORD": str(known["PASSWORD"])}
    command = [program, "-Fc", "-f", str(target), "-d", str(known["NAME"])]
    for flag, field in (("-h", "HOST"), ("-p", "PORT"), ("-U", "USER")):
        if known[field]:
            command += [flag, str(known[field])]
    target.touch(mode=0o600)
    done = subprocess.run(command, env=environ, capture_output=True, text=True, check=False)
    if done.returncode:
        target.unlink(missing_ok=True)
        raise OSError(f"pg_dump: {done.stderr.strip()}")
    return True


def is_kept_in_memory() -> bool:
    """Whether there is no file to copy, as in tests."""
    name = str(connection.settings_dict["NAME"])
    return connection.vendor == "sqlite" and ("memory" in name or not Path(name).is_file())
