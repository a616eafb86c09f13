"""A backup as a file: made while the record is in use, checked, and brought back into an empty place."""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import secrets
import shutil
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from datetime import datetime
from pathlib import Path
from typing import IO, Any

import pyrage  # type: ignore[import-untyped]
from django.conf import settings
from django.db import DatabaseError, transaction
from django.utils import timezone

from sashwright import __version__
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
from sashwright.record.migration_names import last_migration

MANIFEST = "manifest.json"
PHOTOGRAPHS = "photographs"
KEPT_FILES = ("shop.toml",)
"""Not the key that signs sessions: whoever gets hold of a backup must not be able to sign in with it."""
_FORM = 1
_WHOLE, _KEY = "backup.zip.age", "key.age"
_CHUNK = 1 << 20

# What the reader of ZIP files says of damaged ones, which is not always that they are damaged.
_DAMAGE = (
    zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, UnicodeDecodeError,
    struct.error, OverflowError, KeyError,
)  # fmt: skip


class BackupError(Exception):
    """A backup cannot be made, read or brought back; the message is the sentence to show."""


@dataclass(frozen=True)
class Manifest:
    """What a backup holds."""

    form: int
    program: str
    migration: str
    made_at: str
    rows: dict[str, int] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    """SHA-256 of each file in it, in hexadecimal."""

    @property
    def made(self) -> datetime:
        return datetime.fromisoformat(self.made_at)


def make_backup(target: Path, passphrase: str | None = None) -> Manifest:
    """Write a backup of the record and its photographs, whole or not at all.

    Others go on working meanwhile; it shows one moment. Raises ``BackupError`` where it cannot be written.
    """
    draft = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with _private(draft) as out:
            manifest = _pack(out)
        if passphrase:
            _lock(draft, passphrase)
        check(draft, passphrase)
        draft.replace(target)
        _settle(target.parent)
    except OSError as error:
        raise BackupError(f"{target} cannot be written ({error.strerror or error}).") from None
    finally:
        with contextlib.suppress(OSError):
            draft.unlink()
    return manifest


def check(file: Path, passphrase: str | None = None) -> Manifest:
    """Read a backup to its last byte and compare every checksum. Raises ``BackupError`` with the reason."""
    with opened(file, passphrase) as (_, manifest):
        return manifest


def restore(file: Path, passphrase: str | None = None) -> Manifest:
    """Bring a backup into this record, which must be empty; all of it or nothing.

    Everything is checked before anything is written, and every row compared after. Raises ``BackupError``.
    """
    with opened(file, passphrase) as found:
        archive, manifest = found
        if not is_empty():
            raise BackupError(
                "There is a record here already: restore into an empty folder (--home) or database."
            )
        try:
            with transaction.atomic():
                clear_people()
                for table in tables():
                    _put(archive, name_of_table(table))
                count_on()
                _compare(archive)
        except (DatabaseError, ValueError) as error:
            raise BackupError(f"{file.name} does not fit this program: {error}") from None
        # Their rows are there; a picture more than needed does no harm if this breaks off.
        _unpack_files(archive)
        return manifest


@contextmanager
def opened(file: Path, passphrase: str | None = None) -> Iterator[tuple[zipfile.ZipFile, Manifest]]:
    """A backup that was found whole, to be read. Raises ``BackupError``."""
    with tempfile.TemporaryDirectory(prefix="sashwright-backup-") as folder:
        try:
            archive = zipfile.ZipFile(_unlock(file, passphrase, Path(folder)))
            manifest = _checked(archive, file.name)
        except FileNotFoundError:
            raise BackupError(f"There is no file {file}.") from None
        except _DAMAGE as error:
            raise BackupError(f"{file.name} is damaged or no backup ({error}).") from None
        except OSError as error:
            raise BackupError(f"{file} cannot be read ({error.strerror or error}).") from None
        with archive:
            yield archive, manifest


# --- packed -----------------------------------------------------------------------


