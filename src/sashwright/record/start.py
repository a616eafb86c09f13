"""Makes the record ready for use: folder, database, owner. Every program begins with ``setup``."""

from __future__ import annotations

import os
import sqlite3

import django
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

from sashwright.record.folders import make_folder

SETTINGS = "sashwright.record.settings"


def setup() -> None:
    """Load Django, bring the database up to date, make sure the local owner exists.

    May be called again; with nothing to do it takes some hundredths of a second. Raises
    ``ImproperlyConfigured`` with one sentence where the record cannot be used.
    """
    load()
    _make_data_folder()
    bring_up_to_date()
    # Models can be imported only now.
    from sashwright.record.people import local_owner  # noqa: PLC0415

    local_owner()


def load() -> None:
    """Load Django alone: nothing is made and no database opened."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
    django.setup()


def _make_data_folder() -> None:
    try:
        make_folder(settings.DATA_FOLDER)
    except OSError as error:
        raise ImproperlyConfigured(
            f"The data folder {settings.DATA_FOLDER} cannot be used ({error.strerror}): "
            "set SASHWRIGHT_HOME to a folder that can be written."
        ) from None


def bring_up_to_date() -> None:
    """Apply the migrations that the database lacks; quick when there are none."""
    try:
        executor = MigrationExecutor(connection)
    except DatabaseError as error:
        raise ImproperlyConfigured(f"The database cannot be opened ({error}).") from None
    _refuse_newer(executor)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if plan:
        _keep_a_way_back(
            executor, [str(step.name) for step, _ in plan if step.app_label == "record"]
        )
        call_command("migrate", interactive=False, verbosity=0)


def _keep_a_way_back(executor: MigrationExecutor, steps: list[str]) -> None:
    """Copy a database that has something in it before its tables are changed."""
    from sashwright.record.backup.before import copy_before, is_kept_in_memory  # noqa: PLC0415

    known = executor.loader.applied_migrations or {}
    if not steps or not any(app == "record" for app, _ in known) or is_kept_in_memory():
        return
    try:
        copy_before(steps[0])
    except (OSError, sqlite3.Error) as error:
        raise ImproperlyConfigured(
            f"The database was not brought up to date, for no copy of it could be made first ({error})."
        ) from None


def _refuse_newer(executor: MigrationExecutor) -> None:
    """An older program could read a newer record wrongly, and write it worse."""
    loader = executor.loader
    strange = {name for app, name in (loader.applied_migrations or {}) if app == "record"} - {
        name for app, name in (loader.disk_migrations or {}) if app == "record"
    }
    if strange:
        raise ImproperlyConfigured(
            f"The database was written by a newer Sashwright (it knows {max(strange)}): "
            "install that version or a later one."
        )
