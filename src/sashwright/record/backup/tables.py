"""The rows of all tables, taken out as lines of JSON and put in again."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.contrib.auth.models import User
from django.core import serializers
from django.core.management.color import no_style
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connections, models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

_BATCH = 500


def tables() -> list[type[models.Model]]:
    """Everything that is kept, those first to which others point; sessions are not."""
    left: list[type[models.Model]] = [User, *apps.get_app_config("record").get_models()]
    ordered: list[type[models.Model]] = []
    while left:
        ready = [table for table in left if _points_to(table) <= {table, *ordered}]
        ordered += ready
        left = [table for table in left if table not in ready]
    return ordered


def _points_to(table: type[models.Model]) -> set[type[models.Model]]:
    fields = (field for field in table._meta.get_fields() if isinstance(field, models.ForeignKey))
    return {field.remote_field.model for field in fields}


def name_of_table(table: type[models.Model]) -> str:
    """``record.window``, as the lines themselves name it."""
    return table._meta.label_lower


@contextmanager
def standing_still(database: str = "default") -> Iterator[None]:
    """All that is read within is of one moment, while others go on writing."""
    connection = connections[database]
    if connection.in_atomic_block or connection.vendor == "postgresql":
        with transaction.atomic(using=database):
            if connection.vendor == "postgresql" and len(connection.savepoint_ids) == 0:
                connection.cursor().execute(
                    "SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"
                )
            yield
        return
    # A plain BEGIN, unlike those of writers, waits for nobody and lets others write: from the first row
    # read, SQLite shows what there was then (sqlite.org/isolation.html).
    with connection.cursor() as cursor:
        cursor.execute("BEGIN")
        try:
            yield
        finally:
            cursor.execute("COMMIT")


def rows_of(table: type[models.Model], database: str = "default") -> Iterator[str]:
    """Each row as one line of JSON, in the order of the keys; fields sorted, so that equal rows are equal."""
    found = table._base_manager.using(database).order_by("pk").iterator(_BATCH)
    for row in found:
        yield _line(row)


def _line(row: models.Model) -> str:
    told: list[dict[str, Any]] = serializers.serialize("python", [row])
    return json.dumps(told[0], sort_keys=True, ensure_ascii=False, cls=DjangoJSONEncoder)


def put_rows(lines: Iterable[str], database: str = "default") -> int:
    """Write rows under the keys they had; answer how many. Needs a transaction around it.

    Raises ``ValueError`` for a line that is no row of this program's tables.
    """
    batch: list[models.Model] = []
    count = 0
    for line in lines:
        row = _row(line, database)
        if batch and (type(row) is not type(batch[0]) or len(batch) == _BATCH):
            _write(batch, database)
            batch = []
        batch.append(row)
        count += 1
    if batch:
        _write(batch, database)
    return count


def _row(line: str, database: str) -> models.Model:
    try:
        read = serializers.deserialize("python", [json.loads(line)], using=database)
        return next(iter(read)).object
    except (serializers.base.DeserializationError, ValueError, KeyError, TypeError) as error:
        raise ValueError(f"found a row that cannot be read ({error}): {line[:80]}") from None


def _write(batch: list[models.Model], database: str) -> None:
    type(batch[0])._base_manager.using(database).bulk_create(batch)


def count_on(database: str = "default") -> None:
    """Have new rows take keys after those that were put in: PostgreSQL counts by itself."""
    connection: BaseDatabaseWrapper = connections[database]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), tables()):
            cursor.execute(statement)


def is_empty(database: str = "default") -> bool:
    """Whether there is nothing in it but, at most, the owner that every start makes."""
    kept = [table for table in tables() if table is not User]
    if any(table._base_manager.using(database).exists() for table in kept):
        return False
    return User.objects.using(database).count() <= 1


def clear_people(database: str = "default") -> None:
    """Make room for the people of a backup: the owner that a fresh record made for itself goes."""
    User.objects.using(database).all().delete()