@contextmanager
def _private(path: Path) -> Iterator[IO[bytes]]:
    """A new file for this user's eyes only, on the disk when done."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w+b") as out:
        yield out
        out.flush()
        os.fsync(out.fileno())


def _pack(out: IO[bytes]) -> Manifest:
    rows: dict[str, int] = {}
    files: dict[str, str] = {}
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        with standing_still():
            made_at = timezone.now()
            for table in tables():
                name = name_of_table(table)
                rows[name], files[_rows_file(name)] = _pack_rows(archive, table)
        for path, name in _own_files():
            files[name] = _pack_file(archive, path, name)
        manifest = Manifest(
            _FORM, __version__, last_migration(), made_at.isoformat(), rows, files
        )  # fmt: skip
        archive.writestr(MANIFEST, json.dumps(asdict(manifest), indent=1))
    return manifest


def _pack_rows(archive: zipfile.ZipFile, table: Any) -> tuple[int, str]:
    digest, count = hashlib.sha256(), 0
    with archive.open(_rows_file(name_of_table(table)), "w", force_zip64=True) as entry:
        for line in rows_of(table):
            data = f"{line}\n".encode()
            digest.update(data)
            entry.write(data)
            count += 1
    return count, digest.hexdigest()


def _pack_file(archive: zipfile.ZipFile, path: Path, name: str) -> str:
    digest = hashlib.sha256()
    # Pictures are as small as they get already.
    entry = zipfile.ZipInfo.from_file(path, name, strict_timestamps=False)
    with path.open("rb") as source, archive.open(entry, "w", force_zip64=True) as target:
        while chunk := source.read(_CHUNK):
            digest.update(chunk)
            target.write(chunk)
    return digest.hexdigest()


def _own_files() -> Iterator[tuple[Path, str]]:
    """Photographs, which never change once they are there, and the shop's few own files."""
    folder: Path = settings.DATA_FOLDER
    for name in KEPT_FILES:
        if (folder / name).is_file():
            yield folder / name, name
    for path in sorted((folder / PHOTOGRAPHS).glob("*/*")):
        if path.is_file() and not path.name.startswith("."):
            yield path, path.relative_to(folder).as_posix()


def _rows_file(name: str) -> str:
    return f"rows/{name}.jsonl"


# --- checked ----------------------------------------------------------------------


def _checked(archive: zipfile.ZipFile, name: str) -> Manifest:
    manifest = _manifest(archive, name)
    names = set(archive.namelist()) - {MANIFEST}
    if names != manifest.files.keys() or len(archive.namelist()) != len(names) + 1:
        strange = sorted(names ^ manifest.files.keys()) or ["a file twice"]
        raise BackupError(f"{name} is damaged: it does not hold what it lists ({strange[0]}).")
    for entry, digest in manifest.files.items():
        _refuse_outside(entry, name)
        if _digest(archive, entry) != digest:
            raise BackupError(f"{name} is damaged: {entry} is not what it was.")
    if manifest.migration > last_migration():
        raise BackupError(
            f"{name} was made by a newer Sashwright ({manifest.program}): install that or a later one."
        )
    return manifest


def _manifest(archive: zipfile.ZipFile, name: str) -> Manifest:
    try:
        manifest = Manifest(**json.loads(archive.read(MANIFEST)))
        if manifest.form != _FORM:
            raise BackupError(f"{name} has form {manifest.form}, expected {_FORM}.")
        manifest.made.tzinfo  # noqa: B018 - a time that cannot be read is found here
    except (KeyError, TypeError, ValueError) as error:
        raise BackupError(f"{name} is no backup of Sashwright ({error}).") from None
    return manifest


def _refuse_outside(entry: str, name: str) -> None:
    """Nothing in a backup may be written anywhere but in its place."""
    parts = entry.split("/")
    fine = entry in KEPT_FILES or (
        len(parts) in (2, 3)
        and parts[0] in ("rows", PHOTOGRAPHS)
        and not any(part in ("", ".", "..") or "\\" in part or ":" in part for part in parts)
    )
    if not fine:
        raise BackupError(f"{name} holds {entry!r}, which is no part of a backup.")


def _digest(archive: zipfile.ZipFile, entry: str) -> str:
    digest = hashlib.sha256()
    with archive.open(entry) as source:
        while chunk := source.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


# --- brought back -----------------------------------------------------------------


