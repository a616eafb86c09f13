"""Days of the year, counted from 0 inside and from 1 where people see them."""

from __future__ import annotations

from itertools import accumulate

from sashwright.physics.hourly_year import DAYS, DAYS_OF_MONTH, MONTH_NAMES

_STARTS = (0, *accumulate(DAYS_OF_MONTH))


def day_of_date(date: str) -> int:
    """Day of the year, from 0, of a date such as ``2026-08-15``; 29 February counts as the 28th."""
    month, day = int(date[5:7]), int(date[8:10])
    return _STARTS[month - 1] + min(day, DAYS_OF_MONTH[month - 1]) - 1


def day_of_year(number: int) -> int:
    """Day of the year, from 0, of one counted from 1.

    Raises
    ------
    ValueError
        When it is not from 1 to 366.
    """
    if not 1 <= number <= DAYS + 1:
        raise ValueError(f"found day {number} of the year, expected 1 to 366")
    return min(number, DAYS) - 1


def date_words(day: int) -> str:
    """``15 August`` for day 226, counted from 0."""
    month = next(at for at in range(12) if day < _STARTS[at + 1])
    return f"{day - _STARTS[month] + 1} {MONTH_NAMES[month]}"
