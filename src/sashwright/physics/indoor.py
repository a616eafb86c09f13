"""The climate inside a house, from the weather outside, its thermostat and its moisture.

Works on any evenly spaced series of a whole year, hours or days; the year closes on itself, December
leading into January. Temperatures in °C, humidity as a fraction, time in hours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import KELVIN
from sashwright.physics.psychrometrics import GAS_CONSTANT_VAPOUR, saturation_pressure

Array = NDArray[np.float64]

HumidityClass = Literal[1, 2, 3, 4]

MOISTURE_EXCESS: Mapping[HumidityClass, float] = {1: 0.002, 2: 0.004, 3: 0.006, 4: 0.008}
"""Upper limit of what indoor air holds more than outdoor air, freezing outdoors [kg/m3].

Classes of EN ISO 13788, annex A: 1 stores and empty houses; 2 offices, and dwellings normally lived in
and aired; 3 dwellings closely lived in, or not known; 4 kitchens and sports halls. The standard's fifth
class has no upper limit. Limits read in public copies of the standard, not in the standard.
"""

NO_EXCESS = 20.0
"""Outdoor temperature from which windows stand open and nothing is added [°C]; EN ISO 13788:2001."""

_YEAR = 8760.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Household:
    """How a house is kept; the defaults are a heated house of today without air conditioning."""

    heating: float = 20.0
    """Set point of the heating [°C]."""
    cooling: float | None = None
    """Set point of the air conditioning [°C]; None where there is none."""
    gain: float = 2.0
    """How much warmer it is inside than outside, on average, when neither runs [K]; estimate."""
    inertia: float = 48.0
    """Time constant of the house, by which it follows the weather [h]; estimate for timber frame."""
    humidity_class: HumidityClass = 2
    """Moisture that living adds, by class of EN ISO 13788."""
    share_of_class: float = 0.5
    """Where between nothing and the class's upper limit the house stands; old houses leak [-]."""
    cooled_humidity: float = 0.60
    """Highest humidity while the air conditioning runs [-]; a coil wrings out the rest."""
    buffer: float = 72.0
    """Time constant by which plaster, wood and cloth follow the moisture of the air [h]; estimate."""


@dataclass(frozen=True, slots=True, eq=False)
class IndoorClimate:
    """Air inside, in the steps of the outdoor series."""

    temperature: Array
    """[°C]"""
    humidity: Array
    """Relative, over water [-]."""


def indoor_climate(
    temperature: Array, vapour_pressure: Array, household: Household | None = None
) -> IndoorClimate:
    r"""Temperature and humidity inside through a year.

    .. math::
        p_i = p_e + \Delta v\, R_v T_i, \qquad h_i = \min(p_i / p_{sat}(T_i),\, h_{max})

    Parameters
    ----------
    temperature, vapour_pressure : array
        Of the air outside, evenly spaced over a year [°C], [Pa].
    household : Household, optional
        How the house is kept.

    Notes
    -----
    The steady balance of vapour, EN ISO 13788 eq. 1: what comes in with the air plus what living adds
    over the ventilation. Both are smoothed with the ``buffer`` of the house. Where air conditioning
    runs the humidity is capped; everywhere it ends at 1.
    """
    household = household or Household()
    step = _YEAR / len(temperature)
    inside = indoor_temperature(temperature, household)
    smoothed = lagged(temperature, household.inertia, step)
    excess = household.share_of_class * moisture_excess(smoothed, household.humidity_class)
    pressure = lagged(vapour_pressure, household.buffer, step)
    pressure = pressure + excess * GAS_CONSTANT_VAPOUR * (inside + KELVIN)
    humidity = np.minimum(pressure / saturation_pressure(inside), 1.0)
    if household.cooling is not None:
        cooled = inside >= household.cooling - 1e-9
        humidity = np.where(cooled, np.minimum(humidity, household.cooled_humidity), humidity)
    return IndoorClimate(inside, humidity)


def indoor_temperature(temperature: Array, household: Household) -> Array:
    """Temperature inside: floating above the smoothed outdoors, held between the set points [°C]."""
    step = _YEAR / len(temperature)
    floating = lagged(temperature, household.inertia, step) + household.gain
    top = np.inf if household.cooling is None else household.cooling
    inside: Array = np.clip(floating, household.heating, top)
    return inside


def moisture_excess(temperature: Array, humidity_class: HumidityClass) -> Array:
    """What indoor air holds more than outdoor air, at the upper limit of a class [kg/m3].

    Parameters
    ----------
    temperature : array
        Of the air outside, mean of days or longer [°C].
    humidity_class : {1, 2, 3, 4}
        Key of ``MOISTURE_EXCESS``.

    Notes
    -----
    EN ISO 13788:2001, annex A: constant up to 0 °C, falling to nothing at 20 °C.
    """
    share = np.clip((NO_EXCESS - temperature) / NO_EXCESS, 0.0, 1.0)
    excess: Array = MOISTURE_EXCESS[humidity_class] * share
    return excess


def excess_from_gain(moisture: float, airflow: float) -> float:
    """Moisture excess [kg/m3] of a house that gains ``moisture`` [kg/s] and is aired [m3/s].

    EN ISO 13788 eq. 1, the steady balance G / (n V). A household of four gives off some 10 kg a day.

    Raises
    ------
    ValueError
        When there is no airflow: the air would grow damp without end.
    """
    if not airflow > 0:
        raise ValueError(f"airflow must be above zero, found {airflow:g} m3/s")
    return moisture / airflow


def continental(
    temperature: Array, occupancy: Literal["normal", "high"] = "normal"
) -> IndoorClimate:
    """Indoor climate straight from the daily mean outdoors, the standards' simple alternative.

    Parameters
    ----------
    temperature : array
        Daily mean outdoors [°C].
    occupancy : {"normal", "high"}
        ``high`` is a tenth more humid.

    Notes
    -----
    EN 15026:2007 annex C, also EN ISO 13788:2012 annex A for continental and tropical climates; from
    memory. 20 °C up to 10 °C outside, rising to 25 °C at 20 °C; humidity 0.30 at -10 °C outside to
    0.60 at 20 °C. Written for heated houses without air conditioning, on the damp side.
    """
    inside = np.clip(20 + (temperature - 10) / 2, 20.0, 25.0)
    low = 0.30 if occupancy == "normal" else 0.40
    humidity = low + 0.30 * np.clip((temperature + 10) / 30, 0.0, 1.0)
    return IndoorClimate(inside, humidity)


def lagged(values: Array, time_constant: float, step: float) -> Array:
    r"""A series behind a first-order lag, around a closed year; mean unchanged.

    .. math:: y_t = y_{t-1} + (x_t - y_{t-1})(1 - e^{-\Delta t/\tau})

    Parameters
    ----------
    values : array
        Evenly spaced over a year.
    time_constant, step : float
        In one unit, hours for instance; a time constant of 0 changes nothing.

    Notes
    -----
    The recursion solved around the circle by Fourier transform: no start value to forget.
    """
    if time_constant <= 0:
        return values
    keep = np.exp(-step / time_constant)
    turn = np.exp(-2j * np.pi * np.arange(len(values) // 2 + 1) / len(values))
    series: Array = np.fft.irfft(np.fft.rfft(values) * (1 - keep) / (1 - keep * turn), len(values))
    return series
