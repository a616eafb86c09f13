"""Heat across the gas between two upright faces, and between a face and the air of a room.

Source of all the correlations: ISO 15099:2003, 5.3, as quoted in several public sources. The one for the
cavity is J. L. Wright's (ASHRAE Transactions 102, 1996) fit to measurements by ElSherbiny and others (1982).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.gases import ATMOSPHERE, GasName, Properties, gas_properties

Array = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8
"""Of black surfaces [W/(m2 K4)]; exact since the SI of 2019."""
GRAVITY = 9.81
"""As in the standards followed [m/s2]."""
HIGHEST_RAYLEIGH = 2e6
"""Of the measurements behind :func:`upright_nusselt` [-]."""
# Rayleigh numbers at which the forms of the cavity's correlation meet.
_MEETING = 1e4, 5e4
# 2.5e5 (exp(0.72 x 90) / sin 90)^(1/5): where the flow along an upright plate turns turbulent.
_TURNING = 2.5e5 * np.exp(0.72 * 90 / 5)


def rayleigh(gas: Properties, length: float, difference: Array, kelvin: Array) -> Array:
    r"""Rayleigh number, :math:`\rho^2 L^3 g c_p |\Delta T| / (\mu \lambda T_m)` [-].

    ``length`` [m], temperature ``difference`` [K] and mean temperature ``kelvin`` [K].
    """
    top = gas.density**2 * length**3 * GRAVITY * gas.specific_heat * np.abs(difference)
    return np.asarray(top / (gas.viscosity * gas.conductivity * kelvin))


def upright_nusselt(Ra: Array | float, aspect: float) -> Array:
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
    ra = np.asarray(Ra, dtype=np.float64)
    low = 1 + 1.7596678e-10 * np.minimum(ra, _MEETING[0]) ** 2.2984755
    middle = 0.028154 * ra**0.4134
    high = 0.0673838 * np.cbrt(ra)
    first = low + (middle - low) * _crossed(ra, _MEETING[0])
    first += (high - middle) * _crossed(ra, _MEETING[1])
    return np.asarray(np.maximum(first, 0.242 * (ra / aspect) ** 0.272))


def _crossed(Ra: Array, meeting: float) -> Array:
    """0 up to the meeting point of two forms, 1 from a tenth above [-]."""
    return np.clip((Ra / meeting - 1) * 10, 0.0, 1.0)


def across_gas(
    gas: GasName, share: float, width: float, height: float, faces: tuple[Array, Array]
) -> Array:
    """Coefficient for convection between two upright faces [W/(m2 K)].

    ``share`` of the volume is ``gas``, the rest air; ``width`` and ``height`` [m]; the ``faces``'
    temperatures [K].
    """
    mean = (faces[0] + faces[1]) / 2
    filling = gas_properties(gas, mean, share, ATMOSPHERE)
    Ra = rayleigh(filling, width, faces[1] - faces[0], mean)
    return np.asarray(upright_nusselt(Ra, height / width) * filling.conductivity / width)


def room_convection(air: Array, face: Array, height: float) -> Array:
    r"""Coefficient for convection between an upright face and still air [W/(m2 K)].

    .. math::
        Nu = 0.56 Ra_H^{1/4},\quad Ra_H \le Ra_{cv} = 1.06 \times 10^{11}

    and above :math:`0.13 (Ra_H^{1/3} - Ra_{cv}^{1/3}) + 0.56 Ra_{cv}^{1/4}`, with the film at a quarter
    of the way from the ``air``'s to the ``face``'s temperature [K].
    """
    film = air + 0.25 * (face - air)
    filling = gas_properties("air", film)
    Ra = rayleigh(filling, height, face - air, film)
    laminar = 0.56 * np.sqrt(np.sqrt(np.minimum(Ra, _TURNING)))
    turbulent = 0.13 * (np.cbrt(np.maximum(Ra, _TURNING)) - np.cbrt(_TURNING))
    return np.asarray((laminar + turbulent) * filling.conductivity / height)


def wind_convection(speed: Array | float) -> Array:
    """Coefficient for convection outdoors, 4 + 4 v [W/(m2 K)], v the wind's ``speed`` [m/s].

    ISO 15099:2003, 8.3 (from memory).
    """
    return 4 + 4 * np.asarray(speed, dtype=np.float64)


def between_faces(emissivities: tuple[float, float], faces: tuple[Array, Array]) -> Array:
    """Coefficient for longwave radiation between two parallel faces at temperatures in K [W/(m2 K)].

    It is 0 where a face has no emissivity.
    """
    if min(emissivities) <= 0:
        return np.zeros(np.broadcast_shapes(np.shape(faces[0]), np.shape(faces[1])))
    exchange = 1 / (1 / emissivities[0] + 1 / emissivities[1] - 1)
    return to_surroundings(exchange, faces[0], faces[1])


def to_surroundings(emissivity: float, face: Array, radiant: Array) -> Array:
    """Coefficient for longwave radiation of a face to black surroundings [W/(m2 K)]; both in K."""
    factor = emissivity * STEFAN_BOLTZMANN
    return np.asarray(factor * (face * face + radiant * radiant) * (face + radiant))
