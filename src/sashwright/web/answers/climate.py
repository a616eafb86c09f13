"""The climate of a house: the place it was taken from, how far off, its months."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.climate import Site, describe
from sashwright.knowledge.climate import Near, Place, Spot, coordinates
from sashwright.knowledge.climate_load import gazetteer
from sashwright.record.outdoors import Outdoors
from sashwright.web.answers.say import NONE, Say, capital, percent
from sashwright.window.spec import House

OFFERED = 12
"""Places offered at once."""


@dataclass(frozen=True, slots=True)
class MonthRow:
    """The weather of a month."""

    name: str
    mean: str
    highest: str
    lowest: str
    humidity: str
    moisture: str
    wind: str
    sun: str


@dataclass(frozen=True, slots=True)
class Climate:
    """All that the page shows of a climate."""

    name: str
    facts: tuple[tuple[str, str], ...]
    source: str
    credit: str
    months: tuple[MonthRow, ...]
    year: MonthRow
    answer: Answer


@dataclass(frozen=True, slots=True)
class Offer:
    """A place to choose."""

    words: str
    """What to write into the house so that just this place is found."""
    name: str
    country: str
    away: str


def climate_shown(house: House, outdoors: Outdoors, system: units.System) -> Climate:
    """The climate of a house; how far off it is where the house names it by coordinates."""
    point = coordinates(house.climate)
    site = None if point is None else Site(*point)
    answer = describe(outdoors.place, site=site, system=system)
    say, values = Say(system), answer.values
    return Climate(
        outdoors.place.full_name,
        tuple(_facts(values, say)),
        f"{outdoors.place.source}; {outdoors.place.period}",
        outdoors.place.credit,
        tuple(_month(capital(row["month"]), row, say) for row in values["months"]),
        _year(values["year"], say),
        answer,
    )


def _facts(values: Mapping[str, Any], say: Say) -> Iterable[tuple[str, str]]:
    place = values["place"]
    if values["distance_m"] is not None:
        yield "From the house", say.far(values["distance_m"])
    yield "Elevation", say.high(place["elevation_m"])
    yield "Latitude, longitude", _position(place["latitude_deg"], place["longitude_deg"])
    us = say.system == "us"
    heating, cooling = (
        values[f"{kind}_degree_days_{'f' if us else 'k'}"] for kind in ("heating", "cooling")
    )
    unit = "°F days" if us else "K days"
    base = "65 °F" if us else "18.3 °C"
    yield f"Heating, below {base}", f"{heating:,.0f} {unit}"
    yield f"Cooling, above {base}", f"{cooling:,.0f} {unit}"


def _position(latitude: float, longitude: float) -> str:
    north, east = "N" if latitude >= 0 else "S", "E" if longitude >= 0 else "W"
    return f"{abs(latitude):.2f}° {north}, {abs(longitude):.2f}° {east}"


def _month(name: str, row: Mapping[str, Any], say: Say) -> MonthRow:
    return MonthRow(
        name,
        say.warmth(row["temperature_c"]),
        say.warmth(row["temperature_max_c"]),
        say.warmth(row["temperature_min_c"]),
        percent(row["humidity"]),
        percent(row["outdoor_moisture_content"], 1),
        " ".join(filter(None, (say.wind(row["wind_m_s"]), row["wind_from"]))),
        f"{row['global_kwh_m2_day']:.1f}",
    )


def _year(row: Mapping[str, Any], say: Say) -> MonthRow:
    return MonthRow(
        "Year",
        say.warmth(row["temperature_c"]),
        NONE,
        NONE,
        percent(row["humidity"]),
        percent(row["outdoor_moisture_content"], 1),
        say.wind(row["wind_m_s"]),
        f"{row['global_kwh_m2_day']:.1f}",
    )


# --- looked for -----------------------------------------------------------------------


def offers(words: str, system: units.System) -> list[Offer]:
    """Places that the words may mean, or that are nearest to coordinates, likeliest first."""
    words = words.strip()[:100]
    if not words:
        return []
    known = gazetteer()
    point = coordinates(words)
    if point is None:
        return [_offer(spot) for spot in known.search(words)[:OFFERED]]
    if not (abs(point[0]) <= 90 and abs(point[1]) <= 180):
        return []
    return [_near(near, Say(system)) for near in known.near(*point, count=OFFERED)]


def _offer(spot: Spot | Place) -> Offer:
    return Offer(spot.key, spot.full_name, spot.country, "")


def _near(near: Near, say: Say) -> Offer:
    spot = near.spot
    return Offer(spot.key, spot.full_name, spot.country, say.far(near.distance))


def named(key: str) -> str:
    """What to write into a house for a place: its full name, or its key where that name is not its own."""
    known = gazetteer()
    place = known.place(key)
    return place.full_name if known.find(place.full_name).key == key else key
