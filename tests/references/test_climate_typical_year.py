"""Typical years against the real ones of the same stations: degree days, humidity, wind, sun.

Degree days of 20 American cities were counted from NREL's TMY3 hourly files (*Users Manual for TMY3 Data
Sets*, NREL/TP-581-43156, 2008). A typical year knows of them only the monthly mean, the mean extremes and
the deviation of days, so that agreement says that days and hours are spread as in the real year.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sashwright.chapters.weather import normals_of, year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import (
    BASE_65F,
    MONTH_OF_DAY,
    HourlyYear,
    daily_means,
    degree_days,
    monthly_means,
)
from sashwright.record.hourly import read_hourly
from tests.references.weather_files import GREENSBORO, SAND_POINT

PLACES = gazetteer()

# Station: heating and cooling degree days below and above 65 °F by (highest + lowest) / 2 of the day,
# then the same hour by hour over 24 [°F day].
COUNTED = {
    "722020": (149, 4293, 236, 4292),  # Miami FL
    "722430": (1438, 2974, 1686, 3017),  # Houston TX
    "722780": (996, 4591, 1254, 4847),  # Phoenix AZ
    "722190": (2773, 1810, 3034, 1930),  # Atlanta GA
    "723340": (2998, 2133, 3120, 2271),  # Memphis TN
    "722700": (2498, 2170, 2677, 2446),  # El Paso TX
    "722950": (1186, 434, 1489, 506),  # Los Angeles CA
    "724940": (2737, 97, 3191, 209),  # San Francisco CA
    "724060": (4631, 1237, 4735, 1368),  # Baltimore MD
    "723650": (4158, 1270, 4509, 1449),  # Albuquerque NM
    "727930": (4641, 128, 4950, 290),  # Seattle WA
    "726980": (4187, 367, 4544, 539),  # Portland OR
    "725300": (6398, 830, 6497, 1014),  # Chicago IL
    "725090": (5793, 734, 5885, 804),  # Boston MA
    "725650": (5656, 924, 6016, 1116),  # Denver CO
    "726580": (7782, 731, 7856, 891),  # Minneapolis MN
    "726170": (7491, 420, 7456, 579),  # Burlington VT
    "727720": (7587, 319, 7898, 559),  # Helena MT
    "727450": (9618, 158, 9710, 307),  # Duluth MN
    "702610": (13072, 30, 13145, 158),  # Fairbanks AK
}

# Five percent, what later sums of heat want. A few degree days are the tail of a distribution, which
# monthly figures do not know: there a year may be off by what one hot or cold week makes, 60 °F day.
SHARE, WEEK = 0.05, 60


def allowed(counted: float) -> float:
    return max(SHARE * counted, WEEK)


@pytest.mark.parametrize("station", COUNTED)
@pytest.mark.parametrize("seed", [1, 2])
def test_degree_days(station: str, seed: int) -> None:
    heating, cooling, hourly_heating, hourly_cooling = COUNTED[station]
    year = year_of(PLACES.place(station), seed)
    found = [1.8 * days for days in degree_days(year.temperature)]
    assert found[0] == pytest.approx(heating, abs=allowed(heating))
    assert found[1] == pytest.approx(cooling, abs=allowed(cooling))
    cold = 1.8 * np.maximum(BASE_65F - year.temperature, 0).sum() / 24
    warm = 1.8 * np.maximum(year.temperature - BASE_65F, 0).sum() / 24
    assert cold == pytest.approx(hourly_heating, abs=allowed(hourly_heating))
    assert warm == pytest.approx(hourly_cooling, abs=allowed(hourly_cooling))


@pytest.mark.parametrize("station", COUNTED)
def test_places_carry_the_published_counts(station: str) -> None:
    place = PLACES.place(station)
    assert place.heating_degree_days is not None
    assert place.cooling_degree_days is not None
    assert place.heating_degree_days * 1.8 == pytest.approx(COUNTED[station][0], abs=0.01)
    assert place.cooling_degree_days * 1.8 == pytest.approx(COUNTED[station][1], abs=0.01)


def test_no_bias_in_heating() -> None:
    """Over the cold cities, where heating is money, the errors cancel to half a percent."""
    ratios = []
    for station, (heating, *_) in COUNTED.items():
        if heating > 2000:
            found, _ = degree_days(year_of(PLACES.place(station)).temperature)
            ratios.append(1.8 * found / heating)
    assert np.mean(ratios) == pytest.approx(1, abs=0.005)


@pytest.mark.parametrize("station", COUNTED)
def test_monthly_means(station: str) -> None:
    place = PLACES.place(station)
    normals, year = normals_of(place), year_of(place)
    assert np.abs(monthly_means(year.temperature) - normals.temperature).max() < 0.3
    assert np.abs(monthly_means(year.humidity) - normals.humidity).max() < 0.03
    # Mean humidity and mean dew point cannot both be had everywhere; dry El Paso stays 1.1 K off.
    assert np.abs(monthly_means(year.dew_point) - normals.dew_point).max() < 1.3
    assert normals.direct_normal is not None
    # Beam is what global leaves of diffuse: nothing was fitted to it.
    beam = year.direct_normal.mean() / np.average(
        normals.direct_normal, weights=np.bincount(MONTH_OF_DAY)
    )
    assert beam == pytest.approx(1, abs=0.04)


def test_british_degree_days() -> None:
    """London, Sheffield, Paisley: base 15.5 °C from the Met Office means of 1991 to 2020.

    By Erbs, Klein and Beckman (1983) the monthly means give 1,779, 2,135 and 2,269 K day. That method is
    itself good to 2 %; it and a typical year share the means and differ in everything else.
    """
    for key, expected in (("gb-london", 1779), ("gb-sheffield", 2135), ("gb-glasgow", 2269)):
        found, _ = degree_days(year_of(PLACES.place(key)).temperature, 15.5)
        assert found == pytest.approx(expected, rel=0.03)


# --- hour by hour, against a real year ---------------------------------------------------


def pair(station: str, file: Path) -> tuple[HourlyYear, HourlyYear]:
    return year_of(PLACES.place(station)), read_hourly(file)


STATIONS = pytest.mark.parametrize(
    ("station", "file"), [("723170", GREENSBORO), ("703165", SAND_POINT)], ids=["NC", "AK"]
)


@STATIONS
def test_humidity_is_spread_as_in_the_real_year(station: str, file: Path) -> None:
    ours, real = pair(station, file)
    for limit in (0.5, 0.6, 0.7, 0.8, 0.9, 0.95):
        share = (ours.humidity > limit).mean()
        # Seven real years tried are 0.02 to 0.09 apart at the worst of these limits.
        assert share == pytest.approx((real.humidity > limit).mean(), abs=0.10)
    # Where wood takes up most, above 0.9, the shares agree better.
    damp = (ours.humidity > 0.9).mean()
    assert damp == pytest.approx((real.humidity > 0.9).mean(), abs=0.05)


@STATIONS
def test_temperature_is_spread_as_in_the_real_year(station: str, file: Path) -> None:
    ours, real = pair(station, file)
    quantiles = np.linspace(0.01, 0.99, 25)
    off = np.quantile(ours.temperature, quantiles) - np.quantile(real.temperature, quantiles)
    # Seven real years tried are 0.5 to 1.3 K apart, but for the coldest hours of Chicago, 2.2 K.
    assert np.abs(off).max() < 1.3


@STATIONS
def test_hours_follow_each_other_as_in_the_real_year(station: str, file: Path) -> None:
    ours, real = pair(station, file)
    # Wind has 0.69 at Denver to 0.91 in the Aleutians, and 0.83 in every typical year.
    for field, within in (("temperature", 0.02), ("humidity", 0.06), ("wind_speed", 0.12)):
        found, wanted = (_lag(getattr(year, field)) for year in (ours, real))
        assert found == pytest.approx(wanted, abs=within)
    # Within months, so that the season does not count; the error of such a mean of twelve is 0.04.
    days = [_lag_in_months(daily_means(year.temperature)) for year in (ours, real)]
    assert days[0] == pytest.approx(days[1], abs=0.18)


def _lag(values: np.ndarray) -> float:
    return float(np.corrcoef(values[1:], values[:-1])[0, 1])


def _lag_in_months(days: np.ndarray) -> float:
    return float(np.mean([_lag(days[month == MONTH_OF_DAY]) for month in range(12)]))


@STATIONS
def test_the_mean_day_is_shaped_as_in_the_real_year(station: str, file: Path) -> None:
    ours, real = pair(station, file)
    for field, within in (
        ("temperature", 0.8),
        # The island's wind hardly knows the hour; a typical year does, by a fifth.
        ("wind_speed", 0.8),
        ("global_horizontal", 15.0),
        ("direct_normal", 60.0),
        ("humidity", 0.04),
    ):
        found, wanted = (
            getattr(year, field).reshape(365, 24).mean(axis=0) for year in (ours, real)
        )
        assert np.abs(found - wanted).max() < within, field


@STATIONS
def test_clear_and_dull_days_are_as_many(station: str, file: Path) -> None:
    ours, real = pair(station, file)
    found, wanted = (daily_means(year.global_horizontal) for year in (ours, real))
    ratio = [
        found[month == MONTH_OF_DAY].std() / wanted[month == MONTH_OF_DAY].std()
        for month in range(12)
    ]
    assert np.mean(ratio) == pytest.approx(1, abs=0.12)
