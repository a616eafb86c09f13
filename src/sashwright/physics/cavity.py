"""Heat across the gas between two upright faces, and between a face and the air of a room.

Source of all the correlations: ISO 15099:2003, 5.3, as quoted in several public sources. The one for the
cavity is J. L. Wright's (ASHRAE Transactions 102, 1996) fit to measurements by ElSherbiny and others (1982).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import GRAVITY, STANDARD_PRESSURE, STEFAN_BOLTZMANN
from sashwright.physics.gases import GasName, Properties, gas_properties

Array = NDArray[np.float64]

HIGHEST_RAYLEIGH = 2e6
"""Of the measurements behind :func:`upright_nusselt` [-]."""
# Rayleigh numbers at which the forms of the cavity's correlation meet.
_MEETING = 1e4, 5e4
# Up to so many times a meeting point one form goes over into the next.
_CROSSED = 1.1
# 2.5e5 (exp(0.72 x 90) / sin 90)^(1/5): where the flow along an upright plate turns turbulent.
_TURNING = 2.5e5 * np.exp(0.72 * 90 / 5)


@dataclass(frozen=True, slots=True)
class Convection:
    """Heat carried by a gas: ``coefficient`` [W/(m2 K)], and ``growth``, the power of the temperature
    difference with which it grows there [-]."""

    coefficient: Array
    growth: Array | float


def rayleigh(gas: Properties, length: Array | float, difference: Array, kelvin: Array) -> Array:
    r"""Rayleigh number, :math:`\rho^2 L^3 g c_p |\Delta T| / (\mu \lambda T_m)` [-].

    ``length`` [m], temperature ``difference`` [K] and mean temperature ``kelvin`` [K].
    """
    top = gas.density**2 * length**3 * GRAVITY * gas.specific_heat * np.abs(difference)
    return np.asarray(top / (gas.viscosity * gas.conductivity * kelvin))


def upright_nusselt(Ra: Array | float, aspect: Array | float) -> Array:
    r"""Nusselt number of an upright cavity of height over width ``aspect`` [-].

    .. math::
        Nu_1 &= 1 + 1.7596678 \times 10^{-10} Ra^{2.2984755} && Ra \le 10^4 \\
        Nu_1 &= 0.028154 Ra^{0.4134} && Ra \le 5 \times 10^4 \\
        Nu_1 &= 0.0673838 Ra^{1/3} && \text{above} \\
        Nu &= \max(Nu_1,\ 0.242 (Ra / A)^{0.272})

    Valid up to ``HIGHEST_RAYLEIGH``; beyond it the last form is carried on.

    Where they meet the three forms are half a percent apart: a step that leaves some states of a glazing
    without any balance. Here each goes over into the next within a tenth above the meeting point, where
    this is up to 0.6 % off the standard.
    """
    return _nusselt(np.asarray(Ra, dtype=np.float64), aspect)[0]


def _nusselt(Ra: Array, aspect: Array | float) -> tuple[Array, Array]:
    """The number, and the power of the Rayleigh number with which it grows [-]."""
    # One logarithm serves all powers; where no gas moves it needs a number, however small.
    log = np.log(np.maximum(Ra, 1e-9))
    first, power = _by_rayleigh(Ra, log)
    tall = 0.242 * np.exp(0.272 * (log - np.log(aspect)))
    return np.maximum(first, tall), np.where(tall > first, 0.272, power)


def _by_rayleigh(Ra: Array, log: Array) -> tuple[Array, Array]:
    """The first of the two numbers, and its power; inside a crossing the power is but near.

    Mostly all states of a gap are within one form, and the others need not be worked out.
    """
    if Ra.max(initial=0.0) <= _MEETING[0]:
        return _still(log)
    high = 0.0673838 * np.exp(log / 3)
    if Ra.min(initial=np.inf) >= _MEETING[1] * _CROSSED:
        return high, np.asarray(1 / 3)
    low, power = _still(np.minimum(log, np.log(_MEETING[0])))
    middle = 0.028154 * np.exp(0.4134 * log)
    first = low + (middle - low) * _crossing(Ra, _MEETING[0])
    first += (high - middle) * _crossing(Ra, _MEETING[1])
    power = np.where(Ra <= _MEETING[0], power, np.where(Ra <= _MEETING[1], 0.4134, 1 / 3))
    return first, power


def _still(log: Array) -> tuple[Array, Array]:
    """Where the gas hardly moves."""
    moved = 1.7596678e-10 * np.exp(2.2984755 * log)
    return 1 + moved, 2.2984755 * moved / (1 + moved)


def _crossing(Ra: Array, meeting: float) -> Array:
    """0 up to the meeting point of two forms, 1 from a tenth above [-]."""
    return np.clip((Ra / meeting - 1) / (_CROSSED - 1), 0.0, 1.0)


def across_gas(
    gas: GasName, share: float, width: float, height: Array | float, faces: tuple[Array, Array]
) -> Convection:
    """Convection between two upright faces.

    ``share`` of the volume is ``gas``, the rest air; ``width`` and ``height`` [m]; the ``faces``'
    temperatures [K].
    """
    mean = (faces[0] + faces[1]) / 2
    filling = gas_properties(gas, mean, share, STANDARD_PRESSURE)
    Ra = rayleigh(filling, width, faces[1] - faces[0], mean)
    number, power = _nusselt(Ra, height / width)
    return Convection(number * filling.conductivity / width, power)


def room_convection(air: Array, face: Array, height: Array | float) -> Convection:
    r"""Convection between an upright face and still air.

    .. math::
        Nu = 0.56 Ra_H^{1/4},\quad Ra_H \le Ra_{cv} = 1.06 \times 10^{11}

    and above :math:`0.13 (Ra_H^{1/3} - Ra_{cv}^{1/3}) + 0.56 Ra_{cv}^{1/4}`, with the film at a quarter
    of the way from the ``air``'s to the ``face``'s temperature [K].
    """
    film = air + 0.25 * (face - air)
    filling = gas_properties("air", film)
    Ra = rayleigh(filling, height, face - air, film)
    number = 0.56 * np.sqrt(np.sqrt(np.minimum(Ra, _TURNING)))
    if Ra.max(initial=0.0) > _TURNING:
        number += 0.13 * (np.cbrt(np.maximum(Ra, _TURNING)) - np.cbrt(_TURNING))
    return Convection(number * filling.conductivity / height, 0.25)


def wind_convection(speed: Array | float) -> Array:
    """Coefficient for convection outdoors, 4 + 4 v [W/(m2 K)], v the wind's ``speed`` [m/s].

    ISO 15099:2003, 8.3 (from memory).
    """
    return 4 + 4 * np.asarray(speed, dtype=np.float64)


def exchange(emissivities: tuple[float, float]) -> float:
    """Emissivity of two parallel faces to each other [-]; 0 where a face has none."""
    if min(emissivities) <= 0:
        return 0.0
    return 1 / (1 / emissivities[0] + 1 / emissivities[1] - 1)


def radiation(emissivity: float, one: Array, other: Array) -> Array:
    """Coefficient for longwave radiation between two surfaces at temperatures in K [W/(m2 K)].

    ``emissivity`` of a face to black surroundings, or the :func:`exchange` of two faces.
    """
    factor = emissivity * STEFAN_BOLTZMANN
    return np.asarray(factor * (one * one + other * other) * (one + other))


def radiation_slope(emissivity: float, kelvin: Array) -> Array:
    """How the heat radiated by a surface grows with its temperature, 4 e sigma T^3 [W/(m2 K)]."""
    return np.asarray(4 * emissivity * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin)
