"""Sun on planes against a library of reference algorithms (pvlib), the same model on both sides."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest

from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.sun import extraterrestrial_normal
from sashwright.physics.sunlight import Sky, air_mass, on_plane, sky_of
from sashwright.record.hourly import read_hourly
from tests.references.weather_files import GREENSBORO

PLANES = [(90.0, 0.0), (90.0, 110.0), (90.0, 180.0), (90.0, 270.0), (35.0, 200.0), (0.0, 180.0)]


@pytest.fixture(scope="module")
def year() -> HourlyYear:
    return read_hourly(GREENSBORO)


@pytest.fixture(scope="module")
def sky(year: HourlyYear) -> Sky:
    return sky_of(year)


def angles(sky: Sky) -> tuple[np.ndarray, np.ndarray]:
    """Zenith and azimuth of our own sun [degrees]."""
    zenith = np.degrees(np.arccos(sky.up))
    return zenith, np.degrees(np.arctan2(sky.east, sky.north)) % 360


@pytest.mark.parametrize(("tilt", "facing"), PLANES)
def test_parts_of_the_sky(sky: Sky, tilt: float, facing: float) -> None:
    """Perez et al. (1990), all sites composite, on the same sun and weather: to a millionth."""
    zenith, azimuth = angles(sky)
    day = sky.up > 0
    mass = pvlib.atmosphere.get_relative_airmass(zenith, model="kastenyoung1989")
    theirs = pvlib.irradiance.perez(
        tilt,
        facing,
        pd.Series(sky.diffuse),
        pd.Series(sky.beam),
        np.repeat(extraterrestrial_normal(), 24),
        pd.Series(zenith),
        pd.Series(azimuth),
        pd.Series(mass),
        model="allsitescomposite1990",
        return_components=True,
    )
    # Where the sky gives nothing they divide it by itself.
    theirs = theirs.fillna(0.0)
    aoi = pvlib.irradiance.aoi(tilt, facing, zenith, azimuth)
    ours = on_plane(sky, facing, tilt)
    cosine = np.maximum(np.cos(np.radians(aoi)), 0.0)
    np.testing.assert_allclose(ours.cosine[day], cosine[day], atol=1e-6)
    around = theirs["poa_circumsolar"].to_numpy()
    np.testing.assert_allclose(
        ours.beam[day], (sky.beam * cosine + around)[day], rtol=1e-6, atol=1e-6
    )
    whole = theirs["poa_sky_diffuse"].to_numpy()
    np.testing.assert_allclose(ours.diffuse[day], (whole - around)[day], rtol=1e-6, atol=1e-6)
    ground = pvlib.irradiance.get_ground_diffuse(tilt, sky.level, albedo=0.2)
    np.testing.assert_allclose(ours.ground, ground, rtol=1e-6, atol=1e-9)


def test_air_mass(sky: Sky) -> None:
    zenith, _ = angles(sky)
    day = sky.up > 0
    theirs = pvlib.atmosphere.get_relative_airmass(zenith[day], model="kastenyoung1989")
    np.testing.assert_allclose(air_mass(sky.up[day]), theirs, rtol=1e-9)


@pytest.mark.parametrize(("tilt", "facing"), PLANES)
def test_over_the_year_with_the_true_sun(
    year: HourlyYear, sky: Sky, tilt: float, facing: float
) -> None:
    """The year on each plane, their sun (Solar Position Algorithm at each half hour) against ours."""
    zone = f"Etc/GMT{-round(year.utc_offset):+d}"
    times = pd.date_range("2023-01-01 00:30", periods=8760, freq="h", tz=zone)
    place = pvlib.solarposition.get_solarposition(times, year.latitude, year.longitude)
    theirs = pvlib.irradiance.get_total_irradiance(
        tilt,
        facing,
        place["zenith"],
        place["azimuth"],
        pd.Series(year.direct_normal, times),
        pd.Series(year.global_horizontal, times),
        pd.Series(year.diffuse_horizontal, times),
        dni_extra=pvlib.irradiance.get_extra_radiation(
            times.day_of_year.to_numpy(), epoch_year=2023
        ),
        albedo=0.2,
        model="perez",
    )["poa_global"]
    ours = on_plane(sky, facing, tilt).total
    # Hours of sunrise and sunset are cut differently.
    assert ours.mean() == pytest.approx(theirs.fillna(0.0).mean(), rel=0.015)


def test_level_plane_gets_what_was_measured(year: HourlyYear, sky: Sky) -> None:
    """Beam and sky on a level are the global that the file has: within its own closure."""
    ours = on_plane(sky, 180.0, 0.0).total
    assert ours.mean() == pytest.approx(year.global_horizontal.mean(), rel=0.02)
