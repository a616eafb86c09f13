"""What goes wrong around the record: a killed server, a full disk, a locked database, a clock that jumps."""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.contrib.auth.models import User
from django.db import OperationalError, connection
from django.test import Client
from django.utils import timezone

import start
from sashwright.record import store
from sashwright.record.models import Change, Revision
from tests.factories import house_document

KILLS = int(os.environ.get("SASHWRIGHT_KILLS", "6"))


@pytest.mark.parametrize("database", ["sqlite", "postgres"])
def test_a_killed_server_loses_nothing_it_acknowledged(database: str) -> None:
    """The benchmark, with fewer kills; SASHWRIGHT_KILLS=200 takes some minutes."""
    if database == "postgres" and start.find_postgres() is None:
        pytest.skip("there is no PostgreSQL here")
    words = [sys.executable, "-m", "benchmarks.faults", "--kills", str(KILLS)]
    words += ["--postgres"] if database == "postgres" else []
    environ = {k: v for k, v in os.environ.items() if k != "SASHWRIGHT_DATABASE_URL"}
    done = subprocess.run(words, capture_output=True, text=True, env=environ, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    told = json.loads(done.stdout.partition(": ")[2].rpartition(" in ")[0])
    assert told["kills"] == KILLS
    assert told["acknowledged"] >= KILLS
    assert told["lost"] == told["torn"] == []


@pytest.fixture
def file(database_file: None) -> str:
    if connection.vendor != "sqlite":
        pytest.skip("about SQLite's file")
    return store.create_house(house_document(), store.local_owner())


def test_a_full_disk_changes_nothing_and_is_said(file: str, here: Client) -> None:
    who = store.local_owner()
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        cursor.execute("PRAGMA page_count")
        # What a full disk answers, at the size that the file has now.
        cursor.execute(f"PRAGMA max_page_count={cursor.fetchone()[0]}")
    kept = store.stored(file, "window", "101").version
    full = None
    for at in range(200):
        note = {"note": f"{at} " * 900}
        try:
            kept = store.save_fields(file, "window", "101", note, kept, who).version
        except OperationalError as error:
            full = error
            break
    assert "full" in str(full)
    now = store.stored(file, "window", "101")
    assert now.version == kept
    assert Revision.objects.filter(kind="window", key="101").count() == kept
    answer = here.post(
        f"/{file}/windows/101/field", {"field": "note", "note": "x" * 3900, "base": kept}
    )
    assert answer.status_code == 503
    assert "Nothing was changed" in answer.content.decode()
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA max_page_count=1000000")
    store.save_fields(file, "window", "101", {"note": "room again"}, kept, who)


def test_a_locked_database_is_said_and_nothing_changed(file: str, here: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout=50")
    name = str(connection.settings_dict["NAME"])
    with closing(sqlite3.connect(name, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        answer = here.post(f"/{file}/windows/101/field", {"field": "note", "note": "x", "base": 1})
        assert answer.status_code == 503
        # Who only looks waits for nobody.
        assert here.get(f"/{file}/windows/101/").status_code == 200
        other.execute("ROLLBACK")
    assert store.stored(file, "window", "101").version == 1
    store.save_fields(file, "window", "101", {"note": "y"}, 1, store.local_owner())


@pytest.mark.parametrize("jump", [timedelta(days=-4000), timedelta(days=4000)])
def test_a_clock_that_jumps_mixes_nothing_up(
    elm: str, ann: User, monkeypatch: pytest.MonkeyPatch, jump: timedelta
) -> None:
    """History, undo and conflicts go by what came after what, not by the clock."""
    store.save_fields(elm, "window", "101", {"note": "before"}, 1, ann)
    wrong = datetime.now(UTC) + jump
    monkeypatch.setattr(timezone, "now", lambda: wrong)
    store.save_fields(elm, "window", "101", {"note": "after"}, 2, ann)
    first, second = store.changes(elm, "window", "101", limit=2)
    assert (first.when, first.says.endswith("before to after")) == (wrong, True)
    assert second.when != wrong
    store.undo(first.id, ann)
    assert store.stored(elm, "window", "101").document["note"] == "before"
    with pytest.raises(store.Conflict):
        store.save_fields(elm, "window", "101", {"note": "other"}, 1, ann)
    assert Change.objects.filter(house__slug=elm).count() == 4


def test_half_a_form_changes_nothing(elm: str, tmp_path: Path) -> None:
    """The connection breaks in the middle of what is sent."""
    client = Client(SERVER_NAME="localhost", raise_request_exception=False)
    body = b'--b\r\nContent-Disposition: form-data; name="field"\r\n\r\nnote\r\n--b\r\nConten'
    address = f"/{elm}/windows/101/field"
    answer = client.generic("POST", address, body, "multipart/form-data; boundary=b")
    assert answer.status_code < 500
    assert store.stored(elm, "window", "101").version == 1
