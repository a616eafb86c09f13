"""Moist air against international formulations, published values and a general-purpose library."""

from __future__ import annotations

import numpy as np
import psychrolib
import pvlib
import pytest

from sashwright.physics import psychrometrics as air

psychrolib.SetUnitSystem(psychrolib.SI)

# Sonntag's fit and the international standard differ by the temperature scales they were made on.
TO_STANDARD = 2e-4


@pytest.mark.parametrize(
    ("kelvin", "pascals"),
    [
        # IAPWS-IF97, table 35, verification value of the saturation pressure.
        (300.0, 3536.58941),
        # Triple point of water, by definition 273.16 K; IAPWS: 611.657 Pa.
        (273.16, 611.657),
    ],
)
def test_saturation_over_water(kelvin: float, pascals: float) -> None:
    assert air.saturation_pressure(kelvin - 273.15) == pytest.approx(pascals, rel=TO_STANDARD)


@pytest.mark.parametrize(
    ("kelvin", "pascals"),
    [
        # IAPWS R14-08(2011), verification value of the sublimation pressure.
        (230.0, 8.94735),
        (273.16, 611.657),
    ],
)
def test_saturation_over_ice(kelvin: float, pascals: float) -> None:
    # At 230 K the two stand 0.04 % apart, 0.004 K of frost point.
    assert air.saturation_pressure(kelvin - 273.15, "ice") == pytest.approx(pascals, rel=5e-4)


def murphy_koop_water(T: np.ndarray) -> np.ndarray:
    """D. M. Murphy and T. Koop, Quarterly Journal of the R. Met. Society 131 (2005), eq. 10, in K."""
    warm = 54.842763 - 6763.22 / T - 4.210 * np.log(T) + 0.000367 * T
    cold = 53.878 - 1331.22 / T - 9.44523 * np.log(T) + 0.014025 * T
    return np.exp(warm + np.tanh(0.0415 * (T - 218.8)) * cold)


def murphy_koop_ice(T: np.ndarray) -> np.ndarray:
    """The same, eq. 7."""
    return np.exp(9.550426 - 5723.265 / T + 3.53068 * np.log(T) - 0.00728332 * T)


def test_below_freezing() -> None:
    """Supercooled water and ice, where weather services have their own usage."""
    celsius = np.arange(-40.0, 0.1, 2.5)
    water, ice = murphy_koop_water(celsius + 273.15), murphy_koop_ice(celsius + 273.15)
    # The formulations part the colder it gets: 0.07 % at -20 °C, 0.64 % (0.06 K of dew point) at -40 °C.
    np.testing.assert_allclose(air.saturation_pressure(celsius), water, rtol=7e-3)
    np.testing.assert_allclose(air.saturation_pressure(celsius[8:]), water[8:], rtol=1e-3)
    np.testing.assert_allclose(air.saturation_pressure(celsius, "ice"), ice, rtol=6e-4)


@pytest.mark.parametrize("celsius", [-40.0, -20.0, -5.0, 0.5, 10.0, 20.0, 35.0, 60.0])
def test_saturation_against_a_library(celsius: float) -> None:
    """psychrolib: Hyland and Wexler (1983), over ice below freezing."""
    ours = air.saturation_pressure(celsius, "ice" if celsius < 0 else "water")
    assert ours == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-3)


@pytest.mark.parametrize("celsius", [0.5, 10.0, 25.0, 40.0])
@pytest.mark.parametrize("humidity", [0.1, 0.5, 0.9, 1.0])
def test_dew_point_against_a_library(celsius: float, humidity: float) -> None:
    ours = air.dew_point_from_humidity(celsius, humidity)
    if ours < 0:
        # psychrolib gives the frost point there.
        ours = air.dew_point(humidity * air.saturation_pressure(celsius), "ice")
    theirs = psychrolib.GetTDewPointFromRelHum(celsius, humidity)
    # The formulations are 0.02 % apart, 0.003 K; its iteration stops at 0.001 K.
    assert ours == pytest.approx(theirs, abs=0.006)


def test_humidity_of_weather_files() -> None:
    """pvlib's Magnus form over water (WMO-No. 8), the usage of weather services, dew points from -40 °C."""
    temperature, depression = np.meshgrid(np.arange(-20.0, 41.0, 5.0), np.arange(0.0, 21.0, 2.5))
    theirs = pvlib.atmosphere.rh_from_tdew(temperature, temperature - depression) / 100
    ours = air.relative_humidity(temperature, temperature - depression)
    # Magnus's short form strays by 0.3 % of itself; a form over ice would differ by 20 % at -20 °C.
    np.testing.assert_allclose(ours, theirs, rtol=4e-3)


@pytest.mark.parametrize("celsius", [-10.0, 5.0, 21.0, 35.0])
@pytest.mark.parametrize("humidity", [0.2, 0.6, 1.0])
@pytest.mark.parametrize("pressure", [101325.0, 84000.0])
def test_moist_air_against_a_library(celsius: float, humidity: float, pressure: float) -> None:
    # psychrolib takes humidity over ice below freezing; so does the test.
    over = "ice" if celsius < 0 else "water"
    vapour = humidity * air.saturation_pressure(celsius, over)
    ratio = air.humidity_ratio(vapour, pressure)
    theirs = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    assert ratio == pytest.approx(theirs, rel=1e-3)
    density = psychrolib.GetMoistAirDensity(celsius, theirs, pressure)
    assert air.air_density(celsius, vapour, pressure) == pytest.approx(density, rel=1e-4)


@pytest.mark.parametrize(
    ("celsius", "humidity", "density"),
    # Real gas, CoolProp (Herrmann, Kretzschmar and Gatley 2009) at 101,325 Pa [kg/m3].
    [(20.0, 0.5, 1.19936), (0.0, 0.6, 1.29133), (30.0, 0.4, 1.15739)],
)
def test_density_of_real_air(celsius: float, humidity: float, density: float) -> None:
    ours = air.air_density(celsius, humidity * air.saturation_pressure(celsius), 101325.0)
    # Ideal gases are lighter by the compressibility of air, 0.03 to 0.06 %.
    assert -6.5e-4 < ours / density - 1 < -2e-4


@pytest.mark.parametrize("metres", [0.0, 150.0, 1650.0, 3000.0])
def test_standard_atmosphere(metres: float) -> None:
    theirs = psychrolib.GetStandardAtmPressure(metres)
    assert air.standard_pressure(metres) == pytest.approx(theirs, rel=1e-12)
    # ISO 2533 by its own constants, in another library.
    assert air.standard_pressure(metres) == pytest.approx(
        pvlib.atmosphere.alt2pres(metres), rel=2e-4
    )
