"""When to change storm sash and screens: the weeks in which the mean day crosses the set temperatures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.weather import normals_of
from sashwright.knowledge.climate import Place
from sashwright.physics.hourly_year import (
    DAYS,
    DAYS_OF_MONTH,
    MONTH_NAMES,
    MONTH_OF_DAY,
    HourlyYear,
    monthly_means,
)
from sashwright.physics.synthesis.series import through_months

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Season:
    """Days of the year, from 0 for 1 January, between which each change falls; None where there is none."""

    storms_from: int | None
    """First day colder than ``warm``: storms may go on."""
    storms_by: int | None
    """First day colder than ``cool``: they are on."""
    screens_from: int | None
    """First day warmer than ``cool``: storms may come off."""
    screens_by: int | None
    """First day warmer than ``warm``: they are off."""
    curve: Array
    """The mean day through the year, shape (365,) [°C]."""
    hung: NDArray[np.bool_]
    """Days on which storms that come off for summer count as hung, shape (365,): from amid the weeks in which
    they go on to amid those in which they come off, when the mean day passes halfway from ``warm`` to
    ``cool``."""
    source: str


def mean_day(year: HourlyYear | None, place: Place | None) -> tuple[Array, str] | None:
    """Mean temperature of each day without the swings of single days, shape (365,) [°C].

    Straight lines from mid-month to mid-month that keep every month's mean: the same for a year hour by
    hour and for monthly figures. None where neither is known.
    """
    if year is not None:
        return through_months(monthly_means(year.temperature)), year.source
    if place is None:
        return None
    words = f"monthly means of {place.full_name} ({place.period})"
    return through_months(normals_of(place).temperature), words


def season_of(curve: Array, warm: float, cool: float, source: str) -> Season:
    """The two changes of the year, from its hottest day on and from its coldest day on."""
    hottest, coldest = int(np.argmax(curve)), int(np.argmin(curve))
    return Season(
        _first(curve < warm, hottest),
        _first(curve < cool, hottest),
        _first(curve > cool, coldest),
        _first(curve > warm, coldest),
        curve,
        curve < (warm + cool) / 2,
        source,
    )


def _first(where: NDArray[np.bool_], start: int) -> int | None:
    """The first day from ``start`` on, round the year, for which it holds; None where it always
    or never does."""
    if where.all() or not where.any():
        return None
    return int((start + np.argmax(np.roll(where, -start))) % DAYS)


def date_words(day: int) -> str:
    """A day of the year, counted from 0, in words: ``14 October``."""
    month = int(MONTH_OF_DAY[day])
    return f"{day - sum(DAYS_OF_MONTH[:month]) + 1} {MONTH_NAMES[month]}"


def day_values(day: int | None) -> dict[str, Any] | None:
    """A day as values: its number from 1, its week from 1, its date in words."""
    if day is None:
        return None
    return {"day": day + 1, "week": day // 7 + 1, "date": date_words(day)}
