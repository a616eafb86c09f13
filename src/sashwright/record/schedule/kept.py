"""Files that were sent, kept for a day by their digest, so that nobody sends one twice to look again."""

from __future__ import annotations

import hashlib
import json
import os
import re
import tempfile
import time
from pathlib import Path
from typing import Any

from django.conf import settings

from sashwright.record.errors import NotThere
from sashwright.record.folders import make_folder
from sashwright.record.schedule.opening import read_book
from sashwright.record.schedule.table import Book, Odd, Sheet, Value

DAY_S = 24 * 3600.0
_NAME = re.compile(r"[0-9a-f]{32}")


def keep_book(data: bytes, name: str) -> str:
    """Read a file and keep what it holds; answer the key to find it by. Raises ``ScheduleError``."""
    book = read_book(data, name)
    key = hashlib.sha256(data).hexdigest()[:32]
    folder = make_folder(_folder())
    _throw_away(folder)
    handle, fresh = tempfile.mkstemp(prefix=".new-", dir=folder)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            json.dump(_plain_book(book), file)
        Path(fresh).replace(folder / f"{key}.json")
    except BaseException:
        Path(fresh).unlink(missing_ok=True)
        raise
    return key


def kept_book(key: str) -> Book:
    """What was kept under a key. Raises ``NotThere``."""
    path = _folder() / f"{key}.json"
    try:
        if not _NAME.fullmatch(key) or time.time() - path.stat().st_mtime > DAY_S:
            raise FileNotFoundError(key)
        return _book(json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError):
        raise NotThere(
            "This schedule is not here any more: files are kept for a day. Send it again."
        ) from None


def _folder() -> Path:
    """Beside other things that can be made again, so that no backup holds them."""
    return Path(settings.DATA_FOLDER) / "cache" / "schedules"


def _throw_away(folder: Path) -> None:
    for path in folder.iterdir():
        try:
            if time.time() - path.stat().st_mtime > DAY_S:
                path.unlink()
        except OSError:
            # Gone already by another's hand.
            continue


def _plain_book(book: Book) -> dict[str, Any]:
    sheets = [
        {"name": sheet.name, "rows": [[_plain(value) for value in row] for row in sheet.rows]}
        for sheet in book.sheets
    ]
    return {"name": book.name, "sheets": sheets}


def _plain(value: Value) -> Any:
    return {"kind": value.kind, "text": value.text} if isinstance(value, Odd) else value


def _book(plain: dict[str, Any]) -> Book:
    return Book(
        plain["name"],
        [
            Sheet(sheet["name"], [[_value(value) for value in row] for row in sheet["rows"]])
            for sheet in plain["sheets"]
        ],
    )


def _value(plain: Any) -> Value:
    return Odd(plain["kind"], plain["text"]) if isinstance(plain, dict) else plain
