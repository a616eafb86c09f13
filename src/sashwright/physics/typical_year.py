"""A typical year of weather, hour by hour, made from monthly figures.

No single hour of it ever happened. Its months have the means, the spread of days, the daily extremes,
the humidity, the wind and the sun of the climate it was made from, and its hours follow each other as
weather does. Good for sums over a month or a year; nothing may be sized by its coldest or windiest hour.

The approach is that of K. M. Knight, S. A. Klein and J. A. Duffie, "A methodology for the synthesis of
hourly weather data", *Solar Energy* 46 (1991) 109-120, with one difference: the days of a month take the
equally likely quantiles of its distribution, in an order that chance decides. So a typical year is
typical, not one year out of many.
"""

from __future__ import annotations

import numpy as np

from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.normals import Normals
from sashwright.physics.synthesis.moisture import draw_moisture
from sashwright.physics.synthesis.radiation import draw_sunshine
from sashwright.physics.synthesis.series import through_months
from sashwright.physics.synthesis.temperature import draw_temperatures
from sashwright.physics.synthesis.wind import draw_wind

SEED = 1


def typical_year(
    normals: Normals,
    *,
    latitude: float,
    longitude: float,
    elevation: float,
    utc_offset: float,
    of: str,
    seed: int = SEED,
) -> HourlyYear:
    """8,760 hours of weather with the monthly climate of ``normals``.

    Parameters
    ----------
    normals : Normals
        Monthly climate.
    latitude, longitude : float
        North and east count up [degrees].
    elevation : float
        [m]
    utc_offset : float
        Local standard time less universal time [h].
    of : str
        Name of the place, for the year's ``source``.
    seed : int
        The same seed gives the same year, on any machine.

    Notes
    -----
    Pressure follows the season only: the swings of passing weather, some 0.5 %, are left out.
    """
    rng = np.random.Generator(np.random.PCG64(seed))
    sunshine = draw_sunshine(rng, normals, latitude, longitude, utc_offset)
    temperatures = draw_temperatures(rng, normals, sunshine.relative_clearness)
    moisture = draw_moisture(rng, normals, temperatures, sunshine.chance)
    wind = draw_wind(rng, normals)
    return HourlyYear(
        temperature=temperatures.hours.ravel(),
        dew_point=moisture.dew_point.ravel(),
        humidity=np.clip(moisture.humidity.ravel(), 0.0, 1.0),
        pressure=np.repeat(through_months(normals.pressure), 24),
        wind_speed=wind.speed,
        wind_direction=wind.direction,
        global_horizontal=sunshine.global_horizontal.ravel(),
        direct_normal=sunshine.direct_normal.ravel(),
        diffuse_horizontal=sunshine.diffuse_horizontal.ravel(),
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=utc_offset,
        source=f"synthetic typical year made from monthly figures of {of} (seed {seed})",
    )
