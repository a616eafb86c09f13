"""Where an export goes: into a ZIP file or into a folder, one file after the other."""

from __future__ import annotations

import shutil
import zipfile
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import IO, Protocol

from django.utils import timezone

_CHUNK = 1 << 20


class ExportError(Exception):
    """An export cannot be written; the message is the sentence to show."""


class Sink(Protocol):
    """Takes files by their names, which may name folders: ``houses/mill.toml``."""

    def open(self, name: str, *, packed: bool = True) -> AbstractContextManager[IO[bytes]]:
        """A new file to write bytes into; ``packed`` where that makes it smaller."""

    def take(self, path: Path, name: str) -> None:
        """A file of the disk as it is, which is as small as it gets already."""


class ZipSink:
    """Into an open ZIP file."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        self._archive = archive

    @contextmanager
    def open(self, name: str, *, packed: bool = True) -> Iterator[IO[bytes]]:
        entry = zipfile.ZipInfo(name, date_time=_now())
        entry.compress_type = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
        # Readable by the one who unpacks it, as any file is.
        entry.external_attr = 0o644 << 16
        with self._archive.open(entry, "w", force_zip64=True) as file:
            yield file

    def take(self, path: Path, name: str) -> None:
        with path.open("rb") as source, self.open(name, packed=False) as target:
            shutil.copyfileobj(source, target, _CHUNK)


class FolderSink:
    """Into a folder, which must be new or empty. Raises ``ExportError``."""

    def __init__(self, folder: Path) -> None:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise ExportError(f"{folder} is there already and not empty: give a new folder.")
        folder.mkdir(parents=True, exist_ok=True)
        self._folder = folder

    @contextmanager
    def open(self, name: str, *, packed: bool = True) -> Iterator[IO[bytes]]:
        path = self._folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            yield file

    def take(self, path: Path, name: str) -> None:
        with path.open("rb") as source, self.open(name) as target:
            shutil.copyfileobj(source, target, _CHUNK)


def _now() -> tuple[int, int, int, int, int, int]:
    now = timezone.localtime()
    return (now.year, now.month, now.day, now.hour, now.minute, now.second)
