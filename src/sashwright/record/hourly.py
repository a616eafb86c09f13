"""Reads a year of hourly weather that the shop has as a file: EPW, TMY3 or TMY2.

The files are read by pvlib; what it does not ask is asked here: whether every hour is there, in its
order and in local standard time, whether the figures can be weather, and whether the sun stands where
the place and its clock want it. pvlib and pandas are loaded only when a file is read.
"""

from __future__ import annotations

import math
import warnings
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sashwright.physics import psychrometrics, sun
from sashwright.physics.hourly_year import (
    DAYS_OF_MONTH,
    HOURS,
    HourlyYear,
    WeatherError,
    hour_name,
)
from sashwright.record.weather_formats import (
    READERS,
    Column,
    Rows,
    WeatherFileError,
    kind_of,
    numbers,
)

__all__ = ["LONGEST_GAP", "NOON_TOLERANCE", "WeatherFileError", "read_hourly"]

Array = NDArray[np.float64]

LONGEST_GAP = 6
"""Hours in a row that may lack a figure and are bridged by a straight line; common practice."""
NOON_TOLERANCE = 0.6
"""How far the middle of the year's sunshine may lie from solar noon [h].

In eight American typical years, from Miami to the Aleutians, it lies within 0.15 h. Summer time, stamps
at the beginning of the hour and a wrong time zone move it by 1 h and more.
"""

_ENDINGS = {"epw": "an EPW file", "tmy3": "a TMY3 file", "tmy2": "a TMY2 file"}


def read_hourly(path: Path) -> HourlyYear:
    """A year of weather from an EPW, TMY3 or TMY2 file.

    A leap year loses its 29 February. Single figures that are missing are bridged, over at most
    ``LONGEST_GAP`` hours; missing irradiance and missing rows are not.

    Parameters
    ----------
    path : Path
        The file; its kind is seen from what stands in it.

    Raises
    ------
    WeatherFileError
        When the file cannot be used as it is.
    """
    text = _text(path)
    kind = kind_of(text)
    if kind is None:
        first = text.split("\n", 1)[0].strip()[:40]
        raise WeatherFileError(
            f"{path.name}, line 1: found {first!r}, expected the head of an EPW, TMY3 or TMY2 file"
        )
    reader = READERS[kind]
    try:
        with warnings.catch_warnings():
            # Mixed types in columns that are not used.
            warnings.simplefilter("ignore")
            read = reader(path, text)
    except WeatherFileError:
        raise
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        reason = str(error).strip("'\" ").split("\n")[0]
        raise WeatherFileError(
            f"{path.name}: found rows that cannot be read ({reason}), expected {_ENDINGS[kind]}"
        ) from error
    return _year(path.name, read)


def _text(path: Path) -> str:
    try:
        data = path.read_bytes()
    except OSError as error:
        reason = error.strerror or str(error)
        raise WeatherFileError(
            f"{path.name}: found no readable file ({reason}), expected an EPW, TMY3 or TMY2 file"
        ) from error
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("latin-1")
    return text.replace("\r\n", "\n").replace("\r", "\n")


# --- from rows to a year -------------------------------------------------------------


def _year(name: str, read: Rows) -> HourlyYear:
    kept = _without_leap_day(name, read)
    _check_order(name, read, kept)
    filled: list[str] = []
    fields = {
        field: _field(name, read, field, column, kept, filled)
        for field, column in read.columns.items()
    }
    fields["humidity"] = np.minimum(fields["humidity"], 1.0)
    fields["wind_direction"] = fields["wind_direction"] % 360
    # Some files write sunless hours as a tiny negative number.
    for field in ("global_horizontal", "direct_normal", "diffuse_horizontal"):
        fields[field] = np.where(np.abs(fields[field]) < 1.0, np.abs(fields[field]), fields[field])
    gaps = f", gaps bridged: {', '.join(filled)}" if filled else ""
    try:
        year = HourlyYear(
            **fields,
            latitude=float(read.latitude),
            longitude=float(read.longitude),
            elevation=float(read.elevation),
            utc_offset=float(read.utc_offset),
            source=f"{read.kind} file {name}, {read.name}{gaps}",
        )
    except WeatherError as error:
        raise WeatherFileError(f"{name}, {error}") from error
    _check_sun(name, year)
    return year


def _without_leap_day(name: str, read: Rows) -> NDArray[np.bool_]:
    """The rows to keep."""
    stamps = np.stack([read.months, read.days, read.hours])
    if np.isnan(stamps).any():
        row = int(np.argmax(np.isnan(stamps).any(axis=0)))
        raise WeatherFileError(
            f"{name}, row {row + 1}: found no date, expected month, day and hour"
        )
    leap: NDArray[np.bool_] = (read.months == 2) & (read.days == 29)
    if not leap.any() and len(leap) > HOURS and len(leap) % HOURS == 0:
        raise WeatherFileError(
            f"{name}: found {len(leap):,} rows, {len(leap) // HOURS} for each hour, expected "
            f"{HOURS:,}, one for each hour of a year"
        )
    return ~leap


