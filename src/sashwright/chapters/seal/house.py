"""The house: what its fan tests say of the windows, and how much air wind and warmth exchange."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.seal.window import AT_4, AT_50, HOUSE_PRESSURE, Factor, Sealed
from sashwright.chapters.weather import normals_of
from sashwright.knowledge.climate import Place
from sashwright.physics.hourly_year import (
    BASE_65F,
    DAYS_OF_MONTH,
    HourlyYear,
    monthly_means,
)
from sashwright.physics.infiltration import MOST_STOREYS, enhanced_infiltration, wind_at
from sashwright.physics.leakage import REFERENCE_PRESSURE, effective_leakage_area
from sashwright.window.air import Air, FanTest
from sashwright.window.heights import eaves_of, storeys_of
from sashwright.window.spec import House

Array = NDArray[np.float64]

REPEATS = 0.03
"""Standard deviation of a fan test repeated on the same house by the same people, as a share [-]; from
memory: a few percent in calm weather."""
EXPONENT = 0.65
"""Of a house nobody tested [-]; usual."""


# --- fan tests ------------------------------------------------------------------------


def flow_of(test: FanTest, air: Air) -> float:
    """Flow of a test at its own pressure [m3/s]."""
    if test.flow is not None:
        return test.flow
    return (test.air_changes or 0.0) * (air.volume or 0.0) / 3600


def flow_at(test: FanTest, air: Air, pressure: float) -> float:
    """Flow of a test at another pressure, by its power law [m3/s]."""
    return float(flow_of(test, air) * (pressure / test.pressure) ** test.exponent)


@dataclass(frozen=True, slots=True)
class Calibration:
    """What tests of the house before and after the work on its windows say of the tables."""

    before: float
    after: float
    """Of the house at 50 Pa [m3/s]."""
    expected: float
    """Change of the windows at 50 Pa by the tables [m3/s]."""
    factor: float
    """Change found over change expected, for windows without a test of their own [-]."""
    factor_low: float
    factor_high: float
    """Two standard deviations of the tests either way."""
    range_low: float
    range_high: float
    """What the ranges of the tables allow [-]."""

    @property
    def spread_tests(self) -> float:
        """Standard deviation of the factor by how well the tests repeat [-]."""
        return (self.factor_high - self.factor_low) / 4

    @property
    def spread_tables(self) -> float:
        """Standard deviation of the tables' own factor, 1: a quarter of their range [-]."""
        return (self.range_high - self.range_low) / 4

    @property
    def used(self) -> float:
        """Tests and tables, each weighed by its variance, held within what the tables allow."""
        tables, tests = self.spread_tables**2, self.spread_tests**2
        weight = tables / (tables + tests)
        factor = 1 + weight * (self.factor - 1)
        return min(max(factor, self.range_low), self.range_high)


def after_work(sealed: Sealed) -> str:
    """Name of the state that the work leaves a window in."""
    planned = "as the family has it"
    return planned if planned in sealed.names else "repaired"


def state_or(sealed: Sealed, name: str) -> int:
    """Row of a state, or of the nearest one where a window has none of that name."""
    if name in sealed.names:
        return sealed.row(name)
    return sealed.row("as found" if name == "as the family has it" else "repaired")


def calibrate(air: Air, windows: Sequence[Sealed]) -> Calibration | None:
    """The factor that makes the windows' change the house's; None without both tests."""
    if air.before is None or air.after is None or not windows:
        return None
    before = flow_at(air.before, air, HOUSE_PRESSURE)
    after = flow_at(air.after, air, HOUSE_PRESSURE)
    tested = sum(_change(each, "whole") for each in windows if each.factor.source == "window test")
    rest = [each for each in windows if each.factor.source != "window test"]
    expected = sum(_change(each, "whole") for each in rest)
    if expected <= 0:
        return None
    low, high = (sum(_change(each, guess) for each in rest) / expected for guess in ("low", "high"))
    doubt = 2 * REPEATS * math.hypot(before, after)
    change = before - after - tested
    return Calibration(
        before,
        after,
        expected,
        factor=change / expected,
        factor_low=(change - doubt) / expected,
        factor_high=(change + doubt) / expected,
        range_low=min(low, 1.0),
        range_high=max(high, 1.0),
    )


def _change(sealed: Sealed, guess: str) -> float:
    """Of a window's flow at 50 Pa by the work [m3/s]."""
    flows: Array = getattr(sealed.alone, guess)
    return float(flows[0, AT_50] - flows[sealed.row(after_work(sealed)), AT_50])


def factor_for(calibration: Calibration | None) -> Factor:
    """The factor for windows without a test of their own."""
    if calibration is None:
        return Factor()
    return Factor(calibration.used, "house test")


# --- totals ---------------------------------------------------------------------------

TOTALS = (
    "as found",
    "repaired",
    "spring strip",
    "interlocking rib",
    "bulb",
    "pile",
    "felt",
    "pile with bulb",
    "as the family has it",
    "every step",
)
"""States that all windows of a house are added up in."""


