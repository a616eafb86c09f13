"""The formats of hourly weather files: EPW, TMY3, TMY2, each read by pvlib into one shape.

pvlib and pandas are loaded only when a file is read.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class WeatherFileError(ValueError):
    """A weather file that cannot be used; one sentence says what was found, where, what expected."""


@dataclass(frozen=True, slots=True)
class Column:
    """Where a field comes from: its column, what its unit counts, and what stands for missing."""

    name: str
    scale: float
    missing: float
    """Figures as large as this, or for negative ones as small, mean that there is none."""

    def lacks(self, values: Array) -> NDArray[np.bool_]:
        if self.missing < 0:
            return ~(values > self.missing)
        return ~(values < self.missing)


Columns = Mapping[str, Column]

# EPW: missing-value marks of the format's documentation.
_EPW: Columns = {
    "temperature": Column("temp_air", 1.0, 99.9),
    "dew_point": Column("temp_dew", 1.0, 99.9),
    "humidity": Column("relative_humidity", 0.01, 999.0),
    "pressure": Column("atmospheric_pressure", 1.0, 999_999.0),
    "wind_speed": Column("wind_speed", 1.0, 999.0),
    "wind_direction": Column("wind_direction", 1.0, 999.0),
    "global_horizontal": Column("ghi", 1.0, 9999.0),
    "direct_normal": Column("dni", 1.0, 9999.0),
    "diffuse_horizontal": Column("dhi", 1.0, 9999.0),
}
# NREL/TP-581-43156: -9900 for missing.
_TMY3: Columns = {
    "temperature": Column("Dry-bulb (C)", 1.0, -9000.0),
    "dew_point": Column("Dew-point (C)", 1.0, -9000.0),
    "humidity": Column("RHum (%)", 0.01, -9000.0),
    "pressure": Column("Pressure (mbar)", 100.0, -9000.0),
    "wind_speed": Column("Wspd (m/s)", 1.0, -9000.0),
    "wind_direction": Column("Wdir (degrees)", 1.0, -9000.0),
    "global_horizontal": Column("GHI (W/m^2)", 1.0, -9000.0),
    "direct_normal": Column("DNI (W/m^2)", 1.0, -9000.0),
    "diffuse_horizontal": Column("DHI (W/m^2)", 1.0, -9000.0),
}
# User's Manual for TMY2s (NREL 1995): tenths of degrees and of m/s, nines for missing.
_TMY2: Columns = {
    "temperature": Column("DryBulb", 0.1, 9999.0),
    "dew_point": Column("DewPoint", 0.1, 9999.0),
    "humidity": Column("RHum", 0.01, 999.0),
    "pressure": Column("Pressure", 100.0, 9999.0),
    "wind_speed": Column("Wspd", 0.1, 999.0),
    "wind_direction": Column("Wdir", 1.0, 999.0),
    "global_horizontal": Column("GHI", 1.0, 9999.0),
    "direct_normal": Column("DNI", 1.0, 9999.0),
    "diffuse_horizontal": Column("DHI", 1.0, 9999.0),
}


@dataclass(frozen=True, slots=True)
class Rows:
    """What a reader found: a table by column, the stamp of each row, and where the station stands."""

    kind: str
    columns: Columns
    first_line: int
    """Of the rows, counted from 1."""
    table: Any
    months: Array
    days: Array
    hours: Array
    """End of the hour, 1 to 24."""
    name: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float


def kind_of(text: str) -> str | None:
    first, _, rest = text.partition("\n")
    if first.upper().startswith("LOCATION,"):
        return "epw"
    if "Date (MM/DD/YYYY)" in rest[:4000].partition("\n")[0]:
        return "tmy3"
    if re.match(r"\s*\d{5}\s+\S.*\s[NS]\s+\d+\s+\d+\s+[EW]\s+\d+\s+\d+\s+-?\d+\s*$", first):
        return "tmy2"
    return None


# --- the three formats --------------------------------------------------------------


def _read_epw(path: Path, text: str) -> Rows:
    from pvlib.iotools import read_epw  # noqa: PLC0415 - slow to load

    lines = text.split("\n")
    _expect(path, lines, 9, 22, "at least 22 fields of an EPW row, from the year to the wind speed")
    table, head = read_epw(io.StringIO(text))
    _expect_zone(path, head["TZ"])
    return Rows(
        kind="EPW",
        columns=_EPW,
        first_line=9,
        table=table,
        months=numbers(path.name, table, "month", 9),
        days=numbers(path.name, table, "day", 9),
        hours=numbers(path.name, table, "hour", 9),
        name=", ".join(part for part in (head["city"], head["state-prov"]) if part.strip(" -")),
        latitude=head["latitude"],
        longitude=head["longitude"],
        elevation=head["altitude"],
        utc_offset=head["TZ"],
    )


def _read_tmy3(path: Path, text: str) -> Rows:
    from pvlib.iotools import read_tmy3  # noqa: PLC0415

    first, _, rest = text.partition("\n")
    # pvlib splits the head at every comma, also at those in a quoted name.
    cells = [cell.strip() for cell in next(csv.reader([first]))]
    if len(cells) != 7:
        raise WeatherFileError(
            f"{path.name}, line 1: found {len(cells)} fields, expected 7: station, name, state, UTC "
            "offset, latitude, longitude, elevation"
        )
    headings = {cell.strip() for cell in next(csv.reader([rest.partition("\n")[0]]))}
    _expect_columns(path, headings, [column.name for column in _TMY3.values()], 2)
    _expect_zone(path, float(cells[3]))
    _expect_full_hours(path, rest)
    head_line = ",".join([cells[0], "", *cells[2:]])
    table, head = read_tmy3(io.StringIO(f"{head_line}\n{rest}"), map_variables=False)
    dates = table["Date (MM/DD/YYYY)"].astype(str).str.split("/")
    return Rows(
        kind="TMY3",
        columns=_TMY3,
        first_line=3,
        table=table,
        months=dates.str[0].to_numpy(dtype=np.float64),
        days=dates.str[1].to_numpy(dtype=np.float64),
        hours=table["Time (HH:MM)"].astype(str).str.split(":").str[0].to_numpy(dtype=np.float64),
        name=f"{cells[1]}, {cells[2]}",
        latitude=head["latitude"],
        longitude=head["longitude"],
        elevation=head["altitude"],
        utc_offset=head["TZ"],
    )


def _read_tmy2(path: Path, text: str) -> Rows:
    from pvlib.iotools import read_tmy2  # noqa: PLC0415

    _expect(path, text.split("\n"), 2, 1, "a TMY2 row")
    table, head = read_tmy2(str(path))
    return Rows(
        kind="TMY2",
        columns=_TMY2,
        first_line=2,
        table=table,
        months=numbers(path.name, table, "month", 2),
        days=numbers(path.name, table, "day", 2),
        hours=numbers(path.name, table, "hour", 2),
        name=f"{head['City']}, {head['State']}",
        latitude=head["latitude"],
        longitude=head["longitude"],
        elevation=head["altitude"],
        utc_offset=float(head["TZ"]),
    )


READERS: Mapping[str, Callable[[Path, str], Rows]] = {
    "epw": _read_epw,
    "tmy3": _read_tmy3,
    "tmy2": _read_tmy2,
}


def _expect(path: Path, lines: list[str], number: int, fields: int, what: str) -> None:
    """Something stands in a line, with at least so many fields between commas."""
    line = lines[number - 1] if len(lines) >= number else ""
    found = line.count(",") + 1 if line.strip() else 0
    if found < fields:
        said = f"{found} fields" if found else "nothing"
        raise WeatherFileError(f"{path.name}, line {number}: found {said}, expected {what}")


def _expect_columns(path: Path, found: set[str], wanted: list[str], line: int) -> None:
    missing = [name for name in wanted if name not in found]
    if missing:
        raise WeatherFileError(
            f"{path.name}, line {line}: found no column {', '.join(missing)}, expected the columns of "
            "a TMY3 file"
        )


def _expect_zone(path: Path, offset: float) -> None:
    if not -12 <= offset <= 14:
        raise WeatherFileError(
            f"{path.name}, line 1: found a time zone of {offset:g} h, expected -12 to 14 h from UTC"
        )


def _expect_full_hours(path: Path, rest: str) -> None:
    """TMY3 stamps are 01:00 to 24:00; files that begin at 00:00 mean something else by them."""
    for number, line in enumerate(rest.split("\n")[1:3], start=3):
        stamp = line.split(",")[1].strip() if line.count(",") > 1 else ""
        if stamp and not re.fullmatch(r"(0?[1-9]|1\d|2[0-4]):00", stamp):
            raise WeatherFileError(
                f"{path.name}, line {number}: found the time {stamp}, expected the end of an hour, "
                "01:00 to 24:00"
            )


def numbers(name: str, table: Any, column: str, first_line: int) -> Array:
    """A column of a file as numbers; what is none is told with its line."""
    import pandas  # noqa: PLC0415

    values: Array = pandas.to_numeric(table[column], errors="coerce").to_numpy(dtype=np.float64)
    given = table[column].notna().to_numpy()
    wrong = np.isnan(values) & given
    if wrong.any():
        row = int(np.argmax(wrong))
        raise WeatherFileError(
            f"{name}, line {first_line + row}, {column}: found {table[column].iloc[row]!r}, "
            "expected a number"
        )
    return values