def _check_order(name: str, read: Rows, kept: NDArray[np.bool_]) -> None:
    """Every hour of a common year, once, in its order."""
    months, days, hours = (v[kept].astype(np.intp) for v in (read.months, read.days, read.hours))
    fine = (months >= 1) & (months <= 12) & (hours >= 1) & (hours <= 24) & (days >= 1)
    fine &= days <= np.asarray(DAYS_OF_MONTH)[np.clip(months, 1, 12) - 1]
    if not fine.all():
        row = int(np.argmin(fine))
        raise WeatherFileError(
            f"{name}, row {int(np.flatnonzero(kept)[row]) + 1}: found month {months[row]}, day "
            f"{days[row]}, hour {hours[row]}, expected a date of the year and an hour from 1 to 24"
        )
    before = np.concatenate([[0], np.cumsum(DAYS_OF_MONTH)])[months - 1]
    number = 24 * (before + days - 1) + hours - 1
    expected = np.arange(max(len(number), HOURS))
    length = min(len(number), HOURS)
    wrong = number[:length] != expected[:length]
    if not wrong.any() and len(number) == HOURS:
        return
    row = int(np.argmax(wrong)) if wrong.any() else length
    if row >= HOURS:
        raise WeatherFileError(
            f"{name}: found {len(number):,} hours, expected {HOURS:,}, one year and no more"
        )
    instead = "the end of the file" if row >= len(number) else hour_name(int(number[row]))
    raise WeatherFileError(
        f"{name}: found {instead}, expected {hour_name(row)}: every hour of a year, in order"
    )


def _field(
    name: str,
    read: Rows,
    field: str,
    column: Column,
    kept: NDArray[np.bool_],
    filled: list[str],
) -> Array:
    raw = numbers(name, read.table, column.name, read.first_line)[kept]
    missing = column.lacks(raw)
    values: Array = raw * column.scale
    if not missing.any():
        return values
    words = field.replace("_", " ")
    hour = int(np.argmax(missing))
    if field == "pressure" and missing.all():
        filled.append("pressure of the standard atmosphere")
        return np.full(len(values), float(psychrometrics.standard_pressure(read.elevation)))
    longest = _longest_run(missing)
    light = field in {"global_horizontal", "direct_normal", "diffuse_horizontal"}
    if light or longest > LONGEST_GAP:
        allowed = "a figure for every hour" if light else f"gaps of at most {LONGEST_GAP} hours"
        raise WeatherFileError(
            f"{name}, {words}, {hour_name(hour)}: found no figure, {int(missing.sum()):,} in the year "
            f"and {longest} in a row, expected {allowed}"
        )
    filled.append(f"{words} {int(missing.sum())} h")
    return _bridged(values, missing, straight=field != "wind_direction")


def _longest_run(missing: NDArray[np.bool_]) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], missing.astype(np.int8), [0]])))
    return int((edges[1::2] - edges[::2]).max())


def _bridged(values: Array, missing: NDArray[np.bool_], straight: bool) -> Array:
    """Straight lines across gaps; a direction stays what it was."""
    hours = np.arange(len(values))
    known = hours[~missing]
    if straight:
        bridged: Array = np.interp(hours, known, values[known])
        return bridged
    last = known[np.maximum(np.searchsorted(known, hours, side="right") - 1, 0)]
    kept: Array = values[last]
    return kept


def _check_sun(name: str, year: HourlyYear) -> None:
    """The middle of the day's sunshine is near solar noon: the clock is the one the head says."""
    shine = year.global_horizontal.reshape(-1, 24).sum(axis=0)
    if shine.sum() <= 0:
        raise WeatherFileError(f"{name}, global horizontal: found no sun, expected irradiance")
    noon = 12 + year.utc_offset - year.longitude / 15 - float(sun.equation_of_time().mean())
    # As an angle, so that sunshine around midnight does not average to noon.
    angle = 2 * np.pi * (np.arange(24) + 0.5) / 24
    middle = math.atan2(float((shine * np.sin(angle)).sum()), float((shine * np.cos(angle)).sum()))
    apart = (middle * 12 / math.pi - noon + 12) % 24 - 12
    if abs(apart) > NOON_TOLERANCE:
        raise WeatherFileError(
            f"{name}: found the middle of the sunshine at {_clock(noon + apart)}, expected about "
            f"{_clock(noon)}, noon by its longitude {year.longitude:g} and its UTC offset "
            f"{year.utc_offset:g} h; the hours must be local standard time"
        )


def _clock(hours: float) -> str:
    minutes = round(hours * 60) % 1440
    return f"{minutes // 60:02}:{minutes % 60:02}"
