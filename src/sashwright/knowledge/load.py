"""Reads the trade's tables: the CSV files of the package, and a shop's own TOML files over them.

A column is a field of the row, with the unit it is written in behind it: ``thickness_mm`` and
``thickness_in`` both fill ``thickness`` [m]. An empty cell counts as not given. A shop file has the
same columns, one table for each row::

    [glass.parlor-old]
    name = "Old glass of the parlor"
    kind = "old sheet"
    nominal = "about 3/32 in"
    thickness_mm = 2.4
    thickness_min_mm = 2.1
    thickness_tolerance_mm = 0.3
    mass_per_area_kg_m2 = 6.0
    source = "measured in the shop, 12 panes"
"""

from __future__ import annotations

import csv
import dataclasses
import difflib
import math
import tomllib
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any, Literal, get_args, get_origin, get_type_hints

from sashwright import units
from sashwright.knowledge.tables import ROWS, Knowledge, KnowledgeError, Row

_ONE = Fraction(1)
_THOUSANDTH = Fraction(1, 1000)
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")

# For each SI unit the endings a column may have, with what they count for. Fractions, so that every
# number comes out as the float nearest to what was written.
_ENDINGS: Mapping[str, Mapping[str, Fraction]] = {
    "m": {"_mm": _THOUSANDTH, "_in": Fraction("0.0254")},
    "m2": {"_cm2": Fraction(1, 10**4), "_mm2": Fraction(1, 10**6)},
    "kg": {"_kg": _ONE, "_g": _THOUSANDTH, "_lb": _POUND},
    "kg/m": {"_g_m": _THOUSANDTH},
    "kg/m2": {"_kg_m2": _ONE, "_g_m2": _THOUSANDTH},
    "kg/m3": {"_kg_m3": _ONE},
    "N": {"_n": _ONE, "_lbf": _POUND * _GRAVITY},
    "N/m": {"_n_m": _ONE},
    "Pa": {"_gpa": Fraction(10**9), "_mpa": Fraction(10**6), "_pa": _ONE},
    "Pa s m2/kg": {"_gpa_s_m2_kg": Fraction(10**9)},
    "W/(m K)": {"_w_mk": _ONE},
    "m2 K/W": {"_m2k_w": _ONE},
    "W/(m2 K)": {"_w_m2k": _ONE},
    "J/(m2 K)": {"_kj_m2k": Fraction(1000)},
    "J": {"_kwh": Fraction(3_600_000), "_mj": Fraction(10**6), "_btu": Fraction("1055.05585262")},
    "kg/J": {"_kg_kwh": Fraction(1, 3_600_000), "_kg_mmbtu": 1 / Fraction("1055055852.62")},
    # A pure number may stand as it is or as a percentage.
    "": {"": _ONE, "_pct": Fraction(1, 100)},
}

_Cells = dict[str, Any]


@dataclasses.dataclass(frozen=True, slots=True)
class _Column:
    """What a field of a row takes."""

    field: str
    unit: str
    kind: Any
    required: bool

    def headings(self) -> list[str]:
        return [self.field + ending for ending in _ENDINGS[self.unit] if self._takes(ending)]

    def _takes(self, ending: str) -> bool:
        return ending != "_pct" or _is_float(self.kind)

    def wanted(self) -> str:
        """What may stand there, for a message."""
        if get_origin(self.kind) is Literal:
            return "one of " + ", ".join(get_args(self.kind))
        if _is_points(self.kind):
            return "points such as '0 0 0; 0.5 0 0.4142; 1 0.5 0'"
        if get_origin(self.kind) is tuple:
            inner = get_args(self.kind)[0]
            words = get_args(inner) if get_origin(inner) is Literal else ("words",)
            return f"{', '.join(words)}, separated by semicolons"
        if self.kind is str:
            return "a text"
        return "a whole number" if self.kind is int else f"a number, as {self._units()}"

    def _units(self) -> str:
        return " or ".join(self.headings())


