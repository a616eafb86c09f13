"""Places written in TOML, the package's own outside the United States and those of a shop.

One table for each place::

    [place.yard]
    name = "The shop's yard"
    region = "ME"
    latitude = 43.66
    longitude = -70.26
    elevation_m = 15
    utc_offset_h = -5
    temperature_max_C = [-0.6, 1.1, 5.2, 11.3, 17.4, 22.8, 26.0, 25.3, 20.8, 14.4, 8.4, 2.5]
    temperature_min_C = [-9.9, -8.7, -4.0, 1.4, 7.0, 12.4, 15.6, 14.9, 10.4, 4.4, -0.3, -6.1]
    humidity_pct = [66, 65, 66, 65, 69, 73, 74, 75, 75, 72, 71, 69]
    global_kwh_m2_day = [1.9, 2.8, 4.0, 4.8, 5.6, 6.2, 6.1, 5.4, 4.2, 2.8, 1.8, 1.5]
    period = "2005 to 2024"
    period_end = 2024
    source = "weather station behind the shop"

Temperatures, humidity or dew point, and irradiance or sunshine are wanted; the rest may be left out. Where
twelve months are alike one number will do. ``_F`` in place of ``_C``, ``elevation_ft`` and ``wind_mph``
work too.
"""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from sashwright.knowledge.climate import KWH_DAY, MonthClimate, Place
from sashwright.knowledge.tables import KnowledgeError, Status

_FOOT = 0.3048
_MILE_PER_HOUR = 0.44704


def _same(value: float) -> float:
    return value


def _fahrenheit(value: float) -> float:
    return (value - 32) / 1.8


def _times(factor: float) -> Callable[[float], float]:
    return lambda value: value * factor


_Turned = tuple[str, Callable[[float], float]]

# Heading in the file, field it fills, and how its unit becomes SI.
_MONTHLY: Mapping[str, _Turned] = {
    "temperature_C": ("temperature", _same),
    "temperature_F": ("temperature", _fahrenheit),
    "temperature_max_C": ("temperature_max", _same),
    "temperature_max_F": ("temperature_max", _fahrenheit),
    "temperature_min_C": ("temperature_min", _same),
    "temperature_min_F": ("temperature_min", _fahrenheit),
    "temperature_deviation_K": ("temperature_deviation", _same),
    "humidity_pct": ("humidity", _times(0.01)),
    "dew_point_C": ("dew_point", _same),
    "dew_point_F": ("dew_point", _fahrenheit),
    "pressure_hpa": ("pressure", _times(100)),
    "wind_m_s": ("wind_speed", _same),
    "wind_mph": ("wind_speed", _times(_MILE_PER_HOUR)),
    "wind_deviation_m_s": ("wind_deviation", _same),
    "global_kwh_m2_day": ("global_horizontal", _times(KWH_DAY)),
    "diffuse_kwh_m2_day": ("diffuse_horizontal", _times(KWH_DAY)),
    "direct_kwh_m2_day": ("direct_normal", _times(KWH_DAY)),
    "sunshine_h": ("sunshine", _same),
}
# Eight numbers, from N by E, for all months alike.
_ROSES: Mapping[str, _Turned] = {
    "wind_shares_pct": ("wind_shares", _times(0.01)),
    "wind_speeds_m_s": ("wind_speeds", _same),
    "wind_speeds_mph": ("wind_speeds", _times(_MILE_PER_HOUR)),
}
_NUMBERS: Mapping[str, _Turned] = {
    "latitude": ("latitude", _same),
    "longitude": ("longitude", _same),
    "elevation_m": ("elevation", _same),
    "elevation_ft": ("elevation", _times(_FOOT)),
    "utc_offset_h": ("utc_offset", _same),
    "heating_degree_days_F": ("heating_degree_days", _times(1 / 1.8)),
    "cooling_degree_days_F": ("cooling_degree_days", _times(1 / 1.8)),
    "heating_degree_days_K": ("heating_degree_days", _same),
    "cooling_degree_days_K": ("cooling_degree_days", _same),
}
_TEXTS = ("name", "region", "country", "period", "source", "credit", "status", "note")
_OTHERS = ("aliases", "period_end")
_NEEDED = ("name", "latitude", "longitude", "elevation", "utc_offset", "period", "source")
_NEEDED_MONTHLY = ("temperature_max", "temperature_min")
_STATUSES: tuple[Status, ...] = ("published", "common practice", "from memory", "shop")