def _put(archive: zipfile.ZipFile, name: str) -> None:
    # A table that was added since the backup was made has no rows in it.
    if _rows_file(name) in archive.namelist():
        put_rows(_lines(archive, name))


def _lines(archive: zipfile.ZipFile, name: str) -> Iterator[str]:
    with archive.open(_rows_file(name)) as entry:
        yield from (line.rstrip("\n") for line in io.TextIOWrapper(entry, "utf-8", newline="\n"))


def _compare(archive: zipfile.ZipFile) -> None:
    """Row by row, what was put in is what came out; raises ``ValueError``."""
    for table in tables():
        name = name_of_table(table)
        if _rows_file(name) not in archive.namelist():
            continue
        kept, was = rows_of(table), _lines(archive, name)
        for at, (one, other) in enumerate(zip(was, kept, strict=True), 1):
            # A backup of before a column was added lacks it in its rows.
            if one != other and not _contains(json.loads(other), json.loads(one)):
                raise ValueError(f"row {at} of {name} came back otherwise")


def _contains(now: Any, was: Any) -> bool:
    if isinstance(was, dict) and isinstance(now, dict) and "fields" in was:
        fields: dict[str, Any] = was["fields"]
        return (now["pk"], now["model"]) == (was["pk"], was["model"]) and all(
            now["fields"].get(name) == value for name, value in fields.items()
        )
    return bool(now == was)


def _unpack_files(archive: zipfile.ZipFile) -> None:
    folder: Path = settings.DATA_FOLDER
    for entry in archive.namelist():
        if entry == MANIFEST or entry.startswith("rows/"):
            continue
        target = folder / entry
        target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = target.with_name(f".{target.name}.part")
        draft.unlink(missing_ok=True)
        with archive.open(entry) as source, _private(draft) as out:
            shutil.copyfileobj(source, out, _CHUNK)
        draft.replace(target)


# --- locked -----------------------------------------------------------------------


def _lock(file: Path, passphrase: str) -> None:
    """Put the file into another one: its own key, locked by the pass phrase, and it, locked by the key.

    Both parts are in the format age (age-encryption.org/v1), which other programs open too. The pass
    phrase alone would do, but only for what fits into memory.
    """
    key = pyrage.x25519.Identity.generate()
    whole = file.with_name(f"{file.name}.age")
    try:
        pyrage.encrypt_file(str(file), str(whole), [key.to_public()])
        locked = pyrage.passphrase.encrypt(str(key).encode(), passphrase)
        with zipfile.ZipFile(file, "w", zipfile.ZIP_STORED) as outer:
            outer.writestr(_KEY, locked)
            outer.write(whole, _WHOLE)
    finally:
        whole.unlink(missing_ok=True)


def is_locked(file: Path) -> bool:
    """Whether a backup asks for a pass phrase. Raises ``BackupError`` for what is none."""
    try:
        with zipfile.ZipFile(file) as outer:
            return _WHOLE in outer.namelist()
    except (OSError, *_DAMAGE) as error:
        raise BackupError(f"{file} is damaged or no backup ({error}).") from None


def _unlock(file: Path, passphrase: str | None, folder: Path) -> Path:
    with zipfile.ZipFile(file) as outer:
        if _WHOLE not in outer.namelist():
            return file
        if not passphrase:
            raise BackupError(f"{file.name} is locked: it takes its pass phrase.")
        if outer.getinfo(_KEY).file_size > 10_000:
            raise BackupError(f"{file.name} is damaged: its key is too long.")
        outer.extract(_WHOLE, folder)
        key_file = outer.read(_KEY)
    try:
        key = pyrage.x25519.Identity.from_str(
            pyrage.passphrase.decrypt(key_file, passphrase).decode()
        )
    except (pyrage.DecryptError, pyrage.IdentityError, ValueError):
        raise BackupError(f"{file.name} is locked by another pass phrase, or damaged.") from None
    plain = folder / "backup.zip"
    try:
        pyrage.decrypt_file(str(folder / _WHOLE), str(plain), [key])
    except (pyrage.DecryptError, OSError) as error:
        raise BackupError(f"{file.name} is damaged ({error}).") from None
    return plain


def _settle(folder: Path) -> None:
    """The name of the new file reaches the disk too, where the system can be told so."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