def names_in(windows: Sequence[Sealed]) -> list[str]:
    return [name for name in TOTALS if any(name in each.names for each in windows)]


def total(windows: Sequence[Sealed], name: str, pressure: int, *, storm: bool = False) -> float:
    """Of all windows in a state at one of the pressures [m3/s]."""
    return float(
        sum(
            (each.with_storm if storm else each.alone).whole[state_or(each, name), pressure]
            for each in windows
        )
    )


# --- air exchange ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Weather:
    """Temperature outdoors and wind, by hours or by months, with the time each counts for."""

    by: str
    temperature: Array
    wind: Array
    weight: Array
    source: str

    @property
    def heating(self) -> Array:
        """Weight of the times with heating: colder than 65 °F."""
        cold: Array = np.where(self.temperature < BASE_65F, self.weight, 0.0)
        return cold


def weather_of(year: HourlyYear | None, place: Place | None) -> Weather | None:
    """Hours where a year is given, months where only a place is; else nothing."""
    if year is not None:
        weight = np.ones(len(year.temperature))
        return Weather("hours", year.temperature, year.wind_speed, weight, year.source)
    if place is None:
        return None
    normals = normals_of(place)
    days = np.asarray(DAYS_OF_MONTH, dtype=np.float64)
    words = f"monthly means of {place.full_name} ({place.period})"
    return Weather("months", normals.temperature, normals.wind_speed, days, words)


@dataclass(frozen=True, slots=True)
class Exchange:
    """Air exchange of an envelope with a flow coefficient of 1 m3/(s Pa^n), through the weather."""

    weather: Weather
    exponent: float
    storeys: int
    eaves: float
    at_one: Array

    def mean(self) -> float:
        return float(np.average(self.at_one, weights=self.weather.weight))

    def heating_mean(self) -> float:
        """Over the heating season; 0 where nothing is heated."""
        weight = self.weather.heating
        return float(np.average(self.at_one, weights=weight)) if weight.any() else 0.0

    def months(self) -> Array:
        return self.at_one if self.weather.by == "months" else monthly_means(self.at_one)


def exchange_of(house: House, windows: Sequence[Sealed], weather: Weather) -> Exchange:
    """How wind and warmth drive air through the house."""
    air = house.air
    storeys, eaves = storeys_of(house), eaves_of(house)
    test = air.before or air.after
    exponent = test.exponent if test else EXPONENT
    at_one = enhanced_infiltration(
        1.0,
        exponent,
        _difference(house, weather.temperature),
        wind_at(weather.wind, eaves, air.terrain),
        storeys=storeys,
        shielding=air.shielding,
        foundation=air.foundation,
        flue=air.flue,
    )
    return Exchange(weather, exponent, min(storeys, MOST_STOREYS), eaves, at_one)


def _difference(house: House, outdoors: Array) -> Array:
    """Indoor less outdoor temperature: heated, cooled, or left to follow the weather [K]."""
    indoors = np.maximum(outdoors, house.heated_to)
    if house.cooled_to is not None:
        indoors = np.minimum(indoors, max(house.cooled_to, house.heated_to))
    difference: Array = indoors - outdoors
    return difference


def house_at_4(air: Air, windows: Sequence[Sealed]) -> float | None:
    """Flow of the whole house at 4 Pa before the work, by its tests [m3/s]; None without one."""
    if air.before is not None:
        return flow_at(air.before, air, REFERENCE_PRESSURE)
    if air.after is None:
        return None
    saved = sum(
        float(each.alone.whole[0, AT_4] - each.alone.whole[each.row(after_work(each)), AT_4])
        for each in windows
    )
    return flow_at(air.after, air, REFERENCE_PRESSURE) + saved


def exchange_rows(
    house: House, windows: Sequence[Sealed], exchange: Exchange
) -> list[dict[str, Any]]:
    """Air exchange of the house in every state of its windows, without and with storms."""
    whole = house_at_4(house.air, windows)
    found = total(windows, "as found", AT_4)
    rest = None if whole is None else max(whole - found, 0.0)
    rows = []
    for storm in (False, True):
        for name in names_in(windows):
            at_4 = total(windows, name, AT_4, storm=storm) + (rest or 0.0)
            rows.append(_exchange_row(name, storm, at_4, house.air, exchange))
    return rows


def _exchange_row(
    name: str, storm: bool, at_4: float, air: Air, exchange: Exchange
) -> dict[str, Any]:
    coefficient = at_4 / REFERENCE_PRESSURE**exchange.exponent
    area = effective_leakage_area(coefficient, exchange.exponent)
    mean = coefficient * exchange.mean()
    return {
        "name": name,
        "storm": storm,
        "leakage_area_cm2": float(area) * 1e4,
        "mean_m3_s": mean,
        "heating_mean_m3_s": coefficient * exchange.heating_mean(),
        "months_m3_s": (coefficient * exchange.months()).tolist(),
        "air_changes_h": None if air.volume is None else mean * 3600 / air.volume,
    }
