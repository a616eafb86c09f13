"""How a file is to be read: which row holds the heads, what each column holds, what new windows are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sashwright.record.schedule.fields import LITES, SIZE, fields, label_of
from sashwright.record.schedule.heads import NOTE, Column, find_head, guess_columns
from sashwright.record.schedule.table import MOST_ROWS, ScheduleError, Sheet, letters

UNITS = ("", "mm", "cm", "m", "in", "ft", "kg", "lb", "oz")
HELD: Mapping[str, tuple[str, ...]] = {SIZE: ("width", "height"), LITES: ("upper", "lower")}
"""Fields that stand together in one cell."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How to read a sheet; ``given`` is what new windows are where the file does not say."""

    columns: Sequence[Column]
    head: int = 1
    sheet: str = ""
    given: Mapping[str, str] | None = None
    clear: bool = False
    """Whether an empty cell takes away what a window has there; otherwise it says nothing."""


def guessed(sheet: Sheet, given: Mapping[str, str], head: int | None = None) -> Plan:
    """How a sheet is probably to be read."""
    row = find_head(sheet) if head is None else head
    return Plan(guess_columns(sheet, row), row, sheet.name, given)


def check_plan(plan: Plan) -> None:
    """Raise ``ScheduleError`` for columns that make no schedule together."""
    if not 0 <= plan.head <= MOST_ROWS:
        raise ScheduleError(f"Found row {plan.head} for the heads, expected a row of the file.")
    for column in plan.columns:
        if column.path and column.path not in fields():
            raise ScheduleError(
                f"Column {letters(column.index)}: found {column.path[:60]!r}, "
                "expected a field of a window such as width or measured.lower.mass."
            )
        if column.unit not in UNITS:
            raise ScheduleError(
                f"Column {letters(column.index)}: found the unit {column.unit[:20]!r}, "
                f"expected one of {', '.join(UNITS[1:])}."
            )
    _check_together([column.path for column in plan.columns if column.path])


def _check_together(paths: Sequence[str]) -> None:
    if "number" not in paths:
        raise ScheduleError(
            "Found no column with the numbers of the windows, expected one: say which it is."
        )
    counts = Counter(field for path in paths for field in HELD.get(path, (path,)))
    twice = [field for field, count in counts.items() if count > 1 and field != NOTE]
    if twice:
        raise ScheduleError(
            f"Found {counts[twice[0]]} columns for {label_of(twice[0]).lower()}, expected one: "
            "leave the others out."
        )
