"""From a place of the gazetteer to the weather that chapters compute with."""

from __future__ import annotations

from dataclasses import fields
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge.climate import MonthClimate, Place
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.moisture import equilibrium_moisture_content
from sashwright.physics.normals import Known, Normals, complete_normals
from sashwright.physics.typical_year import SEED, typical_year

Array = NDArray[np.float64]


@lru_cache(maxsize=64)
def normals_of(place: Place) -> Normals:
    """The monthly climate of a place as arrays; what was not measured is filled in by correlation.

    Raises
    ------
    WeatherError
        When a place has neither humidity nor dew point, or neither irradiance nor sunshine.
    """
    given: dict[str, Any] = {}
    for field in fields(MonthClimate):
        values = [getattr(month, field.name) for month in place.months]
        if all(value is not None for value in values):
            given[field.name] = np.array(values, dtype=np.float64)
    return complete_normals(Known(**given), place.latitude, place.elevation)


@lru_cache(maxsize=16)
def year_of(place: Place, seed: int = SEED) -> HourlyYear:
    """A typical year of 8,760 hours at a place; the same seed gives the same year."""
    return typical_year(
        normals_of(place),
        latitude=place.latitude,
        longitude=place.longitude,
        elevation=place.elevation,
        utc_offset=place.utc_offset,
        of=f"{place.full_name} ({place.source}; {place.period})",
        seed=seed,
    )


def outdoor_moisture(normals: Normals) -> Array:
    """Moisture content that wood under cover outdoors settles at, by month, shape (12,) [-].

    From each month's mean temperature and humidity, as W. T. Simpson, *Equilibrium moisture content of
    wood in outdoor locations in the United States and worldwide*, FPL-RN-0268 (1998), does. Rain, sun
    on the wood and the swings of days are left out.
    """
    content = equilibrium_moisture_content(normals.temperature, normals.humidity)
    return np.asarray(content, dtype=np.float64)
