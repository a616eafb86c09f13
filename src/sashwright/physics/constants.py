"""Constants of nature and of the standards that follow them, each in one place."""

from __future__ import annotations

GRAVITY = 9.81
"""As in the standards followed [m/s2]."""
KELVIN = 273.15
"""Zero on the Celsius scale [K]."""
STANDARD_PRESSURE = 101325.0
"""Standard atmosphere at sea level [Pa]; ISO 2533."""
AIR_HEAT = 1006.0
"""Specific heat of dry air at 20 °C [J/(kg K)]; ASHRAE Handbook of Fundamentals, ch. 1 (EN 673 has 1008)."""
STEFAN_BOLTZMANN = 5.670374419e-8
"""Of black surfaces [W/(m2 K4)]; exact since the SI of 2019."""
