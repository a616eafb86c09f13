"""A house's windows as a schedule, CSV or XLSX, that people can read and that reads back unchanged."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Border, Font, Side

from sashwright.record.houses import export_document
from sashwright.record.schedule.cells import Cell, cell_of
from sashwright.record.schedule.fields import SheetField, fields
from sashwright.record.schedule.table import ScheduleError, letters

FIRST = ("number", "family", "room", "wall", "storey", "width", "height")
"""Said of every window, and first."""
MOST_LETTERS = 32_767
"""That one cell of a workbook holds."""
_NARROWEST, _WIDEST = 8, 48
"""Widths of columns, in letters."""
_TEXT = "@"


def schedule_rows(slug: str) -> tuple[list[SheetField], Iterator[list[Cell | None]]]:
    """The columns of a house's schedule, and a row for each window. Raises ``NotThere``."""
    windows = [dict(flat(each)) for each in export_document(slug)["windows"]]
    said = {path for window in windows for path in window} | set(FIRST)
    later = [path for path in fields() if path in said and path not in FIRST]
    columns = [fields()[path] for path in (*FIRST, *later)]
    return columns, (_row(window, columns) for window in windows)


def _row(window: Mapping[str, Any], columns: Sequence[SheetField]) -> list[Cell | None]:
    return [cell_of(window[column.path]) if column.path in window else None for column in columns]


def flat(document: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    """All that a window's document says, by dotted paths."""
    for key, value in document.items():
        path = f"{above}{key}"
        if isinstance(value, Mapping) and value and fields()[path].kind == "nothing":
            yield from flat(value, f"{path}.")
        else:
            yield path, value


def csv_schedule(slug: str) -> bytes:
    """The windows as CSV: commas, UTF-8 with a mark so that every spreadsheet knows. Raises ``NotThere``."""
    columns, rows = schedule_rows(slug)
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([column.head for column in columns])
    writer.writerows(rows)
    return out.getvalue().encode("utf-8-sig")


def xlsx_schedule(slug: str) -> bytes:
    """The windows as a workbook of one sheet, its cells text, so that no fraction becomes a date.

    Raises ``NotThere``, and ``ScheduleError`` where a window says more than a cell holds.
    """
    columns, rows = schedule_rows(slug)
    held = list(rows)
    book = Workbook(write_only=True)
    book.properties.title, book.properties.creator = slug, "Sashwright"
    sheet = book.create_sheet("Windows")
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:{letters(len(columns) - 1)}{len(held) + 1}"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    for index, column in enumerate(columns):
        dimension = sheet.column_dimensions[letters(index)]
        dimension.width = _width(column, [row[index] for row in held])
        # What is typed below the last row is text as well.
        dimension.number_format = _TEXT
    sheet.append([_head(sheet, column.head) for column in columns])
    for row in held:
        sheet.append([_cell(sheet, value, str(row[0])) for value in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _head(sheet: Any, text: str) -> Any:
    cell = WriteOnlyCell(sheet, text)
    cell.font = Font(bold=True)
    cell.alignment = Alignment(wrap_text=True, vertical="bottom")
    cell.border = Border(bottom=Side("medium"))
    return cell


def _cell(sheet: Any, value: Cell | None, number: str) -> Any:
    if value is None:
        return None
    cell = WriteOnlyCell(sheet, value)
    if isinstance(value, str):
        if "\n" in value:
            cell.alignment = Alignment(vertical="top", wrap_text=True)
        if len(value) > MOST_LETTERS:
            raise ScheduleError(
                f"Window {number} says more than one cell of a workbook holds: take the schedule as CSV."
            )
        # Whatever it looks like, it is text.
        cell.data_type = "s"
        cell.number_format = _TEXT
    return cell


def _width(column: SheetField, values: Sequence[Cell | None]) -> float:
    longest = max((len(str(value)) for value in values if value is not None), default=0)
    return float(min(max(longest, len(column.head) * 0.6, _NARROWEST) + 2, _WIDEST))
