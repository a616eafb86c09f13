"""Dates as people write them and as counted days, so that chapters reckon with days without a clock."""

from __future__ import annotations

import math

import numpy as np

from sashwright.physics.hourly_year import MONTH_NAMES

YEAR = 365.2425
"""Days in a mean year of the calendar."""


def day_number(date: str) -> int:
    """Days from 1970-01-01 to a date such as ``2026-08-15``.

    Raises ``ValueError`` for what is no date.

    Examples
    --------
    >>> day_number("1970-01-31")
    30
    """
    try:
        return int(np.datetime64(date, "D").astype(np.int64))
    except ValueError:
        raise ValueError(f"found {date!r}, expected a date such as 2026-08-15") from None


def date_of(day: int) -> str:
    """The date that so many days after 1970-01-01 is.

    Examples
    --------
    >>> date_of(day_number("2026-02-28") + 1)
    '2026-03-01'
    """
    return str(np.datetime64(day, "D"))


def later(date: str, days: float) -> str:
    """The date so many days later; a begun day counts whole."""
    return date_of(day_number(date) + math.ceil(days - 1e-9))


def years_later(date: str, years: float) -> str:
    """The date so many years later, to the day."""
    return date_of(day_number(date) + round(years * YEAR))


def year_of(date: str) -> int:
    return int(date[:4])


def weekday(day: int) -> int:
    """0 for a Monday to 6 for a Sunday."""
    return (day + 3) % 7


def said(date: str) -> str:
    """``15 August 2026``."""
    return f"{int(date[8:])} {MONTH_NAMES[int(date[5:7]) - 1]} {int(date[:4])}"


def days_said(days: int) -> str:
    """``1 day``, ``5 days``."""
    return f"{days} day{'' if days == 1 else 's'}"
