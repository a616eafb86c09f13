"""The columns of a table of houses: what each says, and what is taken where it says nothing."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sashwright.units import INCH

CONDITIONS: Mapping[str, str] = {
    "tight": "joint-tight",
    "average": "joint-average",
    "loose": "joint-loose",
    "painted shut": "joint-painted-shut",
}
STORMS = ("none", "clear", "low-e")
LITES = ("1x1", "2x1", "2x2", "3x2", "4x2")


class RowError(ValueError):
    """A row that no house can be made of; the message says the column, what was found, what expected."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: the ``kind`` of its cells, limits or words that they keep to, what an empty one means."""

    name: str
    what: str
    kind: type
    default: Any = None
    low: float = -math.inf
    high: float = math.inf
    words: tuple[str, ...] = ()
    needed: bool = False


COLUMNS: tuple[Column, ...] = (
    Column("id", "name or number of the house", str, needed=True),
    Column("climate", "a place, as `sashwright climate` finds it", str, needed=True),
    Column("windows", "how many", int, low=1, high=400, needed=True),
    Column("floor_area_m2", "heated floor of all storeys; or floor_area_ft2", float, low=15, high=3_700),
    Column("floor_area_ft2", "the same in square feet", float, low=160, high=40_000),
    Column("storeys", "1 to 3", int, 2, 1, 3),
    Column("window_width_in", "of the sash opening; or window_width_mm", float, 32.0, 12, 96),
    Column("window_width_mm", "the same in millimetres", float, None, 300, 2400),
    Column("window_height_in", "of the sash opening; or window_height_mm", float, 60.0, 18, 160),
    Column("window_height_mm", "the same in millimetres", float, None, 450, 4000),
    Column("lites", "of each sash, wide by high", str, "1x1", words=LITES),
    Column("condition", "of the joints", str, "average", words=tuple(CONDITIONS)),
    Column("storm", "what hangs outside in winter", str, "none", words=STORMS),
    Column("wall", "a row of the fabric table", str, "wall-frame-empty"),
    Column("ceiling", "a row of the fabric table", str, "ceiling-6-in"),
    Column("floor", "a row of the fabric table", str, "floor-cellar"),
    Column("air_changes_50", "of a fan test at 50 Pa, in an hour; usual where empty", float, None, 0.5, 60),
    Column("heating", "a row of the plant table", str, "gas-middling"),
    Column("cooling", "a row of the plant table; none where empty", str),
    Column("heating_price", "of a unit of its fuel; the table's where empty", float, None, 0.001, 1000),
    Column("electricity_price", "of a kilowatt hour; the table's where empty", float, None, 0.001, 10),
    Column("heated_to_c", "in winter", float, 20.0, 5, 30),
    Column("cooled_to_c", "in summer, where something cools", float, 25.0, 18, 35),
    Column("years", "that the comparison looks ahead", int, 60, 1, 150),
    Column("discount_pct", "interest over the rise of prices", float, 3.0, -5, 20),
    Column("fuel_rise_pct", "rise of energy prices over that of others", float, 1.0, -5, 20),
)  # fmt: skip
BY_NAME: Mapping[str, Column] = {column.name: column for column in COLUMNS}
_EITHER = (
    ("floor_area_m2", "floor_area_ft2", (12 * INCH) ** 2),
    ("window_width_mm", "window_width_in", INCH * 1000),
    ("window_height_mm", "window_height_in", INCH * 1000),
)


def unknown(names: object) -> list[str]:
    """Columns that mean nothing here. They are carried by nobody; a typing slip must not go unseen."""
    return [name for name in names if name not in BY_NAME]  # type: ignore[attr-defined]


def read(raw: Mapping[str, Any]) -> dict[str, Any]:
    """One row, checked and filled up; sizes in metric. Raises ``RowError``."""
    row = {column.name: _cell(column, raw.get(column.name)) for column in COLUMNS}
    for metric, us, factor in _EITHER:
        given = _empty(raw.get(metric)), _empty(raw.get(us))
        if given == (False, False):
            raise RowError(f"{metric}: found {us} too, expected one of the two")
        if given[0]:
            if row[us] is None:
                raise RowError(f"{metric}: found nothing, expected a number here or in {us}")
            row[metric] = row[us] * factor
        del row[us]
    return row


def _empty(value: Any) -> bool:
    return value is None or (isinstance(value, str) and not value.strip()) or value != value  # noqa: PLR0124


def _cell(column: Column, value: Any) -> Any:
    if _empty(value):
        if column.needed:
            raise RowError(f"{column.name}: found nothing, expected {column.what}")
        return column.default
    if column.kind is str:
        text = str(value).strip()
        if column.words and text not in column.words:
            raise RowError(
                f"{column.name}: found {text!r}, expected one of {', '.join(column.words)}"
            )
        return text
    return _number(column, value)


def _number(column: Column, value: Any) -> float | int:
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise RowError(f"{column.name}: found {value!r}, expected a number") from None
    if not column.low <= number <= column.high:
        raise RowError(
            f"{column.name}: found {number:g}, expected {column.low:g} to {column.high:g}"
        )
    if column.kind is int:
        if number != int(number):
            raise RowError(f"{column.name}: found {number:g}, expected a whole number")
        return int(number)
    return number
