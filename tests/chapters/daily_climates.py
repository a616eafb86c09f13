"""Days to ask the fit chapter about: made-up climates of plain waves, and a real typical year."""

from __future__ import annotations

from functools import cache

import numpy as np

from sashwright.physics.daily import DailyClimate, daily
from sashwright.physics.indoor import Household, indoor_climate
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.record.hourly import read_hourly
from tests.references.weather_files import GREENSBORO

DAY = np.arange(365)


def waves(
    *,
    mean: float = 9.0,
    swing: float = 13.0,
    humidity: float = 0.72,
    humidity_swing: float = 0.05,
    household: Household | None = None,
    drier: float = 0.0,
) -> DailyClimate:
    """Coldest on 21 January, dampest air in mid-August; ``drier`` takes off both humidities."""
    outdoors = mean - swing * np.cos(2 * np.pi * (DAY - 20) / 365)
    damp = humidity + humidity_swing * np.cos(2 * np.pi * (DAY - 227) / 365)
    inside = indoor_climate(outdoors, damp * saturation_pressure(outdoors), household)
    return DailyClimate(
        outdoors,
        np.clip(damp - drier, 0.05, 1.0),
        inside.temperature,
        np.clip(inside.humidity - drier, 0.05, 1.0),
        "made-up waves",
    )


@cache
def greensboro() -> DailyClimate:
    """The typical year of Greensboro, North Carolina, in a heated house lived in and aired."""
    year = read_hourly(GREENSBORO)
    vapour = year.humidity * saturation_pressure(year.temperature)
    return daily(year, indoor_climate(year.temperature, vapour))
