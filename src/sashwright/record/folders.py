"""Where a shop's data lies: one folder, so that one copy of it is a backup."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

NAME = "sashwright"


def data_folder(
    environ: Mapping[str, str] = os.environ, platform: str = sys.platform, home: Path | None = None
) -> Path:
    """The folder named by ``SASHWRIGHT_HOME``, or else where this computer keeps such data.

    The folder need not exist yet; ``make_folder`` makes it.
    """
    asked = environ.get("SASHWRIGHT_HOME", "").strip()
    if asked:
        return Path(asked).expanduser().absolute()
    return _usual_place(environ, platform, home or Path.home()) / NAME


def _usual_place(environ: Mapping[str, str], platform: str, home: Path) -> Path:
    if platform == "win32":
        return Path(environ.get("APPDATA") or home / "AppData" / "Roaming")
    if platform == "darwin":
        return home / "Library" / "Application Support"
    named = environ.get("XDG_DATA_HOME", "")
    # The rule of that variable: what is not an absolute path is to be ignored.
    return Path(named) if named.startswith("/") else home / ".local" / "share"


def make_folder(folder: Path) -> Path:
    """Make the folder where it is missing, closed to other users of the computer."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder
