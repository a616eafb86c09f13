"""Backups: made while others write, found whole or refused with the reason, brought back row by row."""

from __future__ import annotations

import hashlib
import json
import os
import random
import sqlite3
import threading
import zipfile
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command
from django.db import connection, transaction

from sashwright.record import keys, people, start, store
from sashwright.record.backup import archive, rotation
from sashwright.record.backup.archive import BackupError, check, is_locked, make_backup, restore
from sashwright.record.backup.tables import name_of_table, put_rows, rows_of, tables
from sashwright.record.models import Change, House, Revision
from tests.factories import house_document

DAMAGED = int(os.environ.get("SASHWRIGHT_DAMAGE", "40"))
WORD = "correct horse battery"


@pytest.fixture(autouse=True)
def folder(settings: Any, tmp_path: Path) -> Path:
    settings.DATA_FOLDER = tmp_path / "data"
    settings.DATA_FOLDER.mkdir()
    return tmp_path


@pytest.fixture
def shop(transactional_db: None, folder: Path) -> str:
    """A record with some of everything."""
    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    store.add_reading(slug, "101", "lower", 8.3, "before reglazing", owner)
    store.save_fields(slug, "window", "101", {"room": "Küche – 1/2"}, 2, owner)
    store.undo(store.changes(slug, limit=1)[0].id, owner)
    people.add_person("Ned", "bench", "a long enough word")
    keys.make_token(owner, "scale")
    picture = folder / "data" / "photographs" / "ab" / "abcd.jpg"
    picture.parent.mkdir(parents=True)
    picture.write_bytes(random.Random(1).randbytes(200_000))
    return slug


def everything() -> dict[str, list[str]]:
    return {name_of_table(table): list(rows_of(table)) for table in tables()}


def wipe() -> None:
    with transaction.atomic():
        for table in reversed(tables()):
            table._base_manager.all()._raw_delete("default")


def test_what_comes_back_is_what_was(shop: str, folder: Path, settings: Any) -> None:
    was = everything()
    made = make_backup(folder / "one.zip")
    assert made.rows["record.house"] == 1
    assert sum(made.rows.values()) == sum(map(len, was.values()))
    wipe()
    settings.DATA_FOLDER = folder / "fresh"
    store.local_owner()
    restore(folder / "one.zip")
    assert everything() == was
    there = folder / "fresh" / "photographs" / "ab" / "abcd.jpg"
    assert there.read_bytes() == random.Random(1).randbytes(200_000)
    # New rows do not collide with those that came back.
    store.save_fields(shop, "window", "101", {"room": "Pantry"}, 4, store.local_owner())
    assert store.stored(shop, "window", "101").document["room"] == "Pantry"


def test_nothing_is_restored_over_a_record(shop: str, folder: Path) -> None:
    make_backup(folder / "one.zip")
    was = everything()
    with pytest.raises(BackupError, match="There is a record here already"):
        restore(folder / "one.zip")
    assert everything() == was


def test_the_key_of_sessions_stays_at_home(shop: str, folder: Path) -> None:
    (folder / "data" / "secret-key").write_text("very secret")
    make_backup(folder / "one.zip")
    assert b"very secret" not in (folder / "one.zip").read_bytes()
    assert "secret-key" not in zipfile.ZipFile(folder / "one.zip").namelist()


# --- locked -----------------------------------------------------------------------


def test_locked_by_a_pass_phrase(shop: str, folder: Path) -> None:
    was = everything()
    file = folder / "locked.zip"
    make_backup(file, WORD)
    assert is_locked(file)
    assert b"12 Elm Street" not in file.read_bytes()
    assert file.stat().st_mode & 0o077 == 0
    outer = zipfile.ZipFile(file)
    # A format that other programs open too.
    assert all(outer.read(name).startswith(b"age-encryption.org/v1\n") for name in outer.namelist())
    for wrong in (None, "another"):
        with pytest.raises(BackupError, match="locked"):
            check(file, wrong)
    wipe()
    restore(file, WORD)
    assert everything() == was


# --- damaged ----------------------------------------------------------------------


