r"""How much air a house exchanges through its cracks, from wind and warmth.

Two single-zone models of the ASHRAE Handbook of Fundamentals (chapter on ventilation and infiltration,
2001 to 2021): the basic one, after Sherman and Grimsrud, and the enhanced one (AIM-2), after Walker and
Wilson, which also comes in full. Their tables here are from memory; tests hold them against the theory
they come from, to which they agree within 0.5 and 4 %. All in SI, numbers and arrays alike.

Both treat the house as one volume, with leaks spread as usual in the storeys given; neither knows where
the windows are. Against 3,400 hours in measured houses the enhanced model was biased by less than 15 %
for wind and 7 % for warmth (I. S. Walker and D. J. Wilson, "Field validation of algebraic equations for
stack and wind driven air infiltration calculations", *HVAC&R Research* 4 (1998), LBNL-42361).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import GRAVITY, KELVIN
from sashwright.physics.leakage import AIR_DENSITY

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)

Terrain = Literal["city", "suburb", "open", "flat"]
Shielding = Literal["none", "light", "moderate", "heavy", "very heavy"]
Foundation = Literal["basement or slab", "crawl space"]

SHIELDINGS: tuple[Shielding, ...] = ("none", "light", "moderate", "heavy", "very heavy")
"""Classes 1 to 5: no obstructions; a few; some within two house heights; around most of the house, as in
a suburb; close on all sides, as in a town."""

MOST_STOREYS = 3
"""The tables end here; a taller house is taken as one of three storeys."""

TERRAINS: Mapping[Terrain, tuple[float, float]] = {
    "city": (0.33, 460.0),
    "suburb": (0.22, 370.0),
    "open": (0.14, 270.0),
    "flat": (0.10, 210.0),
}
"""Exponent [-] and boundary layer [m] of large city centres; suburbs and woods; open country with few
obstructions, where weather stations stand; flat land and water. ASHRAE Handbook of Fundamentals, chapter
on airflow around buildings, as printed in *Indoor Air* 2023, 5433093, table 2."""


# --- the wind at the house ------------------------------------------------------------


def wind_at(
    speed: Values, height: float, terrain: Terrain, *, station_height: float = 10.0
) -> Values:
    r"""Wind at a height over some terrain from that of a weather station in open country [m/s].

    .. math:: U = U_s \left(\frac{\delta_s}{h_s}\right)^{a_s} \left(\frac{h}{\delta}\right)^a

    Parameters
    ----------
    speed : float or array
        At the station [m/s].
    height, station_height : float
        [m]
    terrain : {"city", "suburb", "open", "flat"}
        Round the house.
    """
    a, layer = TERRAINS[terrain]
    station_a, station_layer = TERRAINS["open"]
    share: float = (station_layer / station_height) ** station_a * (height / layer) ** a
    return speed * share


# --- Sherman and Grimsrud -------------------------------------------------------------

BASIC_STACK: Mapping[int, float] = {1: 0.000145, 2: 0.000290, 3: 0.000435}
"""By storeys [(L/s)2/(cm4 K)]; from memory."""

BASIC_WIND: Mapping[Shielding, tuple[float, float, float]] = {
    "none": (0.000319, 0.000420, 0.000494),
    "light": (0.000246, 0.000325, 0.000382),
    "moderate": (0.000174, 0.000231, 0.000271),
    "heavy": (0.000104, 0.000137, 0.000161),
    "very heavy": (0.000032, 0.000042, 0.000049),
}
"""By shielding, for one, two and three storeys [(L/s)2/(cm4 (m/s)2)]; ASHRAE Handbook of Fundamentals
1989, as printed in a textbook's companion data."""

# (L/s)2/cm4 is (1e-3 m3/s)2 / (1e-2 m)4.
_LITRES_CM = 1e-6 / 1e-8


def basic_infiltration(
    area: float,
    difference: Values,
    wind: Values,
    *,
    storeys: int,
    shielding: Shielding,
) -> Values:
    r"""Air exchange by the basic model [m3/s].

    .. math:: Q = A \sqrt{C_s\,|\Delta T| + C_w U^2}

    Parameters
    ----------
    area : float
        Effective leakage area of the house at 4 Pa [m2].
    difference : float or array
        Indoor less outdoor temperature [K].
    wind : float or array
        At the weather station [m/s].
    storeys : int
        1 to 3; more counts as 3.
    shielding : {"none", "light", "moderate", "heavy", "very heavy"}
        Of the house.

    Notes
    -----
    M. H. Sherman and D. T. Grimsrud, "Infiltration-pressurization correlation: simplified physical
    modeling", *ASHRAE Transactions* 86(2) (1980) 778-807.
    """
    floor = _storeys(storeys)
    stack = BASIC_STACK[floor] * _LITRES_CM
    draught = BASIC_WIND[shielding][floor - 1] * _LITRES_CM
    flow: Values = area * np.sqrt(stack * np.abs(difference) + draught * wind * wind)
    return flow


def _storeys(storeys: int) -> int:
    return min(max(storeys, 1), MOST_STOREYS)


# --- the enhanced model ---------------------------------------------------------------

STACK: Mapping[bool, tuple[float, float, float]] = {
    False: (0.054, 0.078, 0.098),
    True: (0.069, 0.089, 0.107),
}
"""Without and with a flue, for one to three storeys [(Pa/K)^n]; from memory."""

WIND: Mapping[tuple[Foundation, bool], tuple[float, float, float]] = {
    ("basement or slab", False): (0.156, 0.170, 0.170),
    ("basement or slab", True): (0.142, 0.156, 0.167),
    ("crawl space", False): (0.128, 0.142, 0.151),
    ("crawl space", True): (0.128, 0.142, 0.154),
}
"""By foundation and flue, for one to three storeys [(Pa s2/m2)^n]; from memory."""

