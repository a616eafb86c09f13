"""When each thing at a window comes again: the first time, and through the years."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.days import date_of, day_number, year_of, years_later
from sashwright.chapters.keep.clocks import Clock
from sashwright.chapters.keep.upkeep import Item

Status = Literal["due", "soon", "later", "unknown"]
SOON = 90
"""Days ahead that count as soon."""
OFTEN = 1.0
"""A life that is no longer comes in its month, year by year [years]."""
CHANCE = 0.3
"""Share of such a life after which it may come again, to be back in its month; judgement."""


@dataclass(frozen=True, slots=True)
class Due:
    """When a thing is due: the likely day, between an early and a late one; None where nothing is known."""

    early: str | None
    likely: str | None
    late: str | None
    planned: str | None
    """In the month of its work: the day that a calendar has."""
    status: Status


def due_of(item: Item, clock: Clock, today: str) -> Due:
    """The first time from today."""
    if clock.start is None and clock.known_by == "fault":
        return Due(today, today, today, today, "due")
    if clock.start is None:
        # Nobody has looked: that is to be done first; of the rest nothing is known until then.
        looks = item.row.what == "inspect"
        if looks:
            return Due(today, today, today, today, "due")
        return Due(None, None, None, None, "unknown")
    if clock.known_by == "fault":
        start: str = clock.start
        return Due(start, start, start, today, "due") if start <= today else _at(item, start, today)
    low, likely, high = item.life.years
    if clock.half:
        # It may be new or at its end; half way is the middle of that.
        low, likely = 0.0, likely / 2
    early, day, late = (years_later(clock.start, years) for years in (low, likely, high))
    found = _at(item, day, today)
    return Due(early, day, late, found.planned, found.status)


def _at(item: Item, day: str, today: str) -> Due:
    planned = max(_in_month(day, item.row.month), today)
    if day <= today:
        planned = today
    ahead = day_number(day) - day_number(today)
    status: Status = "due" if ahead <= 0 else "soon" if ahead <= SOON else "later"
    return Due(day, day, day, planned, status)


def _in_month(day: str, month: int) -> str:
    """The first of that month which is nearest to a day."""
    year = year_of(day)
    days = [f"{each:04d}-{month:02d}-01" for each in (year - 1, year, year + 1)]
    return min(days, key=lambda each: abs(day_number(each) - day_number(day)))


def times(item: Item, due: Due, last_year: int) -> Iterator[str]:
    """Every day on which it is planned, the first one and then life by life, to the end of a year."""
    if due.planned is None:
        return
    _, likely, _ = item.life.years
    day, start, index = due.planned, due.planned, 0
    if likely <= OFTEN:
        # What comes year by year goes back to its month at the first chance.
        start = _next_in_month(years_later(day, CHANCE * likely), item.row.month)
        index = -1
    while year_of(day) <= last_year:
        yield day
        index += 1
        after = years_later(start, index * max(likely, 1.0))
        following = _in_month(after, item.row.month)
        # A day must come after the one before, whatever its month.
        day = following if following > day else date_of(day_number(day) + 366)


def _next_in_month(day: str, month: int) -> str:
    """The first of that month, on a day or after it."""
    this_year = f"{year_of(day):04d}-{month:02d}-01"
    return this_year if this_year >= day else f"{year_of(day) + 1:04d}-{month:02d}-01"