class Problems:
    """Everything found wrong, to be told at once."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def add(self, where: str, what: str) -> None:
        self.lines.append(f"{where}: {what}")

    def tell(self) -> None:
        if self.lines:
            raise KnowledgeError("\n".join(self.lines))


def places_in(file: str, text: str, problems: Problems) -> Iterator[tuple[str, Place]]:
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problems.add(file, f"found no readable TOML ({error})")
        return
    tables = document.get("place", {})
    strange = [key for key in document if key != "place"]
    if strange or not isinstance(tables, dict):
        problems.add(file, f"found {', '.join(strange) or 'place'}, expected [place.my-own] tables")
        return
    for key, cells in tables.items():
        place = _place(f"{file}, [place.{key}]", key, cells, problems)
        if place is not None:
            yield key, place


def _place(where: str, key: str, cells: Any, problems: Problems) -> Place | None:
    before = len(problems.lines)
    if not isinstance(cells, dict):
        problems.add(where, f"found {cells!r}, expected a table")
        return None
    read = _Cells(where, problems)
    for heading, cell in cells.items():
        read.take(heading, cell)
    read.wanted()
    if len(problems.lines) > before:
        return None
    texts: Any = {"country": "US", "region": "", "status": "shop"} | read.fields
    try:
        return Place(key=key, months=read.months(), **texts)
    except KnowledgeError as error:
        problems.add(where, str(error))
        return None


class _Cells:
    """One table's cells, turned into fields as they come."""

    def __init__(self, where: str, problems: Problems) -> None:
        self.where, self.problems = where, problems
        self.fields: dict[str, Any] = {}
        self.monthly: dict[str, list[Any]] = {}

    def take(self, heading: str, cell: Any) -> None:
        try:
            self._take(heading, cell)
        except ValueError as error:
            self.problems.add(f"{self.where}, {heading}", f"found {_short(cell)}, expected {error}")

    def _take(self, heading: str, cell: Any) -> None:
        if heading in _MONTHLY:
            field, turn = _MONTHLY[heading]
            self._fill(self.monthly, field, [turn(v) for v in _months(cell)])
        elif heading in _ROSES:
            field, turn = _ROSES[heading]
            rose = tuple(turn(v) for v in _numbers(cell, 8, "N by E to NW"))
            if field == "wind_shares" and (min(rose) < 0 or sum(rose) > 1.005):
                raise ValueError("shares from 0 that add up to 100 % at most, the rest being calm")
            self._fill(self.monthly, field, [rose] * 12)
        elif heading in _NUMBERS:
            field, turn = _NUMBERS[heading]
            self._fill(self.fields, field, turn(_number(cell)))
        elif heading in _TEXTS:
            self.fields[heading] = _text(heading, cell)
        elif heading == "aliases":
            if not isinstance(cell, list) or not all(isinstance(word, str) for word in cell):
                raise ValueError("a list of names")
            self.fields[heading] = tuple(cell)
        elif heading == "period_end":
            if not isinstance(cell, int) or isinstance(cell, bool):
                raise ValueError("a year")
            self.fields[heading] = cell
        else:
            self.problems.add(f"{self.where}, {heading}", _strange(heading))

    def _fill(self, fields: dict[str, Any], field: str, value: Any) -> None:
        if field in fields:
            raise ValueError(f"{field} once, in one unit")
        fields[field] = value

    def wanted(self) -> None:
        """Report what is missing."""
        for field in (*_NEEDED, *_NEEDED_MONTHLY):
            if field not in self.fields and field not in self.monthly:
                self.problems.add(f"{self.where}, {field}", "found nothing, expected it")
        for either, other in (("humidity", "dew_point"), ("global_horizontal", "sunshine")):
            if either not in self.monthly and other not in self.monthly:
                wanted = " or ".join(_headings(either) + _headings(other))
                self.problems.add(self.where, f"found nothing of {wanted}, expected one of them")
        if ("wind_shares" in self.monthly) != ("wind_speeds" in self.monthly):
            self.problems.add(
                self.where, "found half a wind rose, expected both its shares and its speeds"
            )

    def months(self) -> tuple[MonthClimate, ...]:
        return tuple(
            MonthClimate(**{field: values[month] for field, values in self.monthly.items()})
            for month in range(12)
        )


def _headings(field: str) -> list[str]:
    return [heading for heading, (name, _) in _MONTHLY.items() if name == field]


def _strange(heading: str) -> str:
    known = [*_MONTHLY, *_ROSES, *_NUMBERS, *_TEXTS, *_OTHERS]
    near = difflib.get_close_matches(heading, known, n=3, cutoff=0.5)
    return f"found no such field, expected one such as {' or '.join(near or known[:4])}"


def _short(cell: Any) -> str:
    text = repr(cell)
    return text if len(text) < 60 else f"{text[:57]}…"


def _number(cell: Any) -> float:
    if isinstance(cell, bool) or not isinstance(cell, (int, float)) or not math.isfinite(cell):
        raise ValueError("a number")
    return float(cell)


def _numbers(cell: Any, count: int, order: str) -> list[float]:
    if not isinstance(cell, list) or len(cell) != count:
        raise ValueError(f"{count} numbers, {order}")
    try:
        return [_number(value) for value in cell]
    except ValueError:
        raise ValueError(f"{count} numbers, {order}") from None


def _months(cell: Any) -> list[float]:
    if isinstance(cell, list):
        return _numbers(cell, 12, "January to December")
    try:
        return [_number(cell)] * 12
    except ValueError:
        raise ValueError("12 numbers, January to December, or one for all months") from None


def _text(heading: str, cell: Any) -> str:
    if not isinstance(cell, str) or (heading in {"name", "source"} and not cell.strip()):
        raise ValueError("a text")
    if heading == "status" and cell not in _STATUSES:
        raise ValueError(f"one of {', '.join(_STATUSES)}")
    return cell.strip()