SHELTER: Mapping[Shielding, float] = dict(
    zip(SHIELDINGS, (1.00, 0.90, 0.70, 0.50, 0.30), strict=True)
)
"""Share of the wind that reaches a house without a flue [-]; from memory."""

SHELTER_WITH_FLUE: Mapping[Shielding, tuple[float, float, float]] = dict(
    zip(
        SHIELDINGS,
        (
            (1.10, 1.07, 1.06),
            (1.02, 0.98, 0.97),
            (0.86, 0.81, 0.79),
            (0.70, 0.64, 0.61),
            (0.54, 0.47, 0.43),
        ),
        strict=True,
    )
)
"""Likewise with a flue, whose top stands free, for one to three storeys [-]; from memory."""


def enhanced_infiltration(
    coefficient: float,
    exponent: float,
    difference: Values,
    wind: Values,
    *,
    storeys: int,
    shielding: Shielding,
    foundation: Foundation = "basement or slab",
    flue: bool = False,
) -> Values:
    r"""Air exchange by the enhanced model, with the handbook's tables [m3/s].

    .. math::

        Q_s = c\,C_s |\Delta T|^n, \quad Q_w = c\,C_w (s U)^{2n}, \quad Q = \sqrt{Q_s^2 + Q_w^2}

    Parameters
    ----------
    coefficient, exponent : float
        c [m3/(s Pa^n)] and n [-] of the whole house, as a fan test gives them.
    difference : float or array
        Indoor less outdoor temperature [K].
    wind : float or array
        At the height of the eaves, over the terrain round the house (:func:`wind_at`) [m/s].
    storeys : int
        1 to 3; more counts as 3.
    shielding, foundation, flue
        Of the house; the flue is an open one.

    Notes
    -----
    The tables hold for n = 0.67. The full model would have C_s 7 % and C_w 3 % larger at 0.65, 25 and
    9 % at 0.60.
    """
    floor = _storeys(storeys) - 1
    shelter = SHELTER_WITH_FLUE[shielding][floor] if flue else SHELTER[shielding]
    return enhanced_flow(
        coefficient,
        exponent,
        difference,
        wind,
        stack=STACK[flue][floor],
        draught=WIND[foundation, flue][floor],
        shelter=shelter,
    )


def enhanced_flow(
    coefficient: float,
    exponent: float,
    difference: Values,
    wind: Values,
    *,
    stack: float,
    draught: float,
    shelter: float,
) -> Values:
    """The enhanced model with its three factors given: C_s, C_w and s [m3/s]."""
    by_warmth = coefficient * stack * np.abs(difference) ** exponent
    by_wind = coefficient * draught * (shelter * wind) ** (2 * exponent)
    flow: Values = np.sqrt(by_warmth**2 + by_wind**2)
    return flow


@dataclass(frozen=True, slots=True)
class Leaks:
    """Where a house leaks, for the full model."""

    level_share: float = 0.5
    """R: ceiling and floor together over the whole envelope [-]."""
    ceiling_excess: float = 0.0
    """X: ceiling less floor, over the whole envelope [-]."""
    foundation: Foundation = "basement or slab"
    """Over a crawl space the wind blows at the floor as well."""


USUAL_LEAKS = Leaks()


def enhanced_in_full(
    coefficient: float,
    exponent: float,
    difference: Values,
    wind: Values,
    *,
    height: float,
    indoors: float,
    shelter: float,
    leaks: Leaks = USUAL_LEAKS,
) -> Values:
    r"""Air exchange by the full enhanced model, for a house without a flue [m3/s].

    Parameters
    ----------
    coefficient, exponent : float
        c [m3/(s Pa^n)] and n [-] of the whole house.
    difference, wind : float or array
        Indoor less outdoor temperature [K]; wind at the eaves [m/s].
    height : float
        Of the eaves over the ground [m].
    indoors : float
        Indoor temperature [°C].
    shelter : float
        Share of the wind that reaches the house [-].
    leaks : Leaks
        Where the house leaks.

    Notes
    -----
    I. S. Walker and D. J. Wilson, "The Alberta air infiltration model: AIM-2", University of Alberta,
    Department of Mechanical Engineering, report 71 (1990); formulas from memory. Wind and warmth
    join with an interaction of -0.33, and where one is missing the other is left alone.
    """
    n, R, X = exponent, leaks.level_share, leaks.ceiling_excess
    by_warmth = (
        coefficient
        * _stack_factor(n, R, X)
        * (AIR_DENSITY * GRAVITY * height * np.abs(difference) / (indoors + KELVIN)) ** n
    )
    factor = (_wind_factor if leaks.foundation == "basement or slab" else _crawl_factor)(n, R, X)
    by_wind = coefficient * factor * (AIR_DENSITY * (shelter * wind) ** 2 / 2) ** n
    joined = by_warmth ** (1 / n) + by_wind ** (1 / n)
    flow: Values = (joined - 0.33 * (by_warmth * by_wind) ** (1 / (2 * n))) ** n
    return flow


def _stack_factor(n: float, R: float, X: float) -> float:
    M = X**2 / (2 - R)
    return float((1 + n * R) / (n + 1) * (0.5 - 0.5 * M**1.25) ** (n + 1))


def _wind_factor(n: float, R: float, X: float) -> float:
    return float(0.19 * (2 - n) * (1 - ((X + R) / 2) ** 1.5))


def _crawl_factor(n: float, R: float, X: float) -> float:
    away = (X - (1 - R) / 5) / (2 - R)
    return float(0.19 * (2 - n) * (1 - abs(away) ** 1.5) * (1 - R * (n / 2 + 0.2)))
