"""What is the weather like here? The climate of a place, and where its figures come from.

Not a chapter about windows: its answer has none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step
from sashwright.chapters.weather import normals_of, outdoor_moisture, year_of
from sashwright.knowledge.climate import Near, Place, distance
from sashwright.physics.hourly_year import DAYS_OF_MONTH, MONTH_NAMES, degree_days
from sashwright.physics.normals import DIRECTIONS, Normals

Array = NDArray[np.float64]

FAR = 50_000.0
"""Distance from which a station is said to be far [m]; common practice."""
TOO_FAR = 120_000.0
"""Distance from which it may have another climate [m]; common practice."""
HIGH = 100.0
"""Difference of elevation worth telling [m]: two thirds of a kelvin."""
TOO_HIGH = 300.0
"""Difference of elevation that makes another climate [m]: two kelvin."""
LAPSE = 0.0065
"""Cooling with height of the standard atmosphere [K/m]; ISO 2533."""
OLD = 2010
"""A period that ends before this year knows little of the normals of 1991 to 2020."""

_KWH_DAY = 0.024
_MILE = 1609.344
_FOOT = 0.3048
_DAYS = np.asarray(DAYS_OF_MONTH, dtype=np.float64)
_HANDBOOK = "Wood Handbook eq. 4-5 on monthly means, as FPL-RN-0268 (1998)"


@dataclass(frozen=True, slots=True)
class Site:
    """Where the house stands."""

    latitude: float
    """North counts up [degrees]."""
    longitude: float
    """East counts up [degrees]."""
    elevation: float | None = None
    """Above the sea [m]; None where not known."""


def describe(
    place: Place,
    *,
    site: Site | None = None,
    nearby: Sequence[Near] = (),
    system: units.System = "us",
) -> Answer:
    """The climate of a place: months, degree days, outdoor moisture content of wood, where from.

    Parameters
    ----------
    place : Place
        The place.
    site : Site, optional
        Where the house stands, to judge how far off the place is.
    nearby : sequence of Near
        Other places to choose from; listed as they come.
    system : {"us", "metric"}
        Units of the sentences.
    """
    normals = normals_of(place)
    content = outdoor_moisture(normals)
    heating, cooling, how = _degree_days(place)
    away = None if site is None else _seen_from(site, place)
    values: dict[str, Any] = {
        "place": _place_values(place),
        "months": [_month_values(normals, content, month) for month in range(12)],
        "year": _year_values(normals, content),
        "heating_degree_days_f": heating * 1.8,
        "cooling_degree_days_f": cooling * 1.8,
        "heating_degree_days_k": heating,
        "cooling_degree_days_k": cooling,
        "degree_days_base_f": 65.0,
        "degree_days_from": how,
        "estimated": list(normals.estimated),
        "distance_m": None if away is None else away.distance,
        "rise_m": None if away is None else away.rise,
        "nearby": [_near_values(near) for near in nearby],
    }
    findings = [*_source_findings(place, normals), _moisture_finding(content)]
    if away is not None:
        findings += _away_findings(away, system)
    working = _steps(place, normals, content, heating, how)
    return Answer("climate", place.full_name, [], values, findings, list(working))


def _seen_from(site: Site, place: Place) -> Near:
    rise = None if site.elevation is None else place.elevation - site.elevation
    return Near(place, distance(site.latitude, site.longitude, place), rise)


def _degree_days(place: Place) -> tuple[float, float, str]:
    """Heating and cooling [K day], and where they come from."""
    heating, cooling = place.heating_degree_days, place.cooling_degree_days
    if heating is not None and cooling is not None:
        return heating, cooling, "published for the place"
    return *degree_days(year_of(place).temperature), "counted in the typical year"


# --- values ---------------------------------------------------------------------------


def _place_values(place: Place) -> dict[str, Any]:
    return {
        "key": place.key,
        "name": place.name,
        "region": place.region,
        "country": place.country,
        "latitude_deg": place.latitude,
        "longitude_deg": place.longitude,
        "elevation_m": place.elevation,
        "utc_offset_h": place.utc_offset,
        "source": place.source,
        "period": place.period,
        "period_end": place.period_end,
        "credit": place.credit,
        "status": place.status,
        "note": place.note,
    }


def _month_values(normals: Normals, content: Array, month: int) -> dict[str, Any]:
    shares = normals.wind_shares[month]
    return {
        "month": MONTH_NAMES[month],
        "temperature_c": float(normals.temperature[month]),
        "temperature_max_c": float(normals.temperature_max[month]),
        "temperature_min_c": float(normals.temperature_min[month]),
        "temperature_deviation_k": float(normals.temperature_deviation[month]),
        "humidity": float(normals.humidity[month]),
        "dew_point_c": float(normals.dew_point[month]),
        "pressure_pa": float(normals.pressure[month]),
        "wind_m_s": float(normals.wind_speed[month]),
        "wind_from": _commonest(shares),
        "calm": max(1 - float(shares.sum()), 0.0),
        "global_kwh_m2_day": float(normals.global_horizontal[month]) * _KWH_DAY,
        "diffuse_kwh_m2_day": float(normals.diffuse_horizontal[month]) * _KWH_DAY,
        "outdoor_moisture_content": float(content[month]),
    }


def _commonest(shares: Array) -> str | None:
    """The direction most wind comes from; None for an even rose."""
    if float(shares.max() - shares.min()) < 1e-9:
        return None
    return DIRECTIONS[int(np.argmax(shares))]


def _year_values(normals: Normals, content: Array) -> dict[str, Any]:
    driest, dampest = int(np.argmin(content)), int(np.argmax(content))
    return {
        "temperature_c": float(np.average(normals.temperature, weights=_DAYS)),
        "humidity": float(np.average(normals.humidity, weights=_DAYS)),
        "wind_m_s": float(np.average(normals.wind_speed, weights=_DAYS)),
        "global_kwh_m2_day": float(np.average(normals.global_horizontal, weights=_DAYS)) * _KWH_DAY,
        "outdoor_moisture_content": float(np.average(content, weights=_DAYS)),
        "driest_month": MONTH_NAMES[driest],
        "driest_moisture_content": float(content[driest]),
        "dampest_month": MONTH_NAMES[dampest],
        "dampest_moisture_content": float(content[dampest]),
    }


def _near_values(near: Near) -> dict[str, Any]:
    return {
        "key": near.spot.key,
        "name": near.spot.full_name,
        "distance_m": near.distance,
        "rise_m": near.rise,
        "elevation_m": near.spot.elevation,
    }


# --- findings -------------------------------------------------------------------------


def _source_findings(place: Place, normals: Normals) -> Iterator[Finding]:
    if place.period_end is not None and place.period_end < OLD:
        yield Finding(
            "note",
            "period",
            f"These figures describe {place.period}.",
            f"the period ends in {place.period_end}",
            place.source,
        )
    if place.status == "from memory":
        yield Finding(
            "caution",
            "source",
            f"Part of the figures for {place.name} want a second source.",
            place.note or "no second source was found",
            place.source,
        )
    elif place.note:
        yield Finding(
            "caution", "source", f"Mind for {place.name}: {place.note}.", place.note, place.source
        )
    if normals.estimated:
        words = [name.replace("_", " ") for name in normals.estimated]
        yield Finding(
            "note",
            "source",
            f"Estimated, not measured: {', '.join(words)}.",
            "no monthly figures were given for them",
            "correlations named in docs/methods/climate.md",
        )


def _moisture_finding(content: Array) -> Finding:
    driest, dampest = int(np.argmin(content)), int(np.argmax(content))
    return Finding(
        "ok",
        "moisture",
        f"Wood under cover outdoors settles between {100 * content[driest]:.1f} % in "
        f"{MONTH_NAMES[driest]} and {100 * content[dampest]:.1f} % in {MONTH_NAMES[dampest]}.",
        "equilibrium with each month's mean temperature and humidity",
        _HANDBOOK,
    )


def _away_findings(away: Near, system: units.System) -> Iterator[Finding]:
    far = _far_words(away.distance, system)
    if away.distance >= FAR:
        yield Finding(
            "caution" if away.distance >= TOO_FAR else "note",
            "distance",
            f"{away.spot.full_name} is {far} from the house.",
            f"more than {_far_words(TOO_FAR if away.distance >= TOO_FAR else FAR, system)}",
            "common practice",
        )
    else:
        yield Finding(
            "ok",
            "distance",
            f"{away.spot.full_name} is {far} from the house.",
            f"less than {_far_words(FAR, system)}",
            "common practice",
        )
    if away.rise is None or abs(away.rise) < HIGH:
        return
    warmer = LAPSE * away.rise
    kelvin = abs(warmer) * (1.8 if system == "us" else 1.0)
    unit = "°F" if system == "us" else "K"
    yield Finding(
        "caution" if abs(away.rise) >= TOO_HIGH else "note",
        "elevation",
        f"The house stands {_high_words(abs(away.rise), system)} "
        f"{'below' if away.rise > 0 else 'above'} the station: expect it about {kelvin:.1f} {unit} "
        f"{'warmer' if warmer > 0 else 'colder'}.",
        f"air cools by {1000 * LAPSE:g} K for each kilometre up, on average",
        "standard atmosphere, ISO 2533",
    )


def _far_words(metres: float, system: units.System) -> str:
    if system == "us":
        return f"{metres / _MILE:.0f} miles"
    return f"{metres / 1000:.0f} km"


def _high_words(metres: float, system: units.System) -> str:
    if system == "us":
        return f"{round(metres / _FOOT, -1):,.0f} ft"
    return f"{metres:.0f} m"


# --- working --------------------------------------------------------------------------


def _steps(
    place: Place, normals: Normals, content: Array, heating: float, how: str
) -> Iterator[Step]:
    for month in (0, 6):
        yield Step(
            f"outdoor moisture content in {MONTH_NAMES[month]}",
            "sorption of wood at the month's mean temperature and humidity",
            {
                "temperature_c": float(normals.temperature[month]),
                "humidity": float(normals.humidity[month]),
            },
            float(content[month]),
            "-",
            _HANDBOOK,
        )
    yield Step(
        "heating degree days",
        "sum over days of max(65 °F - (highest + lowest) / 2, 0)",
        {"base_f": 65.0, "from": how},
        heating * 1.8,
        "°F day",
        place.source if how.startswith("published") else year_of(place).source,
    )