class _Problems:
    """Everything found wrong, to be told at once."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def add(self, place: str, what: str) -> None:
        self.lines.append(f"{place}: {what}")

    def tell(self) -> None:
        if self.lines:
            raise KnowledgeError("\n".join(self.lines))


@cache
def _columns(table: str) -> Mapping[str, _Column]:
    """The fields of a table by name."""
    row = ROWS[table]
    hints = get_type_hints(row)
    found = {}
    for field in dataclasses.fields(row):
        required = field.default is dataclasses.MISSING
        unit = field.metadata.get("unit", "")
        found[field.name] = _Column(field.name, unit, hints[field.name], required)
    return found


@cache
def _by_heading(table: str) -> Mapping[str, tuple[_Column, Fraction]]:
    """Every heading the table understands, with its field and what its unit counts for."""
    return {
        heading: (column, _ENDINGS[column.unit][heading.removeprefix(column.field)])
        for column in _columns(table).values()
        for heading in column.headings()
    }


def load(*shop_files: Path) -> Knowledge:
    """All tables, with a shop's own rows and figures over them.

    Parameters
    ----------
    shop_files
        TOML files, the later over the earlier. A row with a known key changes the fields it names
        and leaves the rest; any other row is added. Each must say its ``source``.

    Raises
    ------
    KnowledgeError
        With every problem of every file: file, table, row, field, what was found and what expected.
    """
    return _with_shop(shop_files) if shop_files else _of_the_package()


@cache
def _of_the_package() -> Knowledge:
    problems = _Problems()
    tables: dict[str, dict[str, Row]] = {table: {} for table in ROWS}
    for table, rows in tables.items():
        for number, cells in enumerate(_csv_rows(table), start=2):
            place = f"{table}.csv, line {number}"
            row = _row(table, place, cells, None, problems)
            if row is not None and row.key in rows:
                problems.add(place, f"found the key {row.key!r} again, expected a new one")
            elif row is not None:
                rows[row.key] = row
    problems.tell()
    return _knowledge(tables)


def _csv_rows(table: str) -> Iterator[_Cells]:
    file = resources.files("sashwright.knowledge") / "data" / f"{table}.csv"
    yield from csv.DictReader(file.read_text(encoding="utf-8").splitlines())


def _with_shop(files: tuple[Path, ...]) -> Knowledge:
    problems = _Problems()
    base = _of_the_package()
    tables: dict[str, dict[str, Row]] = {table: dict(getattr(base, table)) for table in ROWS}
    for file in files:
        for table, key, cells in _shop_rows(file, problems):
            rows = tables[table]
            row = _row(table, f"{file}, [{table}.{key}]", cells, rows.get(key), problems)
            if row is not None:
                rows[key] = row
    problems.tell()
    return _knowledge(tables)


def _knowledge(tables: Mapping[str, Mapping[str, Row]]) -> Knowledge:
    contents: Any = tables
    return Knowledge(**contents)


def _shop_rows(file: Path, problems: _Problems) -> Iterator[tuple[str, str, _Cells]]:
    for table, rows in _toml(file, problems).items():
        if table not in ROWS:
            problems.add(f"{file}, [{table}]", f"expected one of the tables {', '.join(ROWS)}")
            continue
        if not isinstance(rows, dict):
            problems.add(f"{file}, {table}", f"found {rows!r}, expected rows like [{table}.my-own]")
            continue
        for key, cells in rows.items():
            if isinstance(cells, dict):
                yield table, key, {"status": "shop", **cells, "key": key}
            else:
                problems.add(
                    f"{file}, [{table}]",
                    f"found {key} = {cells!r}, expected rows like [{table}.my-own]",
                )


def _toml(file: Path, problems: _Problems) -> dict[str, Any]:
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        problems.add(str(file), f"found no readable TOML file ({error})")
        return {}


def _row(table: str, place: str, cells: _Cells, old: Row | None, problems: _Problems) -> Row | None:
    """The row that the cells describe, over an old one where there is one."""
    before = len(problems.lines)
    given = _fields(table, place, cells, problems)
    kept = {} if old is None else {name: getattr(old, name) for name in _columns(table)}
    if old is not None:
        # An old source does not vouch for new figures, nor an old note.
        kept = {name: kept[name] for name in kept if name not in {"source", "note"}}
    missing = [c for c in _columns(table).values() if c.required and c.field not in kept | given]
    for column in missing:
        problems.add(
            f"{place}, {column.headings()[0]}", f"found nothing, expected {column.wanted()}"
        )
    if len(problems.lines) > before:
        return None
    return _built(table, place, kept | given, problems)


def _built(table: str, place: str, values: _Cells, problems: _Problems) -> Row | None:
    try:
        return ROWS[table](**values)
    except KnowledgeError as error:
        problems.add(place, str(error))
        return None


def _fields(table: str, place: str, cells: _Cells, problems: _Problems) -> _Cells:
    """Cells converted to fields in SI; what cannot be is reported."""
    values: _Cells = {}
    for heading, cell in cells.items():
        if cell is None or cell == "":
            continue
        known = _by_heading(table).get(heading)
        where = f"{place}, {heading}"
        if known is None:
            problems.add(where, _strange(table, heading))
            continue
        column, factor = known
        if column.field in values:
            problems.add(where, f"found {column.field} twice, in different units, expected it once")
            continue
        try:
            values[column.field] = _value(table, column, heading, factor, cell)
        except ValueError as error:
            problems.add(where, f"found {cell!r}, expected {column.wanted()} ({error})")
    return values


def _strange(table: str, heading: str) -> str:
    """Why a heading is not one of the table's, and what is."""
    column = _columns(table).get(heading)
    if column is not None:
        return f"found no unit, expected {' or '.join(column.headings())}"
    near = difflib.get_close_matches(heading, _by_heading(table), n=3)
    return f"found no such field, expected one such as {' or '.join(near or _by_heading(table))}"


