"""What plots share: scales, round steps, the months of a year, words broken to a width."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.drawing.model import Item, Line, Point, Text
from sashwright.drawing.paper import text_width
from sashwright.physics.hourly_year import DAYS, DAYS_OF_MONTH, MONTH_NAMES

LETTERING = 2.7
"""Height of a plot's figures [mm]: at the width of a phone they are still ten dots high."""


@dataclass(frozen=True, slots=True)
class Field:
    """A rectangle on the sheet [m] and the values along its sides."""

    left: float
    bottom: float
    width: float
    height: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def top(self) -> float:
        return self.bottom + self.height

    def x(self, value: float) -> float:
        low, high = self.x_range
        return self.left + (value - low) / (high - low) * self.width

    def y(self, value: float) -> float:
        low, high = self.y_range
        return self.bottom + (value - low) / (high - low) * self.height

    def at(self, x: float, y: float) -> Point:
        return self.x(x), self.y(y)


def round_step(least: float) -> float:
    """The next of 1, 2, 5, 10, 20 … and their tenths."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= least * 0.999)


def steps_between(low: float, high: float, step: float) -> Iterator[float]:
    """Multiples of ``step`` from ``low`` to ``high``."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return (index * step for index in range(first, last + 1))


def number(value: float, step: float) -> str:
    """A figure of an axis in such steps: no more decimals than they need, a true minus."""
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value + 0.0:,.{digits}f}".replace("-", "\N{MINUS SIGN}")


def month_starts() -> list[int]:
    """The day of the year, from 0, on which each month begins."""
    return [sum(DAYS_OF_MONTH[:month]) for month in range(12)]


def date_words(day: int) -> str:
    """``15 August`` for day 227, counted from 1."""
    month = next(m for m in reversed(range(12)) if month_starts()[m] < day)
    return f"{day - month_starts()[month]} {MONTH_NAMES[month]}"


def short_date(day: int) -> str:
    """``15 Aug`` for day 227, counted from 1."""
    number, _, month = date_words(day).partition(" ")
    return f"{number} {month[:3]}"


def months_axis(field: Field, *, every: int = 1, letters: int = 1) -> Iterator[Item]:
    """Ticks between the months under a field of days from 0, and the months' first letters."""
    yield Line((field.left, field.bottom), (field.right, field.bottom), "axis")
    for month, start in enumerate([*month_starts(), DAYS]):
        x = field.x(start)
        yield Line((x, field.bottom), (x, field.bottom - 0.0010), "axis")
        if month < 12 and month % every == 0:
            middle = field.x(start + DAYS_OF_MONTH[month] / 2)
            name = MONTH_NAMES[month][:letters]
            yield Text((middle, field.bottom), name, "figure", LETTERING, shift=(0.0, -3.9))


def wrapped(text: str, size: float, width: float) -> list[str]:
    """A text in lines no longer than ``width`` [mm], as far as its words allow."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def thinned(count: int, every: int, keep: Sequence[int] = ()) -> list[int]:
    """Indices of a curve: each so many, the last one, and those to keep."""
    return sorted({*range(0, count, every), count - 1, *(k for k in keep if 0 <= k < count)})
