"""The sun's place and the split of its radiation against a library of reference algorithms."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest

from sashwright.physics import sun
from sashwright.physics.synthesis import radiation
from sashwright.record.hourly import read_hourly
from tests.references.weather_files import GREENSBORO

PLACES = [(42.37, -71.02, -5), (25.8, -80.3, -5), (61.2, -150.0, -9), (51.5, -0.45, 0)]


@pytest.mark.parametrize(("latitude", "longitude", "offset"), PLACES)
def test_height_of_the_sun(latitude: float, longitude: float, offset: int) -> None:
    """Means over hours of full sun by the Solar Position Algorithm (Reda and Andreas, NREL 2004)."""
    zone = f"Etc/GMT{-offset:+d}" if offset else "UTC"
    quarters = pd.date_range("2023-01-01 00:07:30", periods=4 * 8760, freq="15min", tz=zone)
    exact = pvlib.solarposition.get_solarposition(quarters, latitude, longitude)
    theirs = np.cos(np.radians(exact["zenith"].to_numpy())).reshape(365, 24, 4).mean(axis=2)
    ours = sun.sun_hours(latitude, longitude, offset)
    full = ours.up > 0.999999
    off = np.abs(ours.height - theirs)[full]
    # The series is for any year: up to 0.2° from the sun of 2023, 0.0035 of height, and 30 s of clock,
    # 0.002; a day keeps the declination of noon at Greenwich, which moves 0.15° until noon in Alaska.
    assert off.max() < 0.008
    assert off.mean() < 0.003


def test_equation_of_time() -> None:
    """Almanacs give its four extremes: -14.2 min on 11 February, 3.7, -6.5 and 16.4 on 3 November."""
    minutes = 60 * sun.equation_of_time()
    assert minutes.min() == pytest.approx(-14.2, abs=0.2)
    assert minutes.argmin() + 1 == pytest.approx(42, abs=3)
    assert minutes.max() == pytest.approx(16.4, abs=0.2)
    assert minutes.argmax() + 1 == pytest.approx(307, abs=2)
    assert minutes[100:160].max() == pytest.approx(3.7, abs=0.3)
    assert minutes[180:230].min() == pytest.approx(-6.5, abs=0.3)


def test_distance_of_the_sun() -> None:
    theirs = pvlib.irradiance.get_extra_radiation(
        np.arange(1, 366), solar_constant=sun.SOLAR_CONSTANT, method="nrel", epoch_year=2023
    )
    np.testing.assert_allclose(sun.extraterrestrial_normal(), theirs, rtol=1.5e-3)


@pytest.mark.parametrize(("latitude", "longitude", "offset"), PLACES)
def test_length_of_the_day(latitude: float, longitude: float, offset: int) -> None:
    del offset
    middle = pd.date_range("2023-01-01 12:00", periods=365, freq="D", tz="UTC")
    times = pvlib.solarposition.sun_rise_set_transit_spa(
        middle - pd.Timedelta(hours=longitude / 15), latitude, longitude
    )
    hours = (times["sunset"] - times["sunrise"]).dt.total_seconds().to_numpy() / 3600 % 24
    # The algorithm lets the sun set when its upper limb does, refraction included: 0.8333° lower.
    declination = sun.declination()
    phi = np.radians(latitude)
    dip = np.sin(np.radians(-0.8333)) - np.sin(phi) * np.sin(declination)
    limb = np.arccos(np.clip(dip / (np.cos(phi) * np.cos(declination)), -1, 1))
    # 0.15° of declination are 0.03 h at 61° N, its change from noon to sunset as much again.
    np.testing.assert_allclose(2 * limb * 12 / np.pi, hours, atol=0.08)
    assert (sun.day_length(latitude) < hours).all()


def test_diffuse_share_of_an_hour() -> None:
    """Erbs's correlation over a real year, with the library's own clearness."""
    year = read_hourly(GREENSBORO)
    middle = pd.date_range("2023-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+5")
    zenith = pvlib.solarposition.get_solarposition(middle, 36.1, -79.95)["zenith"].to_numpy()
    theirs = pvlib.irradiance.erbs(
        pd.Series(year.global_horizontal, middle),
        pd.Series(zenith, middle),
        middle.day_of_year.to_numpy(),
    )
    clear = theirs["kt"]
    share = radiation.erbs_diffuse_share(clear)
    sunny = (year.global_horizontal > 50) & (zenith < 85)
    np.testing.assert_allclose(
        share[sunny] * year.global_horizontal[sunny], theirs["dhi"][sunny], rtol=1e-9
    )


def test_collares_pereira_and_rabl() -> None:
    """43° N, 23 August, from one to two: 0.1177 of the day's irradiation.

    A textbook's example: of 31.4 MJ/m2 in the day 3.70 fall in that hour (Duffie and Beckman, Solar
    Engineering of Thermal Processes; a, b and r_t worked again by hand for the middle of the hour).
    """
    # A clock that shows solar time on that day.
    solar = sun.sun_hours(43.0, 0.0, float(sun.equation_of_time()[234]))
    shares = radiation.day_shares(solar, 43.0)
    # The hour as a whole against its middle: 0.3 %.
    assert shares[234, 13] == pytest.approx(0.1177, rel=0.005)
    np.testing.assert_allclose(shares.sum(axis=1), 1.0)
