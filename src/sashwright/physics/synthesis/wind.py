"""Wind, hour by hour, from a month's mean and spread of speed and its rose of eight directions."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.hourly_year import HOURS, MONTH_OF_HOUR
from sashwright.physics.normals import Normals
from sashwright.physics.synthesis.series import autocorrelated, ranked

Array = NDArray[np.float64]

SPEED_LAG = 0.85
"""Correlation of the unseen normal variable of speed from hour to hour [-].

With it the speeds themselves have 0.81, the mean of 41 typical years of US stations (0.67 to 0.88).
"""
AFTERNOON = 0.37
"""Swing of that variable through the day, highest at half past two [-].

With ``NOON``, the second harmonic, it makes afternoons a fifth windier than the mean and nights a sixth
calmer, as in six typical years of cities from Atlanta to Portland; an island has a third of it.
"""
NOON = 0.07
"""Second harmonic of that swing, highest at half past one, day and night [-]."""
DIRECTION_LAG = 0.97
"""Correlation of the unseen variable of direction from hour to hour [-].

Gives a median turn of about 15 degrees in an hour and 40 in six, as in those years (10 to 20, 20 to 60).
"""

_SECTORS = 8


@dataclass(frozen=True, slots=True)
class Wind:
    """A year of wind, each of shape (8760,)."""

    speed: Array
    """[m/s]"""
    direction: Array
    """Where it comes from [degrees]."""


def draw_wind(rng: np.random.Generator, normals: Normals) -> Wind:
    """Hours of wind with each month's Weibull distribution of speeds and its rose.

    Speeds have the month's mean and deviation, directions the shares of the rose; the mean speed from
    each direction follows the rose as far as the distribution allows.
    """
    # Wind is read at the end of the hour.
    clock = 2 * np.pi * (np.arange(HOURS) % 24 + 1) / 24
    turn = 2 * np.pi / 24
    swing = AFTERNOON * np.cos(clock - 14.5 * turn) + NOON * np.cos(2 * (clock - 1.5 * turn))
    pace = autocorrelated(rng, HOURS, SPEED_LAG) + swing
    veer = autocorrelated(rng, HOURS, DIRECTION_LAG)
    speed, direction = np.zeros(HOURS), np.zeros(HOURS)
    for month in range(12):
        hours = month == MONTH_OF_HOUR
        speed[hours], direction[hours] = _month(normals, month, pace[hours], veer[hours])
    return Wind(speed, direction)


def _month(normals: Normals, month: int, pace: Array, veer: Array) -> tuple[Array, Array]:
    shares, speeds = normals.wind_shares[month], normals.wind_speeds[month]
    windy = min(float(shares.sum()), 1.0) or 1.0
    quantiles = _quantiles(
        float(normals.wind_speed[month]), float(normals.wind_deviation[month]), windy, len(pace)
    )
    speed = ranked(pace, quantiles)
    blowing = speed > 0
    direction = np.zeros(len(pace))
    direction[blowing] = _directions(veer[blowing], shares)
    sector = np.floor((direction + 22.5) % 360 / 45).astype(np.intp)
    # Directions with a name for strong wind move up the ranks until their mean speeds agree.
    for _ in range(6):
        pull = np.ones(_SECTORS)
        for each in range(_SECTORS):
            here = blowing & (sector == each)
            if here.any() and speeds[each] > 0:
                pull[each] = speeds[each] / speed[here].mean()
        speed = np.where(blowing, speed * pull[sector], 0.0)
        speed[blowing] = ranked(speed[blowing], quantiles[quantiles > 0])
    return speed, direction


def _quantiles(mean: float, deviation: float, windy: float, count: int) -> Array:
    """Equally likely speeds, rising: calms first, then a Weibull distribution, shape (count,)."""
    calm = round((1 - windy) * count)
    speeds = np.zeros(count)
    if mean <= 0 or calm == count:
        return speeds
    share = 1 - calm / count
    # Moments of the windy hours alone: those of all hours, calms counting as nothing.
    of_windy = mean / share
    spread = math.sqrt(max((mean**2 + deviation**2) / share - of_windy**2, 0.0))
    k = weibull_shape(spread / of_windy)
    middles = (np.arange(count - calm) + 0.5) / (count - calm)
    drawn = (-np.log(1 - middles)) ** (1 / k)
    speeds[calm:] = drawn * of_windy / drawn.mean()
    return speeds


def weibull_shape(variation: float) -> float:
    r"""Shape k of the Weibull distribution with a coefficient of variation [-].

    .. math:: c_v^2 = \Gamma(1 + 2/k) / \Gamma(1 + 1/k)^2 - 1

    By bisection between 1 and 20: only the figures of a faulty station scatter more than 1 allows.
    C. G. Justus and others, "Methods for estimating wind speed frequency distributions", *Journal of
    Applied Meteorology* 17 (1978) 350-353, give the handy approximation ``variation ** -1.086``.
    """
    low, high = 1.0, 20.0
    for _ in range(50):
        k = math.sqrt(low * high)
        if math.gamma(1 + 2 / k) / math.gamma(1 + 1 / k) ** 2 - 1 > variation**2:
            low = k
        else:
            high = k
    return k


def _directions(veer: Array, shares: Array) -> Array:
    """Directions whose shares are the rose's, wandering around it with ``veer`` [degrees].

    The circle is cut open where the wind blows least, so that few hours jump across the cut.
    """
    count = len(veer)
    if shares.sum() <= 0:
        shares = np.full(_SECTORS, 1 / _SECTORS)
    first = int(np.argmin(shares))
    turned = np.roll(shares, -first) / shares.sum()
    edges = np.concatenate([[0.0], np.cumsum(turned)])
    middles = (np.arange(count) + 0.5) / count
    # Position along the cut circle in sectors: straight lines through the cumulative shares.
    along = np.interp(middles, edges, np.arange(_SECTORS + 1))
    direction: Array = (45 * (first + ranked(veer, along)) - 22.5) % 360
    return direction
