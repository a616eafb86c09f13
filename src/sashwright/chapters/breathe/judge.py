"""What a course of the house is worth to the people in it: comfort, heat, cold, air, movements."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.building import Scenario
from sashwright.physics.comfort import Standard, adaptive_band, air_speed_rise
from sashwright.physics.house_heat import Coupled
from sashwright.physics.psychrometrics import air_density

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]

HEADLINE: tuple[Standard, str] = ("ASHRAE 55", "80 %")
SECOND: tuple[Standard, str] = ("EN 16798-1", "II")
BEDDING = 16.0
"""Operative temperature down to which a bedroom at night is not cold: people asleep cover themselves [°C];
judgement, after CIBSE Guide A's winter range for bedrooms of 17 to 19 °C (from memory)."""
MOVED = 0.005
"""What counts as a move of a sash [m]."""


@dataclass(frozen=True, eq=False)
class Judged:
    """A course hour by hour. All (n, R) but where said; n hours ``at`` of the year."""

    at: Whole
    operative: Array
    low: Array
    high: Array
    """Band of ASHRAE 55, 80 %, moving air in the upper end."""
    en_low: Array
    en_high: Array
    """Band of EN 16798-1, category II."""
    occupied: Array
    speed: Array
    """Mean speed of the air through each room [m/s]."""
    fresh: Array
    """Air from outdoors into the heated rooms, by volume, (n,) [m3/s]."""

    @property
    def comfortable(self) -> Mask:
        found: Mask = (self.operative >= self.low) & (self.operative <= self.high)
        return found

    @property
    def en_comfortable(self) -> Mask:
        found: Mask = (self.operative >= self.en_low) & (self.operative <= self.en_high)
        return found

    @property
    def over(self) -> Array:
        """Above the band [K]."""
        return np.maximum(self.operative - self.high, 0.0)

    @property
    def under(self) -> Array:
        """Below the band [K]."""
        return np.maximum(self.low - self.operative, 0.0)


def judge(household: Household, found: Coupled, at: Whole) -> Judged:
    """Comfort of every room and hour of a course."""
    building, course = household.building, found.course
    running = household.calendar.running[at][:, None]
    speed = speeds(household, found)
    operative = course.operative
    low, high = adaptive_band("ASHRAE 55", running, "80 %", hold=True)
    en_low, en_high = adaptive_band("EN 16798-1", running, "II", hold=True)
    rise = air_speed_rise(speed, operative)
    asleep = np.array([zone.use == "night" for zone in building.zones])
    low, en_low = (np.where(asleep, np.minimum(each, BEDDING), each) for each in (low, en_low))
    outdoors = building.year.temperature[at]
    density = air_density(outdoors, np.zeros(()), building.year.pressure[at])
    return Judged(
        at,
        operative,
        low,
        high + rise,
        en_low,
        en_high + rise,
        building.occupied[at],
        speed,
        course.flows.fresh[:, building.heated].sum(axis=1) / density,
    )


def speeds(household: Household, found: Coupled) -> Array:
    """Mean speed of air across the middle of each room: all that enters over its section, (n, R) [m/s].

    Jets near a window are faster; they are left out.
    """
    zones = household.building.zones
    flows = found.course.flows
    entering = flows.fresh + flows.between.sum(axis=1)
    section = np.array([zone.height * np.sqrt(zone.area) for zone in zones])
    speed: Array = entering / 1.2 / section
    return speed


@dataclass(frozen=True, slots=True)
class Score:
    """Shares of the occupied room hours, and what else counts of them."""

    hours: float
    """Occupied room hours."""
    comfortable: float
    en_comfortable: float
    hot: float
    cold: float
    over_kh: float
    """Sum of the kelvins above the band [K h]."""
    under_kh: float

    @property
    def share(self) -> float:
        return self.comfortable / self.hours if self.hours else 0.0


def score(judged: Judged, counted: Mask) -> Score:
    """Of the hours that count, (n,)."""
    weight = judged.occupied * counted[:, None]
    hot, cold = judged.over > 0, judged.under > 0

    def total(values: Array | Mask) -> float:
        return float((weight * values).sum())

    return Score(
        total(np.ones_like(weight)),
        total(judged.comfortable),
        total(judged.en_comfortable),
        total(hot),
        total(cold),
        total(judged.over),
        total(judged.under),
    )


def moves_a_day(scenario: Scenario, at: Whole, counted: Mask) -> float:
    """How often a sash is moved in a day, all windows together, by the hours that count."""
    hours = at[counted]
    if not len(hours):
        return 0.0
    moves = 0
    follow = np.diff(hours) == 1
    for rows in (scenario.lowered, scenario.raised):
        for row in rows.values():
            position = np.asarray(row)[hours]
            moves += int(((np.abs(np.diff(position)) > MOVED) & follow).sum())
    return 24 * moves / len(hours)
