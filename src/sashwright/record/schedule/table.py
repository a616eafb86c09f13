"""A table as it was read from a file: rows of cells, and what in them is no value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

LARGEST = 10_000_000
"""Largest file that is read [bytes]."""
MOST_ROWS = 5000
MOST_COLUMNS = 200
MOST_SHEETS = 12

OddKind = Literal["date", "time", "error", "formula"]


@dataclass(frozen=True, slots=True)
class Odd:
    """A cell that holds no number and no text; ``text`` is what it shows."""

    kind: OddKind
    text: str


Value = str | int | float | bool | Odd | None
Row = Sequence[Value]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table; ``rows`` as the file counts them, the first being row 1, without empty cells at the end."""

    name: str
    rows: Sequence[Row]


@dataclass(frozen=True, slots=True)
class Book:
    """What a file holds: one table, or the sheets of a workbook that hold any."""

    name: str
    sheets: Sequence[Sheet]

    def sheet(self, name: str = "") -> Sheet:
        """The sheet of a name, or the first. Raises ``ScheduleError``."""
        if not name:
            return self.sheets[0]
        for sheet in self.sheets:
            if sheet.name == name:
                return sheet
        known = ", ".join(sheet.name for sheet in self.sheets)
        raise ScheduleError(f"{self.name}: found no sheet {name!r}, expected one of {known}.")


class ScheduleError(ValueError):
    """A file that cannot be read as a schedule, or written; the message is the sentence to show."""


def trimmed(row: Sequence[Value]) -> list[Value]:
    """A row without empty cells at its end."""
    cells = list(row)
    while cells and is_blank(cells[-1]):
        cells.pop()
    return cells


def is_blank(value: Value) -> bool:
    return value is None or (isinstance(value, str) and not value.strip())


def letters(column: int) -> str:
    """``A`` of column 0, ``AB`` of column 27, as spreadsheets call them."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name


def cell_name(row: int, column: int) -> str:
    """``C7`` of row 7 and column 2."""
    return f"{letters(column)}{row}"


def shown(value: Value) -> str:
    """A cell as text, numbers to the fifteen figures that spreadsheets hold."""
    if value is None:
        return ""
    if isinstance(value, Odd):
        return value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.15g}" if isinstance(value, float) else str(value)
