"""Our monthly climate of two stations worked out again from their hourly files.

The files are NREL's TMY3 (*Users Manual for TMY3 Data Sets*, NREL/TP-581-43156, 2008) as the pvlib package
ships them, read by pvlib; nothing of our own table or of the tool that made it takes part.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from sashwright.chapters.weather import normals_of
from sashwright.knowledge.climate_load import gazetteer
from tests.references.weather_files import GREENSBORO, SAND_POINT

PLACES = gazetteer()
STATIONS = [("723170", GREENSBORO), ("703165", SAND_POINT)]


def hours(file: Path) -> pd.DataFrame:
    table, _ = pvlib.iotools.read_tmy3(file, map_variables=True)
    table["day"] = np.repeat(np.arange(365), 24)
    table["month"] = table["Date (MM/DD/YYYY)"].str[:2].astype(int)
    return table


@pytest.mark.parametrize(("station", "file"), STATIONS)
def test_months(station: str, file: Path) -> None:
    table = hours(file)
    by_month = table.groupby("month")
    normals = normals_of(PLACES.place(station))

    def agree(ours: object, theirs: pd.Series, digit: float) -> None:
        # Half of the last digit that the table keeps; it was rounded before, to a tenth of that.
        np.testing.assert_allclose(ours, theirs.to_numpy(), rtol=0, atol=0.56 * digit)

    agree(normals.temperature, by_month["temp_air"].mean(), 0.01)
    agree(normals.humidity, by_month["relative_humidity"].mean() / 100, 0.001)
    agree(normals.dew_point, by_month["temp_dew"].mean(), 0.1)
    agree(normals.pressure, 100 * by_month["pressure"].mean(), 10)
    agree(normals.wind_speed, by_month["wind_speed"].mean(), 0.01)
    for field, column in (("global_horizontal", "ghi"), ("diffuse_horizontal", "dhi")):
        agree(getattr(normals, field) * 0.024, by_month[column].mean() * 0.024, 0.01)
    agree(normals.direct_normal * 0.024, by_month["dni"].mean() * 0.024, 0.01)
    days = table.groupby(["month", "day"])["temp_air"]
    agree(normals.temperature_max, days.max().groupby("month").mean(), 0.01)
    agree(normals.temperature_min, days.min().groupby("month").mean(), 0.01)


@pytest.mark.parametrize(("station", "file"), STATIONS)
def test_degree_days(station: str, file: Path) -> None:
    days = hours(file).groupby("day")["temp_air"]
    middle = (days.max() + days.min()) / 2 * 1.8 + 32
    place = PLACES.place(station)
    assert place.heating_degree_days is not None
    assert place.cooling_degree_days is not None
    # Kept to a whole °F day.
    heating, cooling = (65 - middle).clip(lower=0).sum(), (middle - 65).clip(lower=0).sum()
    assert place.heating_degree_days * 1.8 == pytest.approx(heating, abs=0.51)
    assert place.cooling_degree_days * 1.8 == pytest.approx(cooling, abs=0.51)


@pytest.mark.parametrize(("station", "file"), STATIONS)
def test_wind_roses(station: str, file: Path) -> None:
    table = hours(file)
    table = table.assign(sector=((table["wind_direction"] + 22.5) % 360 // 45).astype(int))
    normals = normals_of(PLACES.place(station))
    for month, rows in table.groupby("month"):
        windy = rows[rows["wind_speed"] >= 0.5]
        shares = windy.groupby("sector").size().reindex(range(8), fill_value=0) / len(rows)
        np.testing.assert_allclose(normals.wind_shares[month - 1], shares, atol=0.0011)
        speeds = windy.groupby("sector")["wind_speed"].mean().reindex(range(8), fill_value=0.0)
        np.testing.assert_allclose(normals.wind_speeds[month - 1], speeds, atol=0.056)
