"""Sunshine, hour by hour, from a month's global and diffuse irradiance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics import sun
from sashwright.physics.hourly_year import DAYS, MONTH_OF_DAY, monthly_means
from sashwright.physics.normals import Normals
from sashwright.physics.synthesis.series import autocorrelated, ranked

Array = NDArray[np.float64]

CLEARNESS_LAG = 0.29
"""Correlation of one day's clearness with the next one's, as a normal variable [-].

V. A. Graham, K. G. T. Hollands and T. E. Unny, "A time series model for Kt with application to global
synthetic weather generation", *Solar Energy* 40 (1988) 83-92; from memory. Seven typical years of US
stations have 0.14 to 0.46, mean 0.28.
"""

CLEARNESS_SPREAD = 0.78
"""Share of the spread of Bendt's distribution that is taken [-].

At a mean clearness of 0.5 his days have a standard deviation of 0.19, those of seven typical years of
US stations 0.15.
"""

_LEAST, _HIGHEST_MEAN = 0.05, 0.80
# Below this the sun is too low and short for clearness to mean anything [W/m2].
_DARK = 1.0


@dataclass(frozen=True, slots=True)
class Sunshine:
    """A year of irradiance, each of shape (365, 24) [W/m2], and the clearness behind it."""

    global_horizontal: Array
    direct_normal: Array
    diffuse_horizontal: Array
    relative_clearness: Array
    """Clearness of each day over its month's mean, shape (365,); 1 where the sun stays down [-]."""
    chance: Array
    """The standard normal number that each day's clearness was drawn with, shape (365,) [-]."""


def draw_sunshine(
    rng: np.random.Generator,
    normals: Normals,
    latitude: float,
    longitude: float,
    utc_offset: float,
) -> Sunshine:
    """Hours of irradiance whose monthly means of global and diffuse are the normals'.

    Days get a clearness by Bendt's distribution, hours their share of the day by Collares-Pereira and
    Rabl, diffuse by Erbs's hourly correlation, bent until the month's diffuse is met. What is left is
    beam. ``latitude`` and ``longitude`` in degrees, ``utc_offset`` in h.
    """
    outside = sun.daily_extraterrestrial(latitude)
    chance = autocorrelated(rng, DAYS, CLEARNESS_LAG)
    clearness = _clearness(normals.global_horizontal, outside, chance)
    hours = sun.sun_hours(latitude, longitude, utc_offset)
    level = (clearness * outside)[:, None] * 24 * day_shares(hours, latitude)
    diffuse = _diffuse(level, hours, normals.diffuse_horizontal)
    beam = np.divide(
        (level - diffuse) * hours.up,
        hours.height,
        out=np.zeros_like(level),
        where=hours.height > 1e-6,
    )
    # A sliver of sun at the horizon must not make a beam stronger than there is outside.
    beam = np.minimum(beam, sun.extraterrestrial_normal()[:, None])
    mean = monthly_means(clearness)[MONTH_OF_DAY]
    relative = np.divide(clearness, mean, out=np.ones(DAYS), where=mean > 0)
    return Sunshine(level, beam, diffuse, relative, chance)


def _clearness(monthly: Array, outside: Array, chance: Array) -> Array:
    """Clearness of each day, in the order of chance, with the month's irradiance as their sum."""
    clearness = np.zeros(DAYS)
    for month in range(12):
        days = month == MONTH_OF_DAY
        above = outside[days]
        if above.mean() < _DARK or monthly[month] <= 0:
            continue
        mean = min(float(monthly[month] / above.mean()), _HIGHEST_MEAN)
        drawn = mean + CLEARNESS_SPREAD * (bendt_quantiles(mean, len(above)) - mean)
        placed = ranked(chance[days], np.maximum(drawn, _LEAST / 2))
        clearness[days] = placed * monthly[month] * len(above) / (placed * above).sum()
    return clearness


def bendt_quantiles(mean: float, count: int) -> Array:
    r"""The ``count`` equally likely daily clearnesses of a month, rising, shape (count,) [-].

    .. math:: F(k) = \frac{e^{\gamma k_{min}} - e^{\gamma k}}{e^{\gamma k_{min}} - e^{\gamma k_{max}}}

    Parameters
    ----------
    mean : float
        Mean clearness of the month, 0.05 to 0.80 [-].
    count : int
        Days.

    Notes
    -----
    P. Bendt, M. Collares-Pereira and A. Rabl, "The frequency distribution of daily insolation values",
    *Solar Energy* 27 (1981) 1-5; the highest clearness by Hollands and Huget (1983). From memory.
    """
    highest = 0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8
    highest = max(highest, mean + 0.02)
    ratio = (highest - _LEAST) / (highest - mean)
    steep = -1.498 + (1.184 * ratio - 27.182 * np.exp(-1.5 * ratio)) / (highest - _LEAST)
    middles = (np.arange(count) + 0.5) / count
    if abs(steep) < 1e-6:
        return _LEAST + (highest - _LEAST) * middles
    low, high = np.exp(steep * _LEAST), np.exp(steep * highest)
    quantiles: Array = np.log(low - middles * (low - high)) / steep
    return quantiles


def day_shares(hours: sun.SunHours, latitude: float) -> Array:
    """Share of each hour in its day's global irradiance, shape (365, 24), days adding up to 1.

    M. Collares-Pereira and A. Rabl, "The average distribution of solar radiation", *Solar Energy* 22
    (1979) 155-164: ``(a + b cos w)`` times the height of the sun.
    """
    sunset = sun.sunset_angle(latitude)[:, None] - np.pi / 3
    a, b = 0.409 + 0.5016 * np.sin(sunset), 0.6609 - 0.4767 * np.sin(sunset)
    weight = np.maximum(a + b * np.cos(hours.hour_angle), 0.0) * hours.height
    total = weight.sum(axis=1, keepdims=True)
    shares: Array = np.divide(weight, total, out=np.zeros_like(weight), where=total > 0)
    return shares


def erbs_diffuse_share(clearness: Array) -> Array:
    """Diffuse share of an hour's global irradiance from its clearness [-].

    D. G. Erbs, S. A. Klein and J. A. Duffie, *Solar Energy* 28 (1982) 293-302, eq. 1.
    """
    k = clearness
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    share: Array = np.where(k <= 0.22, 1 - 0.09 * k, np.where(k <= 0.80, middle, 0.165))
    return share


def _diffuse(level: Array, hours: sun.SunHours, monthly: Array) -> Array:
    """Diffuse irradiance: Erbs's share to a power that makes the month's mean come true."""
    outside = sun.extraterrestrial_normal()[:, None] * hours.height
    clear = np.divide(level, outside, out=np.zeros_like(level), where=outside > 0)
    share = erbs_diffuse_share(np.minimum(clear, 1.0))
    diffuse = np.zeros_like(level)
    for month in range(12):
        days = month == MONTH_OF_DAY
        diffuse[days] = _bent(level[days], share[days], float(monthly[month]))
    return diffuse


def _bent(level: Array, share: Array, wanted: float) -> Array:
    low, high = 0.02, 30.0
    for _ in range(40):
        power = float(np.sqrt(low * high))
        if (level * share**power).mean() > wanted:
            low = power
        else:
            high = power
    bent: Array = level * share**power
    return bent
