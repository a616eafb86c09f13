"""Reads workbooks (XLSX): the values that their cells show, and no formula is ever reckoned."""

from __future__ import annotations

import datetime
import io
import re
import warnings
import zipfile
from collections.abc import Iterator
from itertools import islice
from typing import Any

from openpyxl import load_workbook

from sashwright.record.schedule.table import (
    MOST_COLUMNS,
    MOST_ROWS,
    MOST_SHEETS,
    Book,
    Odd,
    ScheduleError,
    Sheet,
    Value,
    is_blank,
    trimmed,
)

UNPACKED = 80_000_000
"""Largest that a workbook may become when it is unpacked [bytes]."""
MOST_PARTS = 2000
_LOOKED_AT = 65_536
_FORMULA = re.compile(rb"<f[ >/]")
_LONGEST = 40
_LAST_ROW = 1_048_576
"""Of any workbook (ECMA-376 gives no limit, spreadsheets do; from memory)."""
_HEADS = 20
"""Rows in which also columns beyond the most allowed are looked for."""


def read_xlsx(data: bytes, name: str) -> Book:
    """The sheets of a workbook that are shown and hold anything. Raises ``ScheduleError``."""
    try:
        with warnings.catch_warnings():
            # What a workbook holds besides cells is passed over, and said so by the library.
            warnings.simplefilter("ignore")
            _look_over(data, name)
            sheets = list(islice(_sheets(data, name), MOST_SHEETS + 1))
    except ScheduleError:
        raise
    except Exception as error:
        # What is damaged may be damaged anywhere, and the library then raises anything at all.
        raise ScheduleError(
            f"{name}: found a workbook that cannot be read ({type(error).__name__}), "
            "expected one as a spreadsheet saves it; open it there and save it once more."
        ) from None
    if len(sheets) > MOST_SHEETS:
        raise ScheduleError(f"{name}: found more than {MOST_SHEETS} sheets, expected fewer.")
    if not sheets:
        raise ScheduleError(f"{name}: found nothing in it, expected a row for each window.")
    return Book(name, sheets)


def _look_over(data: bytes, name: str) -> None:
    """Refuse what would only cost time and memory, before any of it is unpacked."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = archive.infolist()
        # What a part says of its size is all that is ever read of it.
        size = sum(part.file_size for part in parts)
        if len(parts) > MOST_PARTS or size > UNPACKED:
            raise ScheduleError(
                f"{name}: found a workbook of {size / 1e6:.0f} MB and {len(parts)} parts when unpacked, "
                f"expected at most {UNPACKED / 1e6:.0f} MB and {MOST_PARTS} parts."
            )
        names = {part.filename for part in parts}
        if "[Content_Types].xml" not in names:
            raise ScheduleError(
                f"{name}: found an archive that is no workbook, expected a schedule saved as XLSX or CSV."
            )
        for part in parts:
            if part.filename.endswith((".xml", ".rels")):
                with archive.open(part) as stream:
                    if b"<!DOCTYPE" in stream.read(_LOOKED_AT):
                        raise ScheduleError(
                            f"{name}: found declarations in {part.filename} that no workbook has, "
                            "expected one as a spreadsheet saves it."
                        )


def _sheets(data: bytes, name: str) -> Iterator[Sheet]:
    book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
    formulas = None
    if _has_formulas(data):
        formulas = load_workbook(io.BytesIO(data), read_only=True, keep_links=False)
    for index, sheet in enumerate(book.worksheets):
        if sheet.sheet_state != "visible":
            continue
        behind = formulas.worksheets[index] if formulas is not None else None
        rows = _rows(sheet, behind, name)
        if any(rows):
            yield Sheet(sheet.title, rows)


def _has_formulas(data: bytes) -> bool:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return any(
            _FORMULA.search(archive.read(part)) is not None
            for part in archive.namelist()
            if part.startswith("xl/worksheets/")
        )


def _rows(sheet: Any, behind: Any, name: str) -> list[list[Value]]:
    """Every row to the last that holds anything; formulas that came without their result say so."""
    _refuse_wide(sheet, name)
    formulas = {} if behind is None else dict(_formulas(behind))
    rows: list[list[Value]] = []
    for number, cells in _told_rows(sheet):
        row = trimmed(
            [_value(cell, formulas.get((number, index))) for index, cell in enumerate(cells)]
        )
        if row and number > MOST_ROWS:
            raise ScheduleError(
                f"{name}, sheet {sheet.title}: found more than {MOST_ROWS} rows, expected fewer."
            )
        if row:
            rows += [[] for _ in range(number - 1 - len(rows))]
            rows.append(row)
    return rows


def _told_rows(sheet: Any) -> Iterator[tuple[int, Any]]:
    """The rows that the sheet tells of, by number; there are none beyond the last that may be."""
    # How large the sheet says it is may be anything.
    sheet.reset_dimensions()
    missing: Any = None
    for number, cells in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS), 1):
        # For rows that it does not tell of the library answers one and the same row over and over.
        if cells is missing and number <= _LAST_ROW:
            continue
        if number > _LAST_ROW:
            raise ValueError("a row that no workbook has")
        if all(cell.value is None for cell in cells):
            missing = cells
        yield number, cells


def _formulas(sheet: Any) -> Iterator[tuple[tuple[int, int], str]]:
    """What is reckoned, by row and column."""
    for number, cells in _told_rows(sheet):
        for index, cell in enumerate(cells):
            if getattr(cell, "data_type", "") == "f":
                said = cell.value
                yield (number, index), str(getattr(said, "text", said))[:_LONGEST]


def _refuse_wide(sheet: Any, name: str) -> None:
    sheet.reset_dimensions()
    for number, cells in enumerate(islice(sheet.iter_rows(values_only=True), _HEADS), 1):
        if any(not is_blank(_plain(value)) for value in cells[MOST_COLUMNS:]):
            raise ScheduleError(
                f"{name}, sheet {sheet.title}, row {number}: found more than {MOST_COLUMNS} columns, "
                "expected fewer."
            )


def _value(cell: Any, formula: str | None) -> Value:
    """What a cell shows; ``formula`` is what stands behind it."""
    value = cell.value
    if value is None:
        return None if formula is None else Odd("formula", formula)
    if getattr(cell, "data_type", "") == "e":
        return Odd("error", str(value)[:_LONGEST])
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        in_percent = "%" in str(cell.number_format or "")
        return f"{value * 100:.12g} %" if in_percent else _number(value)
    return _plain(value)


def _plain(value: Any) -> Value:
    if isinstance(value, datetime.datetime):
        midnight = value.time() == datetime.time()
        return Odd("date", (value.date() if midnight else value).isoformat())
    if isinstance(value, datetime.date):
        return Odd("date", value.isoformat())
    if isinstance(value, (datetime.time, datetime.timedelta)):
        return Odd("time", str(value))
    if value is None or isinstance(value, (str, bool, int, float)):
        return value
    return str(value)


def _number(value: float) -> Value:
    """A number to the figures that a spreadsheet holds: 0.1 + 0.2 is 0.3 there."""
    rounded = float(f"{value:.15g}")
    return int(rounded) if rounded.is_integer() and abs(rounded) < 1e15 else rounded