def _value(table: str, column: _Column, heading: str, factor: Fraction, cell: Any) -> Any:
    if column.unit == "m":
        return _length(heading, cell)
    if column.unit or _is_float(column.kind):
        # Only a closing bias takes mass away.
        number = _number(cell, negative=table == "bias")
        return float(Fraction(repr(number)) * factor)
    if column.kind is int:
        return _whole(cell)
    return _points(cell) if _is_points(column.kind) else _words(column.kind, cell)


def _number(cell: Any, negative: bool = False) -> float:
    if isinstance(cell, bool):
        raise ValueError("not a number")
    try:
        number = float(cell)
    except (TypeError, ValueError):
        raise ValueError("not a number") from None
    if not math.isfinite(number):
        raise ValueError("not a finite number")
    if number < 0 and not negative:
        raise ValueError("less than zero")
    return number


def _whole(cell: Any) -> int:
    number = _number(cell)
    if number != int(number):
        raise ValueError("not whole")
    return int(number)


def _length(heading: str, cell: Any) -> float:
    """Lengths may be fractions, as in ``wheel_diameter_in = "2 1/4"``."""
    if not isinstance(cell, (str, int, float)) or set(str(cell)) - set("0123456789 ./-+e"):
        raise ValueError("not a plain number; the heading has the unit already")
    return units.parse_length(cell, "us" if heading.endswith("_in") else "metric")


def _is_float(kind: Any) -> bool:
    """A number, or one that may be missing."""
    return kind is float or kind == (float | None)


def _is_points(kind: Any) -> bool:
    return get_origin(kind) is tuple and get_origin(get_args(kind)[0]) is tuple


def _points(cell: Any) -> tuple[tuple[float, ...], ...]:
    rows = cell.split(";") if isinstance(cell, str) else cell
    if not isinstance(rows, list):
        raise ValueError("not a list of points")
    points = [row.split() if isinstance(row, str) else row for row in rows]
    if not all(isinstance(point, list) and len(point) == 3 for point in points):
        raise ValueError("each point is u, v and bulge")
    return tuple(tuple(_number(part, negative=True) for part in point) for point in points)


def _words(kind: Any, cell: Any) -> Any:
    """A text, one of some words, or several of them separated by semicolons."""
    if get_origin(kind) is tuple:
        parts = cell.split(";") if isinstance(cell, str) else cell
        if not isinstance(parts, list):
            raise ValueError("not a list of words")
        return tuple(_words(get_args(kind)[0], part) for part in parts)
    if not isinstance(cell, str):
        raise ValueError("not a text")
    if get_origin(kind) is Literal and cell.strip() not in get_args(kind):
        raise ValueError("another word")
    return cell.strip()
