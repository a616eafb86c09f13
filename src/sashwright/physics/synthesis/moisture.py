"""Dew point and humidity, hour by hour, from a month's mean humidity and dew point."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hourly_year import DAYS, MONTH_OF_DAY, monthly_means
from sashwright.physics.normals import Normals
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.synthesis.series import autocorrelated, through_days, through_months
from sashwright.physics.synthesis.temperature import Temperatures

Array = NDArray[np.float64]

# How the dew point of days wanders: from typical years of seven US stations (Denver, Atlanta, Chicago,
# Duluth, Portland, Greensboro, Sand Point), means over stations and months.
DEW_SPREAD = 1.15
"""Deviation of daily dew points over that of daily temperatures [-]; 0.95 to 1.43."""
WITH_TEMPERATURE = 0.65
"""Correlation of daily dew point with temperature [-]; -0.03 (Denver) to 0.85."""
WITH_CLEARNESS = -0.38
"""Correlation of daily dew point with clearness [-]: clear days are dry; -0.30 to -0.53."""
DAY_LAG = 0.75
"""Correlation of one day's own part of the dew point with the next one's [-].

Chosen so that the days of a month show 0.60; the seven stations have 0.56 to 0.77, mean 0.63.
"""

DEW_FALLS = 1.75
"""How gently temperature and dew point meet [K].

Air that cools towards its dew point loses water to dew and frost, so the two seldom meet. A depression
d becomes ``w ln(1 + exp(d / w))``. With w of 1.75 K the shares of hours above 90 and 95 % are those of the
seven typical years within 0.07; with a plain limit two to four times as many hours stand above 99 %.
"""

_ROUNDS = 60
_LEAST_SPREAD, _MOST_SPREAD = 0.5, 2.5


@dataclass(frozen=True, slots=True)
class Moisture:
    """A year of moist air, each of shape (365, 24)."""

    dew_point: Array
    """[°C]"""
    humidity: Array
    """Relative, over water [-]."""


def draw_moisture(
    rng: np.random.Generator, normals: Normals, temperatures: Temperatures, clearness: Array
) -> Moisture:
    """Hours of dew point that meet each month's mean humidity, and mean dew point where they can.

    Parameters
    ----------
    rng : Generator
        Chance.
    normals : Normals
        The climate. A humidity or dew point that was only estimated is not aimed at.
    temperatures : Temperatures
        The hours already drawn.
    clearness : array
        Standard normal number of each day's clearness, shape (365,) [-].

    Notes
    -----
    The dew point of a day runs along with temperature, clearness and chance and goes through the hours
    without a daily swing of its own; typical years have one of 0.3 to 2 K. Two figures are adjusted for
    each month: a shift of the dew point, for the mean humidity, and how far the days' dew-point
    depressions spread, for the mean dew point. The second has limits; over 1,019 US stations the mean
    dew point of the worst month stays off by 0.5 K on average, at one station in twenty by 1.2 K.
    """
    own = np.sqrt(1 - WITH_TEMPERATURE**2 - WITH_CLEARNESS**2) * autocorrelated(rng, DAYS, DAY_LAG)
    with_others = WITH_TEMPERATURE * temperatures.anomaly + WITH_CLEARNESS * clearness
    wander = temperatures.anomaly - DEW_SPREAD * (with_others + own)
    wander = normals.temperature_deviation[MONTH_OF_DAY] * wander
    wander -= monthly_means(wander)[MONTH_OF_DAY]
    depression = through_months(normals.temperature - normals.dew_point)
    return _adjusted(normals, temperatures.hours, depression, wander)


def _adjusted(normals: Normals, hours: Array, depression: Array, wander: Array) -> Moisture:
    saturated = saturation_pressure(hours)
    days = hours.mean(axis=1)
    shift, spread = np.zeros(12), np.ones(12)
    for _ in range(_ROUNDS):
        dry = (depression + spread[MONTH_OF_DAY] * wander - shift[MONTH_OF_DAY]) - days
        dew = hours - _gently(hours + through_days(dry))
        humidity = saturation_pressure(dew) / saturated
        damp_off = normals.humidity - monthly_means(humidity.ravel())
        dew_off = normals.dew_point - monthly_means(dew.ravel())
        if "humidity" in normals.estimated:
            shift += dew_off
            continue
        # A humidity changes by about 0.06 for 1 K of dew point; a little less is sure to settle.
        shift += 12 * damp_off
        if "dew_point" not in normals.estimated:
            spread = np.clip(spread - 0.25 * dew_off, _LEAST_SPREAD, _MOST_SPREAD)
    return Moisture(dew, humidity)


def _gently(depression: Array) -> Array:
    depressed: Array = DEW_FALLS * np.logaddexp(0.0, depression / DEW_FALLS)
    return depressed
