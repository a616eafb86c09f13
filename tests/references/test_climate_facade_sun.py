"""Sun on upright walls against a library of reference algorithms, on a real typical year."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest

from sashwright.physics.daily import TYPICAL_SUN, facade_sun
from sashwright.record.hourly import read_hourly
from tests.references.weather_files import GREENSBORO


@pytest.fixture(scope="module")
def theirs() -> np.ndarray:
    """Daily means on eight walls: Solar Position Algorithm at each half hour, even sky, ground 0.2."""
    year = read_hourly(GREENSBORO)
    zone = f"Etc/GMT{-round(year.utc_offset):+d}"
    times = pd.date_range("2023-01-01 00:30", periods=8760, freq="h", tz=zone)
    place = pvlib.solarposition.get_solarposition(times, year.latitude, year.longitude)
    walls = [
        pvlib.irradiance.get_total_irradiance(
            90,
            facing,
            place["zenith"],
            place["azimuth"],
            year.direct_normal,
            year.global_horizontal,
            year.diffuse_horizontal,
            albedo=0.2,
            model="isotropic",
        )["poa_global"].to_numpy()
        for facing in range(0, 360, 45)
    ]
    return np.array(walls).reshape(8, 365, 24).mean(axis=2)


def test_every_wall_over_the_year(theirs: np.ndarray) -> None:
    ours = facade_sun(read_hourly(GREENSBORO)).mean(axis=1)
    # Hours of sunrise and sunset are cut differently, and the day's declination is that of noon.
    assert ours == pytest.approx(theirs.mean(axis=1), rel=0.015)


def test_every_wall_on_every_day(theirs: np.ndarray) -> None:
    off = np.abs(facade_sun(read_hourly(GREENSBORO)) - theirs)
    assert off.mean() < 1.5
    assert off.max() < 12


def test_typical_sun_is_typical(theirs: np.ndarray) -> None:
    """Greensboro is not among the places the typical figures were made from."""
    assert np.array(TYPICAL_SUN) == pytest.approx(theirs.mean(axis=1), rel=0.20)
