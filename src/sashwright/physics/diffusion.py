"""How fast moisture moves through wood, across the grain."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import KELVIN
from sashwright.physics.moisture import equilibrium_humidity, sorption_slope

Array = NDArray[np.float64]

# Gas constant [cal/(mol K)], the unit of the source's activation energies.
_GAS = 1.987
_SQUARE_CM = 1e-4
# Specific gravity of the dry cell wall, Siau (1984).
_CELL_WALL = 1.54

FIT_TEMPERATURES: Final = (-30.0, 45.0)
"""Range of the quick form of the coefficient [°C]; beyond, it holds the value at the end."""
FIT_MOISTURES: Final = (0.03, 0.26)
"""Range of the quick form of the coefficient [-]; beyond, it holds the value at the end."""
# Of the quick form: powers of moisture and of inverse temperature, up to this one.
_DEGREE = 3
# Temperatures enter as 1000/T less this middle, so that the powers stay of one size.
_MIDDLE = 3.5


def transverse_diffusion(
    temperature_c: Array | float, moisture_content: Array | float, gravity_dry: Array | float
) -> Array:
    r"""Coefficient of diffusion of moisture across the grain, for gradients of moisture [m2/s].

    .. math:: D = \frac{1}{1 - a^2} \frac{D_b D_v}{D_b + D_v (1 - a)}, \qquad a^2 = 1 - G/1.54

    with bound water in the cell walls, :math:`D_b = 0.07 \exp(-(9200 - 70 M)/(R T))` cm2/s, in row and
    beside vapour in the cell cavities, :math:`D_v = 18 D_a p_0 (dh/dM) / (G_w\, 6236\, T)`, where
    :math:`D_a = 0.22 (T/273)^{1.75}`, :math:`p_0 = 8.75 \cdot 10^7 \exp(-10400/(R T))` cm of mercury
    and :math:`G_w = 1.54/(1 + 0.015 M)`; M in percent, T in K, R = 1.987 cal/(mol K).

    Parameters
    ----------
    temperature_c : float or array
        Of the wood [°C].
    moisture_content : float or array
        Below fibre saturation [-].
    gravity_dry : float or array
        Specific gravity, oven-dry mass over oven-dry volume [-].

    Notes
    -----
    J. F. Siau, *Transport Processes in Wood* (1984), eq. 6.11 to 6.26, as coded in public; the slope
    dh/dM from Wood Handbook eq. 4-5. The same radially and tangentially; radial is often somewhat
    faster. Measured coefficients of one species differ by a factor of two. For moisture below fibre
    saturation, some -20 to 100 °C.

    Examples
    --------
    Light softwood at 20 °C and 12 %, 1e-10 m2/s:

    >>> round(float(transverse_diffusion(20.0, 0.12, 0.37)) * 1e10, 2)
    1.3
    """
    T = np.asarray(temperature_c, dtype=np.float64) + KELVIN
    percent = 100 * np.asarray(moisture_content, dtype=np.float64)
    bound = 0.07 * np.exp(-(9200 - 70 * percent) / (_GAS * T))
    humidity = equilibrium_humidity(temperature_c, moisture_content)
    air = 0.220 * (T / 273) ** 1.75
    pressure = 8.75e7 * np.exp(-10400 / (_GAS * T))
    wall = _CELL_WALL / (1 + 0.015 * percent)
    vapour = 18 * air * pressure / sorption_slope(temperature_c, humidity) / (wall * 6236 * T)
    solid = np.asarray(gravity_dry) / _CELL_WALL
    a = np.sqrt(1 - solid)
    whole: Array = bound * vapour / (bound + vapour * (1 - a)) / solid
    return whole * _SQUARE_CM


@cache
def fit_diffusion(gravity_dry: float) -> Array:
    """The quick form of :func:`transverse_diffusion` for one wood, for :func:`fitted_diffusion`.

    The logarithm of the coefficient as a polynomial in moisture and inverse temperature, within 1 % over
    ``FIT_TEMPERATURES`` and ``FIT_MOISTURES``. Shape (4, 4): powers of moisture by powers of the inverse
    temperature.
    """
    celsius, moisture, solve = _fitting()
    wanted = np.log(transverse_diffusion(celsius[None, :], moisture[:, None], gravity_dry))
    found: Array = (solve @ wanted.ravel()).reshape(_DEGREE + 1, _DEGREE + 1)
    found.setflags(write=False)
    return found


@cache
def _fitting() -> tuple[Array, Array, Array]:
    """Where the polynomial is fitted, and the least-squares solution for any values there."""
    celsius = np.linspace(*FIT_TEMPERATURES, 31)
    moisture = np.linspace(*FIT_MOISTURES, 29)
    x, m = np.meshgrid(_inverse(celsius), moisture)
    powers = range(_DEGREE + 1)
    terms = np.stack([(m**i * x**j).ravel() for i in powers for j in powers], axis=1)
    solution = np.asarray(np.linalg.pinv(terms), dtype=np.float64)
    return celsius, moisture, solution


def _inverse(celsius: Array) -> Array:
    T = np.clip(celsius, *FIT_TEMPERATURES) + KELVIN
    return 1000 / T - _MIDDLE


def fitted_powers(fit: Array, temperature_c: Array) -> Array:
    """The polynomials of :func:`fit_diffusion` in moisture that are left at these temperatures.

    ``fit`` of shape (4, 4, …), temperatures of a shape that its last axes match; powers of moisture come
    first in what is returned.
    """
    x = _inverse(temperature_c)
    left: Array = fit[:, _DEGREE]
    for power in range(_DEGREE - 1, -1, -1):
        left = left * x + fit[:, power]
    return left


def fitted_diffusion(powers: Array, moisture_content: Array) -> Array:
    """Coefficient of diffusion [m2/s] from what :func:`fitted_powers` left."""
    m = np.clip(moisture_content, *FIT_MOISTURES)
    logarithm: Array = powers[_DEGREE]
    for power in range(_DEGREE - 1, -1, -1):
        logarithm = logarithm * m + powers[power]
    return np.exp(logarithm)
