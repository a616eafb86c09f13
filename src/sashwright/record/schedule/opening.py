"""Reads a schedule from a file's bytes, whatever kind of file it is."""

from __future__ import annotations

from sashwright.record.schedule.csvfile import read_csv
from sashwright.record.schedule.table import LARGEST, Book, ScheduleError
from sashwright.record.schedule.xlsxfile import read_xlsx

_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"
_ARCHIVE = (b"PK\x03\x04", b"PK\x05\x06")
_OPEN_DOCUMENT = b"mimetypeapplication/vnd.oasis.opendocument"
_LONGEST_NAME = 80


def read_book(data: bytes, name: str) -> Book:
    """What a file holds. Raises ``ScheduleError`` with one sentence for what is no schedule."""
    name = "".join(sign for sign in name if sign.isprintable())[-_LONGEST_NAME:] or "the file"
    if len(data) > LARGEST:
        raise ScheduleError(
            f"{name}: found a file above {LARGEST // 1_000_000} MB, expected a schedule of windows."
        )
    if not data.strip():
        raise ScheduleError(f"{name}: found nothing in it, expected a row for each window.")
    if data.startswith(_OLD_WORKBOOK):
        raise ScheduleError(
            f"{name}: found a workbook of an old kind or locked by a password, "
            "expected one saved as XLSX without a password."
        )
    if _OPEN_DOCUMENT in data[:200]:
        raise ScheduleError(
            f"{name}: found an OpenDocument file, expected a schedule saved as XLSX or CSV."
        )
    if data.startswith(b"%PDF"):
        raise ScheduleError(f"{name}: found a PDF, expected a schedule saved as XLSX or CSV.")
    return read_xlsx(data, name) if data.startswith(_ARCHIVE) else read_csv(data, name)
