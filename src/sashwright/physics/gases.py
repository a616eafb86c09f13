"""The gases between panes: conductivity, viscosity, density and specific heat.

Coefficients linear in temperature: ISO 15099:2003 annex B, as quoted in several public sources; the same
for the room's air. Against CoolProp they are within 1.5 % from -20 to 50 °C.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import STANDARD_PRESSURE

Array = NDArray[np.float64]
GasName = Literal["air", "argon", "krypton"]

GAS_CONSTANT = 8.314462618
"""Molar gas constant [J/(mol K)]; exact since the SI of 2019."""


@dataclass(frozen=True, slots=True)
class Properties:
    """Of a gas at some temperature: each a number or an array of the temperature's shape.

    ``conductivity`` [W/(m K)], ``viscosity`` [Pa s], ``density`` [kg/m3], ``specific_heat`` [J/(kg K)].
    """

    conductivity: Array
    viscosity: Array
    density: Array
    specific_heat: Array


@dataclass(frozen=True, slots=True)
class Linear:
    """A gas whose properties are ``a + b T`` with T in K; ``molar_mass`` in kg/mol."""

    conductivity: tuple[float, float]
    viscosity: tuple[float, float]
    specific_heat: tuple[float, float]
    molar_mass: float


LINEAR: dict[GasName, Linear] = {
    "air": Linear((2.873e-3, 7.760e-5), (3.723e-6, 4.940e-8), (1002.737, 1.2324e-2), 28.97e-3),
    "argon": Linear((2.285e-3, 5.149e-5), (3.379e-6, 6.451e-8), (521.9285, 0.0), 39.948e-3),
    "krypton": Linear((9.443e-4, 2.826e-5), (2.213e-6, 7.777e-8), (248.0907, 0.0), 83.80e-3),
}
"""ISO 15099:2003, annex B."""


def _row(*values: float) -> Properties:
    return Properties(*(np.asarray(value, dtype=np.float64) for value in values))


EN_673: dict[GasName, Properties] = {
    "air": _row(2.496e-2, 1.761e-5, 1.232, 1008),
    "argon": _row(1.684e-2, 2.164e-5, 1.699, 519),
    "krypton": _row(0.900e-2, 2.400e-5, 3.560, 245),
}
"""EN 673:2011 table 1 at 10 °C. Its densities are those of 100 kPa; they stay as printed."""


def en673_properties(gas: GasName, share: float = 1.0) -> Properties:
    """Properties at 10 °C by EN 673, ``share`` of the volume filled with the gas and the rest with air.

    Each property of a mixture is the mean by volume, as that standard has it (from memory).
    """
    pure, air = EN_673[gas], EN_673["air"]
    return Properties(
        share * pure.conductivity + (1 - share) * air.conductivity,
        share * pure.viscosity + (1 - share) * air.viscosity,
        share * pure.density + (1 - share) * air.density,
        share * pure.specific_heat + (1 - share) * air.specific_heat,
    )


def gas_properties(
    gas: GasName, kelvin: Array | float, share: float = 1.0, pressure: float = STANDARD_PRESSURE
) -> Properties:
    r"""Properties at a temperature, by ISO 15099.

    Density is that of an ideal gas, :math:`\rho = p M / (R T)`. In a mixture with air the viscosity is
    Wilke's (J. Chem. Phys. 18, 1950), the conductivity that of Mason and Saxena with Wilke's weights
    (Phys. Fluids 1, 1958), the specific heat the mean by mass.

    Parameters
    ----------
    gas : {"air", "argon", "krypton"}
    kelvin : float or array
        Temperature [K], 250 to 330 K.
    share : float
        Of the volume that is this gas; the rest is air [-].
    pressure : float
        [Pa].
    """
    T = np.asarray(kelvin, dtype=np.float64)
    first, second = LINEAR[gas], LINEAR["air"]
    if share == 1.0 or gas == "air":
        return _pure(first, T, pressure)
    a, b = _pure(first, T, pressure), _pure(second, T, pressure)
    Ma, Mb = first.molar_mass, second.molar_mass
    M = share * Ma + (1 - share) * Mb
    at_a = 1 / (1 + (1 - share) / share * _wilke(a.viscosity / b.viscosity, Ma / Mb))
    at_b = 1 / (1 + share / (1 - share) * _wilke(b.viscosity / a.viscosity, Mb / Ma))
    by_mass = share * Ma / M
    return Properties(
        at_a * a.conductivity + at_b * b.conductivity,
        at_a * a.viscosity + at_b * b.viscosity,
        pressure * M / (GAS_CONSTANT * T),
        by_mass * a.specific_heat + (1 - by_mass) * b.specific_heat,
    )


def _pure(gas: Linear, T: Array, pressure: float) -> Properties:
    return Properties(
        gas.conductivity[0] + gas.conductivity[1] * T,
        gas.viscosity[0] + gas.viscosity[1] * T,
        pressure * gas.molar_mass / (GAS_CONSTANT * T),
        gas.specific_heat[0] + gas.specific_heat[1] * T,
    )


def _wilke(viscosities: Array, masses: float) -> Array:
    """Weight of the second gas in the mixture as the first sees it [-]."""
    top = (1 + np.sqrt(viscosities) * masses**-0.25) ** 2
    return np.asarray(top / np.sqrt(8 * (1 + masses)))
