"""Reads text with a value between each comma, semicolon or tab, as spreadsheets save it."""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator

from sashwright.record.schedule.table import (
    MOST_COLUMNS,
    MOST_ROWS,
    Book,
    ScheduleError,
    Sheet,
    Value,
    trimmed,
)

DELIMITERS = (",", ";", "\t")
_SAMPLE = 60
"""Lines that tell which of them it is."""
_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def read_csv(data: bytes, name: str) -> Book:
    """The table in a file's bytes. Raises ``ScheduleError``."""
    text = _text(data, name)
    delimiter, text = _told(text)
    rows: list[list[Value]] = []
    try:
        for number, row in enumerate(_rows(text, delimiter or _likely(text), strict=True), 1):
            cells = trimmed(row)
            if number > MOST_ROWS and cells:
                raise ScheduleError(f"{name}: found more than {MOST_ROWS} rows, expected fewer.")
            if len(cells) > MOST_COLUMNS:
                raise ScheduleError(
                    f"{name}, row {number}: found {len(cells)} columns, "
                    f"expected at most {MOST_COLUMNS}."
                )
            rows.append(cells)
    except csv.Error as error:
        raise ScheduleError(
            f"{name}, row {len(rows) + 1}: found what cannot be read ({error}), "
            "expected each quotation mark closed, and doubled inside of a quoted cell."
        ) from None
    while rows and not rows[-1]:
        rows.pop()
    if not rows:
        raise ScheduleError(f"{name}: found nothing in it, expected a row for each window.")
    return Book(name, [Sheet("", rows)])


def _rows(text: str, delimiter: str, *, strict: bool) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=strict)


def _text(data: bytes, name: str) -> str:
    """The text, whichever of the usual ways it was saved in."""
    text = _decoded(data)
    if text is None or "\0" in text:
        raise ScheduleError(
            f"{name}: found what is no text, expected a schedule saved as CSV or XLSX."
        )
    return text


def _decoded(data: bytes) -> str | None:
    if data.startswith(_UTF16):
        encodings = ["utf-16"]
    elif data[1::2].count(0) > len(data) * 0.3:
        # UTF-16 without a mark: every other byte of plain letters is nothing.
        encodings = ["utf-16-le"]
    elif data[::2].count(0) > len(data) * 0.3:
        encodings = ["utf-16-be"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def _told(text: str) -> tuple[str, str]:
    """What the first line says of the delimiter, as some spreadsheets write it, and the rest."""
    first, _, rest = text.partition("\n")
    said = first.strip().lower().removeprefix("sep=")
    if first.lower().startswith("sep=") and said in (*DELIMITERS, ""):
        return said or "\t", rest
    return "", text


def _likely(text: str) -> str:
    """The delimiter that gives the same number of columns most often, and the more of them the better."""
    sample = "".join(text.splitlines(keepends=True)[:_SAMPLE])
    return max(DELIMITERS, key=lambda delimiter: _evenness(sample, delimiter))


def _evenness(sample: str, delimiter: str) -> tuple[int, int]:
    widths: Counter[int] = Counter()
    try:
        for row in _rows(sample, delimiter, strict=False):
            widths[len(row)] += 1
    except csv.Error:
        return 0, 0
    many = [(count * (width - 1), width) for width, count in widths.items() if width > 1]
    return max(many, default=(0, 0))
