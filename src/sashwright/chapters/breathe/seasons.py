"""When windows are for opening: the months by how warm they are, the parts of the day, the usual wind."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.comfort import running_mean
from sashwright.physics.hourly_year import (
    DAYS,
    HOURS,
    MONTH_NAMES,
    MONTH_OF_HOUR,
    HourlyYear,
    daily_means,
    monthly_means,
)

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]

SeasonName = Literal["cool", "mild", "hot"]
PartName = Literal["morning", "day", "evening", "night"]
SEASONS: tuple[SeasonName, ...] = ("cool", "mild", "hot")
PARTS: tuple[PartName, ...] = ("morning", "day", "evening", "night")

MILD_FROM, HOT_FROM = 15.0, 19.0
"""Mean temperature from which a month is mild, and hot [°C]; ours: comfort of ASHRAE 55 lies at 22.5 and
23.7 °C then, so that sun and people warm a mild month's house into it and a hot month's beyond."""
HEATED_BELOW = 12.0
"""Running mean outdoors below which the rooms of an old house are heated [°C]; judgement: sun and people
make up some 6 K of the 18 °C that degree days count from."""
JUDGED_TO = 33.5
"""Running mean outdoors up to which adaptive comfort is judged [°C]; ASHRAE 55, section 5.4, which begins at
10 °C."""
FEW_DAYS = 5
"""A season of fewer days in the year is none."""
STARTS = (6, 10, 18, 22)
"""Hours at which morning, day, evening and night begin; judgement."""

HOUR_OF_DAY: Whole = np.tile(np.arange(24), DAYS)
PART_OF_HOUR: Whole = ((np.searchsorted(STARTS, HOUR_OF_DAY, side="right") + 3) % 4).astype(
    np.int64
)
"""Of each of the 8,760 hours: 0 morning, 1 day, 2 evening, 3 night."""


@dataclass(frozen=True, slots=True)
class SeasonOf:
    """A season: its months from 0 for January, and its hours, (8760,)."""

    name: SeasonName
    months: tuple[int, ...]
    hours: Mask

    @property
    def days(self) -> int:
        return int(self.hours.sum()) // 24

    @property
    def month_names(self) -> list[str]:
        return [MONTH_NAMES[month] for month in self.months]


@dataclass(frozen=True)
class Calendar:
    """The year's seasons for opening windows, at one place."""

    year: HourlyYear

    @cached_property
    def running(self) -> Array:
        """Running mean outdoors of each hour's day, (8760,) [°C]."""
        return np.repeat(running_mean(daily_means(self.year.temperature)), 24)

    @cached_property
    def high(self) -> Array:
        """Warmest hour outdoors of the day that each hour belongs to, from six to six, (8760,) [°C]."""
        days = np.roll(self.year.temperature, -STARTS[0]).reshape(DAYS, 24)
        return np.roll(np.repeat(days.max(axis=1), 24), STARTS[0])

    @cached_property
    def judged(self) -> Mask:
        """Hours of days on which the rooms are neither heated nor beyond what the standard speaks of."""
        return (self.running >= HEATED_BELOW) & (self.running <= JUDGED_TO)

    @cached_property
    def heating(self) -> Mask:
        """Hours of days on which the rooms are heated."""
        return self.running < HEATED_BELOW

    @cached_property
    def seasons(self) -> tuple[SeasonOf, ...]:
        """Those that the place has; a month of few judged days counts with them all the same."""
        means = monthly_means(self.year.temperature)
        kinds = np.digitize(means, (MILD_FROM, HOT_FROM))
        found = []
        for place, name in enumerate(SEASONS):
            mine = ~self.heating & (kinds[MONTH_OF_HOUR] == place)
            months = [m for m in range(12) if (mine & (m == MONTH_OF_HOUR)).any()]
            if mine.sum() >= 24 * FEW_DAYS:
                found.append(SeasonOf(name, tuple(months), mine))
        return tuple(found)

    @cached_property
    def open_hours(self) -> Mask:
        """Hours of all seasons."""
        found = np.zeros(HOURS, dtype=bool)
        for season in self.seasons:
            found |= season.hours
        return found

    def followed(self, lead: int = 7) -> Whole:
        """Hours to be followed for the seasons, with so many days before each stretch of them."""
        day = self.open_hours.reshape(DAYS, 24).any(axis=1)
        wanted = day.copy()
        for back in range(1, lead + 1):
            wanted |= np.roll(day, -back)
        return np.flatnonzero(np.repeat(wanted, 24))

    def sample(self, season: SeasonOf, lead: int = 2, days: int = 2) -> tuple[Whole, Mask]:
        """Hours that stand for a season: a cool, a middling and a hot stretch, each after days of lead.

        Returns
        -------
        hours : array (n,)
        counted : array (n,)
            Which of them are not lead.
        """
        mean = daily_means(self.year.temperature)
        mine = season.hours.reshape(DAYS, 24).any(axis=1)
        stretch = np.mean([np.roll(mean, -each) for each in range(days)], axis=0)
        whole = np.all([np.roll(mine, -each) for each in range(days)], axis=0)
        choice = np.flatnonzero(whole if whole.any() else mine)
        picked: list[int] = []
        for quantile in (0.25, 0.6, 0.9):
            aim = np.quantile(stretch[choice], quantile)
            picked.append(int(choice[np.argmin(np.abs(stretch[choice] - aim))]))
        hours, counted = [], []
        for first in dict.fromkeys(picked):
            for each in range(-lead, days):
                hours.append(24 * ((first + each) % DAYS) + np.arange(24))
                counted.append(np.full(24, each >= 0))
        return np.concatenate(hours), np.concatenate(counted)

    def wind_from(self, season: SeasonOf) -> float | None:
        """Where the season's wind mostly comes from [degrees]; None where it is calm or from everywhere."""
        speed, from_ = self.year.wind_speed[season.hours], self.year.wind_direction[season.hours]
        mean = np.mean(speed * np.exp(1j * np.radians(from_)))
        if abs(mean) < 0.1 * speed.mean() or speed.mean() < 0.3:
            return None
        return float(np.degrees(np.angle(mean)) % 360)


def months_words(season: SeasonOf) -> str:
    """``June to August``, or the months one by one where they do not follow on each other."""
    months, names = season.months, season.month_names
    if len(names) == 1:
        return names[0]
    if all(b - a == 1 for a, b in pairwise(months)):
        if len(names) == 2:
            return f"{names[0]} and {names[1]}"
        return f"{names[0]} to {names[-1]}"
    return f"{', '.join(names[:-1])} and {names[-1]}"
