"""The files of photographs in the shop's data folder, each named by its digest, and small copies of them."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

from django.conf import settings

from sashwright.record.errors import NotThere
from sashwright.record.folders import make_folder
from sashwright.record.images import CONTENT_TYPES, Form, Image, lies, small

Size = Literal["small", "page", "upright", "original"]
SIZES: Mapping[Size, int] = {"small": 320, "page": 1280, "upright": 8000}
"""Longest side of the copies [pixels]."""
_UPRIGHT_QUALITY = 92
"""Of a copy to measure on."""


def keep_file(image: Image) -> Path:
    """Write the file of a photograph, unless it is there; once this answers it is on the disk."""
    path = _place_of(image.digest, image.form)
    if not (path.exists() and path.stat().st_size == len(image.data)):
        _write(path, image.data)
    return path


def file_of(digest: str, size: Size) -> tuple[Path, str]:
    """The file of a photograph in some size, with its content type; copies are made when asked for.

    Raises ``NotThere`` where the file is missing from the data folder.
    """
    kept, form = _kept(digest)
    if size == "original":
        return kept, CONTENT_TYPES[form]
    copy = _copies() / digest[:2] / f"{digest}-{size}.jpg"
    if not copy.exists():
        data = kept.read_bytes()
        if size == "upright" and lies(data) == 1:
            return kept, CONTENT_TYPES[form]
        quality = {"quality": _UPRIGHT_QUALITY} if size == "upright" else {}
        _write(copy, small(data, SIZES[size], **quality))
    return copy, CONTENT_TYPES["jpg"]


def _kept(digest: str) -> tuple[Path, Form]:
    for form in CONTENT_TYPES:
        path = _place_of(digest, form)
        if path.exists():
            return path, form
    raise NotThere("The file of this photograph is missing from the data folder.")


def _place_of(digest: str, form: Form) -> Path:
    return Path(settings.DATA_FOLDER) / "photographs" / digest[:2] / f"{digest}.{form}"


def _copies() -> Path:
    """Copies can be made again, so that no backup needs them."""
    return Path(settings.DATA_FOLDER) / "cache" / "photographs"


def _write(path: Path, data: bytes) -> None:
    """All of it or nothing, whatever happens meanwhile, and for good."""
    make_folder(path.parent)
    handle, name = tempfile.mkstemp(prefix=".new-", dir=path.parent)
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(path)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        # Windows writes folders through by itself and cannot open them.
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