@pytest.mark.parametrize("passphrase", [None, WORD])
def test_any_damage_is_found_and_nothing_written(
    shop: str, folder: Path, passphrase: str | None
) -> None:
    """One bit turned, or the end cut off, anywhere in the file; SASHWRIGHT_DAMAGE=1000 tries more."""
    was = everything()
    make_backup(folder / "one.zip", passphrase)
    whole = (folder / "one.zip").read_bytes()
    wipe()
    chance = random.Random(7)
    for _ in range(DAMAGED if passphrase is None else 1):
        data = bytearray(whole)
        if chance.random() < 0.2:
            del data[chance.randrange(len(data)) :]
        else:
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        (folder / "broken.zip").write_bytes(data)
        try:
            restore(folder / "broken.zip", passphrase)
        except BackupError:
            assert House.objects.count() == 0
        else:
            # Times and the like in the list at the end of a ZIP file say nothing about what is in it.
            assert everything() == was
            wipe()


def rewritten(folder: Path, change: Any) -> Path:
    """The backup with its entries changed, and the checksums of what was changed made right again."""
    source = zipfile.ZipFile(folder / "one.zip")
    entries = {name: source.read(name) for name in source.namelist() if name != archive.MANIFEST}
    manifest = json.loads(source.read(archive.MANIFEST))
    change(entries, manifest)
    manifest["files"] = {
        name: hashlib.sha256(data).hexdigest() for name, data in entries.items()
    } | manifest.get("more", {})
    manifest.pop("more", None)
    target = folder / "other.zip"
    with zipfile.ZipFile(target, "w") as out:
        for name, data in entries.items():
            out.writestr(name, data)
        out.writestr(archive.MANIFEST, json.dumps(manifest))
    return target


@pytest.mark.parametrize(
    ("entry", "data"),
    [
        ("photographs/../../evil", b"x"),
        ("../evil", b"x"),
        ("/etc/evil", b"x"),
        ("rows/a\\..\\b", b"x"),
        ("other/thing", b"x"),
    ],
)
def test_nothing_is_written_outside_its_place(
    shop: str, folder: Path, entry: str, data: bytes
) -> None:
    make_backup(folder / "one.zip")
    wipe()
    bad = rewritten(folder, lambda entries, manifest: entries.update({entry: data}))
    with pytest.raises(BackupError, match="no part of a backup"):
        restore(bad)
    assert not list(folder.rglob("evil"))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (b'{"model": "record.spoon", "pk": 1, "fields": {}}\n', "cannot be read"),
        (b"not json\n", "cannot be read"),
        (b'{"model": "record.house", "pk": 1, "fields": {"slug": "x"}}\n', "does not fit"),
        (b"[]\n", "cannot be read"),
    ],
)
def test_rows_that_do_not_fit_are_refused(shop: str, folder: Path, line: bytes, says: str) -> None:
    make_backup(folder / "one.zip")
    wipe()

    def change(entries: dict[str, bytes], manifest: Any) -> None:
        entries["rows/record.house.jsonl"] = line

    with pytest.raises(BackupError, match=says):
        restore(rewritten(folder, change))
    assert not House.objects.exists()


def test_a_newer_backup_is_for_a_newer_program(shop: str, folder: Path) -> None:
    make_backup(folder / "one.zip")
    later = rewritten(folder, lambda entries, manifest: manifest.update(migration="9999_later"))
    with pytest.raises(BackupError, match="newer Sashwright"):
        check(later)


@pytest.mark.parametrize("data", [b"", b"PK", b"hello" * 100])
def test_what_is_no_backup_is_said_to_be_none(folder: Path, data: bytes) -> None:
    (folder / "x.zip").write_bytes(data)
    with pytest.raises(BackupError, match="damaged or no backup"):
        check(folder / "x.zip")
    with pytest.raises(BackupError, match="no file"):
        check(folder / "nowhere.zip")


def test_a_backup_that_cannot_be_written_leaves_nothing(shop: str, folder: Path) -> None:
    (folder / "file").write_text("in the way")
    with pytest.raises(BackupError, match="cannot be written"):
        make_backup(folder / "file" / "one.zip")
    assert not [path for path in folder.rglob("*") if path.name.endswith(".part")]


