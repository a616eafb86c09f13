"""The days of each coming year on which storms and screens change places."""

from __future__ import annotations

from typing import Any

from sashwright.chapters.days import date_of, day_number, year_of
from sashwright.chapters.season.calendar import mean_day, season_of
from sashwright.knowledge.climate import Place
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.spec import House


def changes_of(
    house: House,
    today: str,
    years: int,
    *,
    place: Place | None = None,
    year: HourlyYear | None = None,
) -> list[dict[str, Any]]:
    """Every change from today on, in order: which, from when, until when.

    None where no weather is known, the mean day never crosses the set temperatures, or nothing of the
    house is changed with the seasons.
    """
    known = mean_day(year, place)
    if known is None or not _anything_changes(house):
        return []
    season = season_of(known[0], house.changeover.warm, house.changeover.cool, known[1])
    spans = (
        ("storms on", season.storms_from, season.storms_by),
        ("screens on", season.screens_from, season.screens_by),
    )
    found = []
    first = year_of(today)
    for each in range(first - 1, first + years + 1):
        for name, start, end in spans:
            if start is not None and end is not None:
                begins = _day(each, start)
                # An autumn may run over the new year.
                ends = _day(each + (end < start), end)
                if ends >= today and year_of(begins) <= first + years:
                    found.append(
                        {"name": name, "from": begins, "by": ends, "source": season.source}
                    )
    return sorted(found, key=lambda row: str(row["from"]))


def _anything_changes(house: House) -> bool:
    families = house.families.values()
    return any(family.storm == "winter" or family.screen.kind != "none" for family in families)


def _day(year: int, day: int) -> str:
    """The date of a day of the year, from 0."""
    return date_of(day_number(f"{year:04d}-01-01") + day)
