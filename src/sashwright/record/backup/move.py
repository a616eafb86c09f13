"""A shop moved to another database, and every row compared there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.management import call_command
from django.db import DatabaseError, connections, transaction

from sashwright.record.backup.archive import BackupError
from sashwright.record.backup.tables import (
    clear_people,
    count_on,
    is_empty,
    name_of_table,
    put_rows,
    rows_of,
    standing_still,
    tables,
)
from sashwright.record.database import database

_TO = "moved-to"


def move(url: str, folder: Path) -> dict[str, int]:
    """Copy all rows into the empty database at ``url``; answer how many of each table.

    ``folder`` is what relative places of a SQLite file count from. The rows are of one moment; those of the
    new database are read again and compared one by one before they are let stand. This record stays as it
    is. Raises ``BackupError``.
    """
    with _also(url, folder):
        try:
            call_command("migrate", database=_TO, interactive=False, verbosity=0)
            if not is_empty(_TO):
                raise BackupError("There is a record in that database already: it must be empty.")
            with standing_still():
                return _copy()
        except DatabaseError as error:
            raise BackupError(f"The other database cannot be used ({error}).") from None


def _copy() -> dict[str, int]:
    with transaction.atomic(using=_TO):
        clear_people(_TO)
        counts = {name_of_table(table): put_rows(rows_of(table), _TO) for table in tables()}
        count_on(_TO)
        for table in tables():
            _compare(name_of_table(table), rows_of(table), rows_of(table, _TO))
    return counts


def _compare(name: str, one: Iterator[str], other: Iterator[str]) -> None:
    for at, (here, there) in enumerate(zip(one, other, strict=True), 1):
        if here != there:
            raise BackupError(f"Row {at} of {name} reads otherwise there; nothing was moved.")


@contextmanager
def _also(url: str, folder: Path) -> Iterator[None]:
    """A second database beside the record's own, for as long as the move takes."""
    known = connections.settings["default"]
    connections.settings[_TO] = {**known, **_blank(), **database(url, folder)}
    try:
        yield
    finally:
        connections[_TO].close()
        del connections[_TO]
        del connections.settings[_TO]


def _blank() -> dict[str, object]:
    """What one kind of database is told and the other must not be."""
    return {"OPTIONS": {}, "USER": "", "PASSWORD": "", "HOST": "", "PORT": ""}
