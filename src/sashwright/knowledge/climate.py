"""Places and their monthly climate, and how to find one by name or by coordinates.

Nothing here reads a file: :mod:`sashwright.knowledge.climate_load` does. Every figure is SI: °C, Pa,
m/s, humidity as a fraction, irradiance as a mean over all 24 hours [W/m2] (times 0.024 it is kWh/m2 a
day), degree days in K day.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from sashwright.knowledge.tables import KnowledgeError, Status

EARTH_RADIUS = 6_371_008.8
"""Mean radius of the earth [m]; International Union of Geodesy and Geophysics."""

KWH_DAY = 1000 / 24
"""Mean irradiance over 24 hours [W/m2] that makes 1 kWh/m2 in a day."""

SAME_TOWN = 100_000.0
"""Stations of one name count as one place, so that the first is taken, up to this distance [m]."""

STATES = {
    "AL": "Alabama",
    "AK": "Alaska",
    "AZ": "Arizona",
    "AR": "Arkansas",
    "CA": "California",
    "CO": "Colorado",
    "CT": "Connecticut",
    "DE": "Delaware",
    "DC": "District of Columbia",
    "FL": "Florida",
    "GA": "Georgia",
    "GU": "Guam",
    "HI": "Hawaii",
    "ID": "Idaho",
    "IL": "Illinois",
    "IN": "Indiana",
    "IA": "Iowa",
    "KS": "Kansas",
    "KY": "Kentucky",
    "LA": "Louisiana",
    "ME": "Maine",
    "MD": "Maryland",
    "MA": "Massachusetts",
    "MI": "Michigan",
    "MN": "Minnesota",
    "MS": "Mississippi",
    "MO": "Missouri",
    "MT": "Montana",
    "NE": "Nebraska",
    "NV": "Nevada",
    "NH": "New Hampshire",
    "NJ": "New Jersey",
    "NM": "New Mexico",
    "NY": "New York",
    "NC": "North Carolina",
    "ND": "North Dakota",
    "OH": "Ohio",
    "OK": "Oklahoma",
    "OR": "Oregon",
    "PA": "Pennsylvania",
    "PR": "Puerto Rico",
    "RI": "Rhode Island",
    "SC": "South Carolina",
    "SD": "South Dakota",
    "TN": "Tennessee",
    "TX": "Texas",
    "UT": "Utah",
    "VT": "Vermont",
    "VA": "Virginia",
    "VI": "Virgin Islands",
    "WA": "Washington",
    "WV": "West Virginia",
    "WI": "Wisconsin",
    "WY": "Wyoming",
}
"""American states and territories by their postal letters."""

ABBREVIATIONS = {
    "ap": "airport",
    "arpt": "airport",
    "co": "county",
    "fld": "field",
    "ft": "fort",
    "intercontinental": "international",
    "intl": "international",
    "mem": "memorial",
    "mt": "mount",
    "muni": "municipal",
    "rgnl": "regional",
    "reg": "regional",
    "saint": "st",
}
"""Words that station names and people shorten, all in one form."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthClimate:
    """The climate of one month; what was not measured is None."""

    temperature_max: float
    """Mean of the days' highest [°C]."""
    temperature_min: float
    """Mean of the days' lowest [°C]."""
    temperature: float | None = None
    """Mean of all hours [°C]."""
    temperature_deviation: float | None = None
    """Standard deviation of the days' means [K]."""
    humidity: float | None = None
    """Mean relative humidity [-]."""
    dew_point: float | None = None
    """Mean [°C]."""
    pressure: float | None = None
    """Mean at the station [Pa]."""
    wind_speed: float | None = None
    """Mean [m/s]."""
    wind_deviation: float | None = None
    """Standard deviation of the hours [m/s]."""
    wind_shares: tuple[float, ...] | None = None
    """Share of all hours with wind from N, NE, E, SE, S, SW, W, NW; the rest is calm [-]."""
    wind_speeds: tuple[float, ...] | None = None
    """Mean speed from each of these directions [m/s]."""
    global_horizontal: float | None = None
    """Mean irradiance on a level [W/m2]."""
    diffuse_horizontal: float | None = None
    """Of the sky alone, on a level [W/m2]."""
    direct_normal: float | None = None
    """Of the beam, across it [W/m2]."""
    sunshine: float | None = None
    """Bright sunshine in the whole month [h]."""

    def __post_init__(self) -> None:
        middle = self.temperature
        if not self.temperature_min <= self.temperature_max:
            raise KnowledgeError(
                f"found lowest {self.temperature_min:g} and highest {self.temperature_max:g} °C, "
                "expected them in rising order"
            )
        if middle is not None and not self.temperature_min <= middle <= self.temperature_max:
            raise KnowledgeError(
                f"found a mean of {middle:g} °C, expected one between the mean lowest "
                f"{self.temperature_min:g} and highest {self.temperature_max:g} °C"
            )
        if self.humidity is not None and not 0 < self.humidity <= 1:
            raise KnowledgeError(
                f"found a humidity of {100 * self.humidity:g} %, expected more than 0 and up to 100"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a place is and what it is called, without its weather."""

    key: str
    """Number of an American station, or a short name."""
    name: str
    region: str
    """State by its letters, or another part of a country."""
    country: str
    """By the two letters of ISO 3166."""
    latitude: float
    """North counts up [degrees]."""
    longitude: float
    """East counts up [degrees]."""
    elevation: float
    """Above the sea [m]."""
    utc_offset: float
    """Standard time less universal time [h]."""
    aliases: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (-90 <= self.latitude <= 90 and -180 <= self.longitude <= 180):
            raise KnowledgeError(
                f"found latitude {self.latitude:g} and longitude {self.longitude:g}, expected -90 to "
                "90 and -180 to 180 degrees, south and west below zero"
            )

    @property
    def full_name(self) -> str:
        """Name and region, as in ``Portland International Jetport, ME``."""
        return f"{self.name}, {self.region}" if self.region else self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Spot):
    """A place and its monthly climate."""

    months: tuple[MonthClimate, ...]
    """January to December."""
    heating_degree_days: float | None = None
    """Below 65 °F in the year, published [K day]."""
    cooling_degree_days: float | None = None
    """Above 65 °F in the year, published [K day]."""
    source: str
    period: str
    """Which years it describes, in words."""
    period_end: int | None = None
    """Its last year."""
    credit: str = ""
    """The line to print beside the figures."""
    status: Status
    note: str = ""

    def __post_init__(self) -> None:
        # The zero-argument super() does not work in dataclasses with slots.
        Spot.__post_init__(self)
        if len(self.months) != 12:
            raise KnowledgeError(f"found {len(self.months)} months, expected 12")


@dataclass(frozen=True, slots=True)
class Near:
    """A place seen from a site."""

    spot: Spot
    distance: float
    """Along the great circle [m]."""
    rise: float | None
    """Elevation of the place less that of the site [m]; None where the site's is not known."""


def distance(latitude: float, longitude: float, spot: Spot) -> float:
    r"""Great-circle distance from a point to a place [m].

    .. math:: 2 R \arcsin\sqrt{\sin^2(\Delta\phi/2) + \cos\phi_1\cos\phi_2\sin^2(\Delta\lambda/2)}

    On a sphere; the true, flattened earth makes up to 0.5 % of difference. Angles in degrees.
    """
    one, other = math.radians(latitude), math.radians(spot.latitude)
    east = math.radians(spot.longitude - longitude)
    half = math.sin((other - one) / 2) ** 2
    half += math.cos(one) * math.cos(other) * math.sin(east / 2) ** 2
    return 2 * EARTH_RADIUS * math.asin(math.sqrt(min(half, 1.0)))


def nearest(
    spots: Iterable[Spot],
    latitude: float,
    longitude: float,
    elevation: float | None = None,
    count: int = 5,
) -> list[Near]:
    """The ``count`` places nearest to a site, nearest first.

    Raises
    ------
    KnowledgeError
        When the coordinates are none.
    """
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        raise KnowledgeError(
            f"Found latitude {latitude:g} and longitude {longitude:g}, expected -90 to 90 and -180 to "
            "180 degrees, south and west below zero."
        )
    seen = [(distance(latitude, longitude, spot), spot) for spot in spots]
    seen.sort(key=lambda pair: (pair[0], pair[1].key))
    return [
        Near(spot, away, None if elevation is None else spot.elevation - elevation)
        for away, spot in seen[:count]
    ]


def coordinates(words: str) -> tuple[float, float] | None:
    """Latitude and longitude from words such as ``43.65, -70.30`` or ``43.65 N 70.30 W``, or None."""
    number = r"([-+]?\d+(?:\.\d+)?)\s*°?\s*"
    match = re.fullmatch(rf"\s*{number}([NnSs]?)[\s,;]+{number}([EeWw]?)\s*", words)
    if match is None:
        return None
    latitude, south, longitude, west = match.groups()
    return (
        float(latitude) * (-1 if south.casefold() == "s" else 1),
        float(longitude) * (-1 if west.casefold() == "w" else 1),
    )


def search(spots: Sequence[Spot], words: str) -> list[Spot]:
    """Every place that the words may mean, likeliest first.

    ``Portland, ME``, ``portland maine`` and ``PORTLAND`` are understood, and so are station numbers.
    """
    exact = _by_key(spots, words)
    return [exact] if exact is not None else [spot for _, spot in _ranked(spots, words)]


def find(spots: Sequence[Spot], words: str) -> Spot:
    """The one place that the words mean.

    Of several stations of a town the likeliest is taken: the one whose name begins with the words, an
    international airport, the shortest name.

    Raises
    ------
    KnowledgeError
        When nothing fits, or places far from each other do; one sentence names the nearest names.
    """
    if (exact := _by_key(spots, words)) is not None:
        return exact
    ranked = _ranked(spots, words)
    if not ranked:
        raise KnowledgeError(_nothing(spots, words))
    best, first = ranked[0]
    # Alike in the words themselves; only then may the kind of airport decide.
    rivals = [spot for rank, spot in ranked if rank[:3] == best[:3]]
    far = [s for s in rivals if distance(first.latitude, first.longitude, s) > SAME_TOWN]
    if far:
        names = list(dict.fromkeys(spot.full_name for spot in (first, *far)))
        more = ", …" if len(names) > 4 else ""
        raise KnowledgeError(
            f"Found {words.strip()!r}, expected one place; did you mean "
            f"{' or '.join(map(repr, names[:4]))}{more}? Add the state."
        )
    return first


def _by_key(spots: Sequence[Spot], words: str) -> Spot | None:
    key = words.strip().casefold()
    return next((spot for spot in spots if spot.key.casefold() == key), None)


_Rank = tuple[int, int, int, int, int, str]


def _ranked(spots: Sequence[Spot], words: str) -> list[tuple[_Rank, Spot]]:
    wanted = _tokens(words)
    found = []
    for spot in spots:
        region = _region(spot)
        ranks = [_rank(wanted, _tokens(name), region) for name in (spot.name, *spot.aliases)]
        known = [rank for rank in ranks if rank is not None]
        if known:
            found.append(((*min(known), spot.key), spot))
    return sorted(found, key=lambda pair: pair[0])


def _rank(
    wanted: Sequence[str], name: Sequence[str], region: frozenset[str]
) -> tuple[int, int, int, int, int] | None:
    """How well a name fits, less is better; None when a word is neither in it nor in its region."""
    loose, of_region = 0, 0
    in_name = []
    for word in wanted:
        if word in name:
            in_name.append(word)
        elif word in region:
            of_region += 1
        elif len(word) > 2 and any(other.startswith(word) for other in name):
            loose += 1
        else:
            return None
    begins = bool(in_name) and list(name[: len(in_name)]) == in_name
    return loose, of_region, not begins, "international" not in name, len(name)


def _region(spot: Spot) -> frozenset[str]:
    state = STATES.get(spot.region, "") if spot.country == "US" else ""
    return frozenset((*_tokens(spot.region), *_tokens(state), *_tokens(spot.country)))


@lru_cache(maxsize=8192)
def _tokens(words: str) -> tuple[str, ...]:
    """Words in one form: small letters, no signs, abbreviations spelled out."""
    plain = re.sub(r"['’`.]", "", words.casefold())
    return tuple(ABBREVIATIONS.get(word, word) for word in re.findall(r"\w+", plain))


def _nothing(spots: Sequence[Spot], words: str) -> str:
    said = f"Found {words.strip()!r}, expected the name of a place, a station number or coordinates"
    names = {
        name.casefold(): spot.full_name for spot in spots for name in (spot.name, *spot.aliases)
    }
    names |= {spot.full_name.casefold(): spot.full_name for spot in spots}
    # People name the town, stations have its airport behind it.
    names |= {
        f"{spot.name.split()[0]}, {spot.region}".casefold(): spot.full_name
        for spot in spots
        if spot.name
    }
    near = difflib.get_close_matches(words.strip().casefold(), names, n=3, cutoff=0.6)
    if not near:
        return f"{said}."
    listed = list(dict.fromkeys(names[name] for name in near))
    return f"{said}; did you mean {' or '.join(map(repr, listed))}?"