# --- in use -----------------------------------------------------------------------


def test_a_backup_is_of_one_moment(database_file: None, folder: Path) -> None:
    """Somebody saves between two tables: all that belongs to a save is in it, or nothing of it."""
    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    stop, saved = threading.Event(), [0]

    def write() -> None:
        while not stop.is_set():
            was = store.stored(slug, "window", "101")
            store.save_fields(slug, "window", "101", {"room": str(saved[0])}, was.version, owner)
            saved[0] += 1
        connection.close()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for at in range(5):
            make_backup(folder / f"{at}.zip")
    finally:
        stop.set()
        writer.join()
    assert saved[0] >= 5
    for at in range(5):
        with archive.opened(folder / f"{at}.zip") as (packed, _):
            lines = {
                name: [
                    json.loads(line)
                    for line in packed.read(f"rows/record.{name}.jsonl").splitlines()
                ]
                for name in ("house", "window", "change", "revision")
            }
        last = max(row["fields"]["version"] for row in lines["window"])
        windows = [row["fields"] for row in lines["revision"] if row["fields"]["kind"] == "window"]
        assert max(row["version"] for row in windows) == last
        assert {row["fields"]["change"] for row in lines["revision"]} <= {
            row["pk"] for row in lines["change"]
        }
        assert lines["house"][0]["fields"]["edition"] == len(lines["change"])


# --- by themselves ----------------------------------------------------------------


def test_old_ones_are_thinned_out() -> None:
    start = datetime(2026, 1, 1, 12, tzinfo=UTC)
    times = [start + timedelta(hours=6 * at) for at in range(4 * 400)]
    stay = rotation.kept(times)
    assert len(stay) <= rotation.DAYS + rotation.WEEKS + rotation.MONTHS
    assert set(times[-1:]) <= stay
    days = {(times[-1] - timedelta(days=back)).date() for back in range(rotation.DAYS)}
    assert days <= {at.date() for at in stay}
    assert min(stay) < times[-1] - timedelta(days=300)
    assert rotation.kept(stay) == stay


def test_one_a_day_is_enough(shop: str, monkeypatch: pytest.MonkeyPatch) -> None:
    first = rotation.backup_if_due()
    assert first is not None
    assert check(first).rows["record.house"] == 1
    assert rotation.backup_if_due() is None
    first.rename(first.with_name("sashwright-2099-01-01-000000.zip"))
    # A clock that was wrong must not keep the next one away for years.
    assert rotation.backup_if_due() is not None


# --- rows -------------------------------------------------------------------------


def test_rows_are_read_as_they_were_written(shop: str) -> None:
    was = everything()
    wipe()
    for table in tables():
        put_rows(was[name_of_table(table)])
    assert everything() == was
    assert Change.objects.count() == len(was["record.change"])
    assert Revision.objects.exists()
    assert User.objects.filter(username="Ned").exists()


# --- the way back -----------------------------------------------------------------


def test_the_database_is_copied_before_its_tables_change(
    database_file: None, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As after an upgrade: a record of before the second step is opened by a program that knows it."""
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL is copied by its own program")
    slug = store.create_house(house_document(), store.local_owner())
    call_command("migrate", "record", "0001", verbosity=0)
    start.bring_up_to_date()
    [copy] = (folder / "data" / "backups").glob("before-0002*.db")
    with closing(sqlite3.connect(copy)) as was:
        assert was.execute("SELECT slug FROM record_house").fetchall() == [(slug,)]
        names = {row[0] for row in was.execute("SELECT name FROM sqlite_master")}
    assert "record_photograph" not in names
    assert store.load_house(slug).windows


def test_without_its_copy_nothing_is_changed(
    database_file: None, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL is copied by its own program")
    call_command("migrate", "record", "0001", verbosity=0)
    (folder / "data" / "backups").write_text("in the way")
    with pytest.raises(ImproperlyConfigured, match="no copy of it could be made"):
        start.bring_up_to_date()
    assert "record_photograph" not in connection.introspection.table_names()
