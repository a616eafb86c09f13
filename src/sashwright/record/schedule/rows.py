"""What each row of a sheet says of its window: values by dotted paths, and what in it is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sashwright.record.schedule import trade
from sashwright.record.schedule.cells import CellError, value_of
from sashwright.record.schedule.fields import LITES, SIZE, fields, label_of
from sashwright.record.schedule.heads import NOTE, Column, heads_of
from sashwright.record.schedule.mapping import HELD, Plan
from sashwright.record.schedule.table import Odd, Row, Sheet, Value, cell_name, is_blank, shown

_LONGEST = 60


@dataclass(frozen=True, slots=True)
class RowProblem:
    """Why a row cannot be brought in: which cell, what was found in it, what was expected."""

    row: int
    cell: str
    field: str
    """What people call it; empty for the row as a whole."""
    found: str
    expected: str

    def __str__(self) -> str:
        cell = f", {self.cell}" if self.cell else ""
        named = f" ({self.field})" if self.field else ""
        return f"row {self.row}{cell}{named}: found {self.found}, expected {self.expected}"


@dataclass(slots=True)
class SheetRow:
    """A row: values by path, and the column that each came from."""

    row: int
    fields: dict[str, Any] = field(default_factory=dict)
    blank: list[str] = field(default_factory=list)
    """Fields whose cells hold nothing."""
    columns: dict[str, int] = field(default_factory=dict)
    problems: list[RowProblem] = field(default_factory=list)

    @property
    def number(self) -> str:
        return str(self.fields.get("number", ""))

    def problem(self, path: str, found: str, expected: str) -> RowProblem:
        """Something wrong with a field of this row, in its cell where it came from one."""
        at = self.columns.get(path)
        cell = "" if at is None else cell_name(self.row, at)
        return RowProblem(self.row, cell, label_of(path) if path else "", found, expected)


@dataclass(frozen=True, slots=True)
class Place:
    """What of a house the words of a schedule may mean."""

    walls: Mapping[str, float]
    """Bearing of each [degrees]."""
    families: Mapping[str, str]
    """Names by key."""
    rooms: Sequence[str] = ()
    """As the house writes them."""


def read_rows(sheet: Sheet, plan: Plan, place: Place) -> Iterator[SheetRow]:
    """Every row below the heads that says anything in a column that counts."""
    used = [column for column in plan.columns if column.path]
    reader = _Reader(used, heads_of(sheet, plan.head), place, _names_ground(sheet, plan))
    for number, row in enumerate(sheet.rows[plan.head :], plan.head + 1):
        if any(not is_blank(_cell(row, column)) for column in used):
            yield reader.read(number, row)


def _cell(row: Row, column: Column) -> Value:
    return row[column.index] if column.index < len(row) else None


def _names_ground(sheet: Sheet, plan: Plan) -> bool:
    storeys = [column for column in plan.columns if column.path == "storey"]
    rows = sheet.rows[plan.head :] if storeys else ()
    return any(trade.names_ground(shown(_cell(row, storeys[0]))) for row in rows)


class _Reader:
    """Reads rows of one sheet, all in the same way."""

    def __init__(
        self, columns: Sequence[Column], heads: Sequence[str], place: Place, ground: bool
    ) -> None:
        self._columns, self._heads = columns, heads
        self._notes = sum(column.path == NOTE for column in columns)
        by_name = {name.casefold(): key for key, name in place.families.items() if name}
        by_key = {key.casefold(): key for key in place.families}
        rooms = {name.casefold(): name for name in reversed(place.rooms)}
        self._means: Mapping[str, Callable[[str], str]] = {
            "room": lambda text: text if text in place.rooms else rooms.get(text.casefold(), text),
            "wall": lambda text: trade.wall(text, place.walls),
            "storey": lambda text: trade.storey(text, ground_is_named=ground),
            "family": lambda text: (
                text
                if text in place.families
                else by_key.get(text.casefold(), by_name.get(text.casefold(), text))
            ),
        }

    def read(self, number: int, row: Row) -> SheetRow:
        found = SheetRow(number)
        for column in self._columns:
            for path in HELD.get(column.path, (column.path,)):
                found.columns.setdefault(path, column.index)
            try:
                values = self._values(column, _cell(row, column))
            except CellError as error:
                cell, label = cell_name(number, column.index), label_of(column.path)
                found.problems.append(RowProblem(number, cell, label, error.found, error.expected))
                continue
            for path, value in values.items():
                self._put(found, column, path, value)
        return found

    def _put(self, row: SheetRow, column: Column, path: str, value: Any) -> None:
        if value is None:
            if path not in row.fields:
                row.blank.append(path)
        elif path == NOTE and self._notes > 1:
            head = self._heads[column.index] if column.index < len(self._heads) else ""
            told = f"{head}: {value}" if head else str(value)
            row.fields[path] = f"{row.fields[path]}\n{told}" if path in row.fields else told
            row.blank = [each for each in row.blank if each != path]
        else:
            row.fields[path] = value

    def _values(self, column: Column, cell: Value) -> dict[str, Any]:
        """What a cell says, by path; None for nothing. Raises ``CellError``."""
        if column.path in HELD:
            return self._two(column, cell)
        value = value_of(cell, fields()[column.path], column.unit)
        means = self._means.get(column.path)
        if means is not None and isinstance(value, (str, int)):
            value = _told(means, str(value))
        return {column.path: value}

    def _two(self, column: Column, cell: Value) -> dict[str, Any]:
        first, second = HELD[column.path]
        if isinstance(cell, Odd):
            value_of(cell, fields()[first if column.path == SIZE else column.path])
        if is_blank(cell):
            return {first: None, second: None}
        text = shown(cell)
        split = trade.lites_of_both if column.path == LITES else trade.width_and_height
        try:
            texts = split(text)
        except ValueError as error:
            raise CellError(_short(text), str(error)) from None
        return {
            path: value_of(said, fields()[path], column.unit)
            for path, said in zip((first, second), texts, strict=True)
        }


def _told(means: Callable[[str], str], text: str) -> str:
    try:
        return means(text)
    except ValueError as error:
        raise CellError(_short(text), str(error)) from None


def _short(text: str) -> str:
    return repr(text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…")
