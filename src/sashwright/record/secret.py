"""The key that signs sessions: made once, kept in the data folder, readable by its owner only."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from sashwright.record.folders import make_folder

FILE = "secret-key"


def secret_key(folder: Path) -> str:
    """The key in the folder; where there is none yet, a new one is made and kept."""
    path = make_folder(folder) / FILE
    return _read(path) or _make(path)


def _read(path: Path) -> str:
    with contextlib.suppress(FileNotFoundError):
        return path.read_text(encoding="ascii").strip()
    return ""


def _make(path: Path) -> str:
    """Write a key beside its place and move it there whole.

    Two programs that start at once so never read half a key. The key that stands in the end counts.
    """
    draft = path.with_name(f"{FILE}.{secrets.token_hex(4)}.part")
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as stream:
        stream.write(secrets.token_urlsafe(64) + "\n")
    draft.replace(path)
    return _read(path)
