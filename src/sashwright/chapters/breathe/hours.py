"""Any hour of a season's warm day: the air, the warmth and what stands open, for pictures."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from sashwright.chapters.breathe.best import NAME
from sashwright.chapters.breathe.chapter import SECONDS, Asked, compared_plans
from sashwright.chapters.breathe.compare import Lived
from sashwright.chapters.breathe.judge import MOVED
from sashwright.chapters.breathe.limits import Limits
from sashwright.chapters.breathe.pictures import hour_values
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.breathe.seasons import Calendar, SeasonOf
from sashwright.chapters.building import BuildingError, building
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import DAYS, HourlyYear
from sashwright.window.spec import House

WARM = 0.9
"""Quantile of a season's daily means that its warm day stands at."""


def breathe_hour(
    house: House,
    knowledge: Knowledge,
    *,
    season: str,
    hour: int,
    plan: str = NAME,
    year: HourlyYear,
    seconds: float = SECONDS,
) -> dict[str, Any] | None:
    """One hour of the warm day of a season by a plan; None where the house has no such season.

    Worked out from what ``breathe`` has found, of the same house, weather and ``seconds``.

    Parameters
    ----------
    season, plan
        By the names that the answer has.
    hour : int
        The hour of the day with which it begins, 0 to 23.

    Returns
    -------
    dict
        As the answer's ``hour``, besides ``season``, ``opened`` (rows of ``window``, ``sash``,
        ``open_m``) and ``doors`` (rows of ``between``, ``kind``, ``open``).
    """
    try:
        made = building(house, knowledge, year)
    except BuildingError:
        return None
    household = Household(made, Calendar(year), Limits(made))
    if all(each.name != season for each in household.calendar.seasons):
        return None
    lived = compared_plans(Asked(house, knowledge, year), household, seconds).named(plan)
    mine = next(s for s in lived.household.calendar.seasons if s.name == season)
    at = 24 * _warm_day(lived, mine) + hour % 24
    return hour_values(lived, at) | {
        "season": season,
        "opened": _opened(lived, at),
        "doors": _doors(lived, at),
    }


def _warm_day(lived: Lived, season: SeasonOf) -> int:
    """The day of the season whose mean stands nearest to that quantile."""
    days = np.unique(np.flatnonzero(season.hours) // 24)
    followed = days[np.isin(days, np.unique(lived.at // 24))]
    means = lived.household.building.year.temperature.reshape(DAYS, 24).mean(axis=1)[followed]
    return int(followed[np.argmin(np.abs(means - np.quantile(means, WARM)))])


def _opened(lived: Lived, at: int) -> list[dict[str, Any]]:
    found = []
    for which, rows in (("upper", lived.scenario.lowered), ("lower", lived.scenario.raised)):
        for number, row in rows.items():
            moved = float(_in_hour(row, at))
            if moved > MOVED:
                found.append({"window": number, "sash": which, "open_m": moved})
    return found


def _doors(lived: Lived, at: int) -> list[dict[str, Any]]:
    found = []
    for place, door in enumerate(lived.household.building.plan.doors):
        open_ = bool(_in_hour(lived.scenario.doors.get(place, door.usual == "open"), at))
        open_ = open_ or not door.shuts
        found.append({"between": list(door.between), "kind": door.kind, "open": open_})
    return found


def _in_hour(row: ArrayLike, at: int) -> Any:
    """What holds in an hour, of a value for all hours or a row of them."""
    values = np.asarray(row)
    return values[at] if values.ndim else values[()]
