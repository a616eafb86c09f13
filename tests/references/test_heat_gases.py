"""The gases between panes against CoolProp, an independent library of properties."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from sashwright.physics.constants import STANDARD_PRESSURE
from sashwright.physics.gases import EN_673, LINEAR, GasName, gas_properties

CELSIUS = (-20, -10, 0, 10, 20, 35, 50)
NAMES: dict[GasName, str] = {"air": "Air", "argon": "Argon", "krypton": "Krypton"}


def theirs(what: str, kelvin: float, gas: GasName) -> float:
    return float(PropsSI(what, "T", kelvin, "P", STANDARD_PRESSURE, NAMES[gas]))


@pytest.mark.parametrize("gas", ["air", "argon"])
@pytest.mark.parametrize("celsius", CELSIUS)
def test_properties(gas: GasName, celsius: float) -> None:
    kelvin = celsius + 273.15
    ours = gas_properties(gas, kelvin)
    # Straight lines over the range; what the module's docstring says of them.
    assert float(ours.conductivity) == pytest.approx(theirs("L", kelvin, gas), rel=0.015)
    assert float(ours.viscosity) == pytest.approx(theirs("V", kelvin, gas), rel=0.015)
    # An ideal gas is a thousandth off.
    assert float(ours.density) == pytest.approx(theirs("D", kelvin, gas), rel=0.0015)
    # At constant pressure; real argon has 0.4 % more than the ideal.
    assert float(ours.specific_heat) == pytest.approx(theirs("C", kelvin, gas), rel=0.005)


@pytest.mark.parametrize("celsius", CELSIUS)
def test_krypton(celsius: float) -> None:
    kelvin = celsius + 273.15
    ours = gas_properties("krypton", kelvin)
    assert float(ours.density) == pytest.approx(theirs("D", kelvin, "krypton"), rel=0.004)
    assert float(ours.specific_heat) == pytest.approx(theirs("C", kelvin, "krypton"), rel=0.015)


@pytest.mark.parametrize("gas", list(LINEAR))
def test_two_standards_agree(gas: GasName) -> None:
    """EN 673 and ISO 15099 at 10 °C."""
    iso, en = gas_properties(gas, 283.15), EN_673[gas]
    assert float(iso.conductivity) == pytest.approx(float(en.conductivity), rel=0.015)
    assert float(iso.viscosity) == pytest.approx(float(en.viscosity), rel=0.02)
    # EN 673 has the densities of 100 kPa, 1.3 % less than of an atmosphere.
    assert float(iso.density) == pytest.approx(float(en.density) * 1.01325, rel=0.005)


def test_mixtures_lie_near_the_mean_by_volume() -> None:
    """The rule of EN 673 against that of ISO 15099, argon with a tenth of air."""
    kelvin = np.array([260.0, 283.15, 300.0])
    mixed, pure, air = (
        gas_properties("argon", kelvin, 0.9),
        gas_properties("argon", kelvin),
        gas_properties("air", kelvin),
    )
    mean = 0.9 * pure.conductivity + 0.1 * air.conductivity
    assert mixed.conductivity == pytest.approx(mean, rel=0.01)
    assert mixed.viscosity == pytest.approx(0.9 * pure.viscosity + 0.1 * air.viscosity, rel=0.01)
    assert mixed.density == pytest.approx(0.9 * pure.density + 0.1 * air.density, rel=1e-12)
