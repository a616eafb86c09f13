"""The lists of a job as one workbook (XLSX): plain numbers with their units in the head, no formulas."""

from __future__ import annotations

import datetime
import io
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from sashwright.papers.legible import clean
from sashwright.units import System

Cell = str | int | float | Decimal | datetime.date | None
Kind = Literal[
    "text", "long", "whole", "number", "length", "size", "mass", "area", "lumber", "money", "share",
    "hours", "date",
]  # fmt: skip

FORMATS: dict[System, dict[Kind, str]] = {
    "us": {"length": "# ??/16", "size": "# ??/32", "mass": "0.00", "area": "0.00", "lumber": "0.0"},
    "metric": {"length": "0", "size": "0.0", "mass": "0.00", "area": "0.000", "lumber": "0.0000"},
}
"""How numbers of a kind are shown; the cell holds them to the last figure."""
BOTH: dict[Kind, str] = {
    "whole": "0", "number": "0.###", "money": "#,##0.00", "share": "0", "hours": "0.00",
    "date": "yyyy-mm-dd",
}  # fmt: skip
STARTERS = ("=", "+", "-", "@", "\t", "\r")
"""With which a spreadsheet, or one that text is pasted into, begins to reckon."""
NARROWEST, WIDEST, LONG = 7, 34, 60
"""Widths of columns, in letters."""
MOST_LETTERS = 32_000
"""That one cell can hold."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its name with its unit, and what stands in it."""

    name: str
    kind: Kind = "text"
    unit: str = ""

    @property
    def head(self) -> str:
        return f"{self.name}, {self.unit}" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet of the workbook."""

    title: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Cell]]


def workbook(tables: Sequence[Table], title: str, today: datetime.date, system: System) -> bytes:
    """The tables as a workbook, one sheet each, with their heads frozen."""
    book = Workbook()
    book.remove(book.worksheets[0])
    noon = datetime.datetime.combine(today, datetime.time(12))
    book.properties.title, book.properties.creator = clean(title), "Sashwright"
    book.properties.created = book.properties.modified = noon
    for table in tables:
        _fill(book.create_sheet(table.title), table, system)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _fill(sheet: Worksheet, table: Table, system: System) -> None:
    for at, column in enumerate(table.columns, 1):
        cell = sheet.cell(1, at, column.head)
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="bottom")
        cell.border = Border(bottom=Side("medium"))
        sheet.column_dimensions[get_column_letter(at)].width = _width(column, table.rows, at - 1)
    for row, values in enumerate(table.rows, 2):
        for at, (column, value) in enumerate(zip(table.columns, values, strict=True), 1):
            _put(sheet, row, at, column, value, system)
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.columns))}{len(table.rows) + 1}"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _put(sheet: Worksheet, row: int, at: int, column: Column, value: Cell, system: System) -> None:
    if value is None or value == "":
        return
    if isinstance(value, str):
        cell = sheet.cell(row, at)
        cell.value = plain(value)
        # Whatever it begins with, it is text.
        cell.data_type = "s"
        cell.alignment = Alignment(wrap_text=column.kind == "long", vertical="top")
        return
    cell = sheet.cell(row, at, value)
    kind: Kind = "whole" if column.kind == "money" and isinstance(value, int) else column.kind
    cell.number_format = FORMATS[system].get(kind) or BOTH.get(kind, "General")
    cell.alignment = Alignment(vertical="top")


def plain(text: str) -> str:
    """Text as a cell takes it: nothing that a spreadsheet would take for a formula, no control signs.

    What begins with ``=``, ``+``, ``-`` or ``@`` gets an apostrophe in front, so that it stays text also
    where it is copied or saved in another form.
    """
    kept = clean(text)[:MOST_LETTERS]
    return f"'{kept}" if text.startswith(STARTERS) or kept.lstrip().startswith(STARTERS) else kept


def _width(column: Column, rows: Sequence[Sequence[Cell]], at: int) -> float:
    """In letters: of the longest entry, within bounds; heads may take two lines."""
    longest = max((_letters(row[at]) for row in rows), default=0)
    most = LONG if column.kind == "long" else WIDEST
    return float(min(max(longest, len(column.head) * 0.7, NARROWEST) + 2, most))


def _letters(value: Cell) -> int:
    if isinstance(value, float):
        return 9
    return 0 if value is None else max(map(len, str(value).splitlines()), default=0)
