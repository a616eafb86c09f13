"""Reads places and their climate: the ones of the package, and a shop's own over them.

American stations lie in one compressed table, of which only the line that is asked for is worked out. Other
places, a shop's own among them, are TOML: see :mod:`sashwright.knowledge.climate_places`.
"""

from __future__ import annotations

import gzip
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path

from sashwright.knowledge import climate
from sashwright.knowledge.climate import KWH_DAY, MonthClimate, Near, Place, Spot
from sashwright.knowledge.climate_places import Problems, places_in
from sashwright.knowledge.tables import KnowledgeError

TMY3_CREDIT = "TMY3 data: National Renewable Energy Laboratory / U.S. Department of Energy"
_TMY3_SOURCE = (
    "TMY3 typical year, National Renewable Energy Laboratory (NREL/TP-581-43156, 2008), "
    "monthly statistics of its hours"
)
_TMY3_PERIOD = "a patchwork of months of about 1976 to 2005; today's normals are warmer"

_DIRECTIONS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True, slots=True)
class Gazetteer:
    """All places that are known, by key; their weather is read when one is asked for."""

    spots: Mapping[str, Spot]
    _readers: Mapping[str, Callable[[], Place]]

    def place(self, key: str) -> Place:
        """The place with this key.

        Raises
        ------
        KnowledgeError
            When there is none.
        """
        if key not in self._readers:
            raise KnowledgeError(f"Found {key!r}, expected the key of a place, such as 726060.")
        return self._readers[key]()

    def find(self, words: str) -> Place:
        """The place that the words mean: a name, a station number, or coordinates.

        Coordinates such as ``43.65, -70.30`` give the place nearest to them.

        Raises
        ------
        KnowledgeError
            When none fits, or several far from each other; one sentence says what to write instead.
        """
        point = climate.coordinates(words)
        if point is not None:
            return self.place(self.near(*point, count=1)[0].spot.key)
        return self.place(climate.find(list(self.spots.values()), words).key)

    def search(self, words: str) -> list[Spot]:
        """Every place that the words may mean, likeliest first."""
        return climate.search(list(self.spots.values()), words)

    def near(
        self, latitude: float, longitude: float, elevation: float | None = None, count: int = 5
    ) -> list[Near]:
        """The places nearest to a site, nearest first; degrees and m."""
        return climate.nearest(self.spots.values(), latitude, longitude, elevation, count)


def gazetteer(*shop_files: Path) -> Gazetteer:
    """All places of the package, with those of a shop's TOML files over them.

    Raises
    ------
    KnowledgeError
        With every problem of every file: file, place, field, what was found and what expected.
    """
    own = _own_places(shop_files) if shop_files else {}
    spots: dict[str, Spot] = {**_american_spots(), **_shipped_places(), **own}
    readers: dict[str, Callable[[], Place]] = {}
    for key in spots:
        known = own.get(key) or _shipped_places().get(key)
        readers[key] = _reader(key, known)
    return Gazetteer(spots, readers)


def _reader(key: str, known: Place | None) -> Callable[[], Place]:
    if known is not None:
        return lambda: known
    return lambda: _american_place(key)


# --- American stations -------------------------------------------------------------


@cache
def _american_lines() -> dict[str, str]:
    """Each station's line by its number, and the headings under the empty key."""
    file = resources.files("sashwright.knowledge") / "data" / "climate-us.csv.gz"
    lines = gzip.decompress(file.read_bytes()).decode("utf-8").splitlines()
    return {"": lines[0]} | {line[: line.index(",")]: line for line in lines[1:]}


@cache
def _american_spots() -> dict[str, Spot]:
    spots = {}
    for key, line in _american_lines().items():
        if key:
            _, name, state, latitude, longitude, elevation, offset, _ = line.split(",", 7)
            spots[key] = Spot(
                key=key,
                name=name,
                region=state,
                country="US",
                latitude=float(latitude),
                longitude=float(longitude),
                elevation=float(elevation),
                utc_offset=float(offset),
            )
    return spots


@cache
def _american_place(key: str) -> Place:
    headings = _american_lines()[""].split(",")
    cells = dict(zip(headings, _american_lines()[key].split(","), strict=True))
    spot = _american_spots()[key]
    columns = {name: [int(cell) for cell in cells[name].split()] for name in headings[9:]}
    months = tuple(_american_month(columns, month) for month in range(12))
    return Place(
        key=key,
        name=spot.name,
        region=spot.region,
        country="US",
        latitude=spot.latitude,
        longitude=spot.longitude,
        elevation=spot.elevation,
        utc_offset=spot.utc_offset,
        months=months,
        heating_degree_days=float(cells["hdd65_F_day"]) / 1.8,
        cooling_degree_days=float(cells["cdd65_F_day"]) / 1.8,
        source=_TMY3_SOURCE,
        period=_TMY3_PERIOD,
        period_end=2005,
        credit=TMY3_CREDIT,
        status="published",
        note=_doubt(spot, months),
    )


def _american_month(columns: Mapping[str, Sequence[int]], month: int) -> MonthClimate:
    def value(column: str, scale: int) -> float:
        return columns[column][month] / scale

    return MonthClimate(
        temperature=value("t_mean_C", 100),
        temperature_max=value("t_daily_max_mean_C", 100),
        temperature_min=value("t_daily_min_mean_C", 100),
        temperature_deviation=value("t_daily_mean_sd_K", 100),
        humidity=value("rh_mean_pct", 1000),
        dew_point=value("dew_point_mean_C", 10),
        pressure=value("pressure_mean_hPa", 10) * 100,
        wind_speed=value("wind_mean_m_s", 100),
        wind_deviation=value("wind_sd_m_s", 100),
        wind_shares=tuple(value(f"wind_share_{name}", 1000) for name in _DIRECTIONS),
        wind_speeds=tuple(value(f"wind_speed_{name}_m_s", 10) for name in _DIRECTIONS),
        global_horizontal=value("ghi_kWh_m2_day", 100) * KWH_DAY,
        diffuse_horizontal=value("dhi_kWh_m2_day", 100) * KWH_DAY,
        direct_normal=value("dni_kWh_m2_day", 100) * KWH_DAY,
    )


def _doubt(spot: Spot, months: Sequence[MonthClimate]) -> str:
    """A note where the pressures of a station cannot be those of its elevation."""
    pressures = [month.pressure for month in months if month.pressure is not None]
    ratio = sum(pressures) / len(pressures) / 101325
    # Inverse of the standard atmosphere; a climate moves it by some 60 m.
    believed = (1 - ratio ** (1 / 5.2559)) / 2.25577e-5
    if abs(believed - spot.elevation) < 150:
        return ""
    return (
        f"its file says {spot.elevation:.0f} m above the sea, its pressures are those of about "
        f"{round(believed, -1):.0f} m"
    )


# --- other places ------------------------------------------------------------------


@cache
def _shipped_places() -> dict[str, Place]:
    file = resources.files("sashwright.knowledge") / "data" / "places.toml"
    problems = Problems()
    places = dict(places_in("places.toml", file.read_text(encoding="utf-8"), problems))
    problems.tell()
    return places


def _own_places(files: Sequence[Path]) -> dict[str, Place]:
    problems = Problems()
    places: dict[str, Place] = {}
    for file in files:
        try:
            text = file.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            problems.add(str(file), f"found no readable text file ({error})")
            continue
        places |= dict(places_in(str(file), text, problems))
    problems.tell()
    return places
