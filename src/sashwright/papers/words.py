"""How papers write quantities: one place that decides the rounding of each kind, in both systems."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass

from sashwright import units
from sashwright.chapters.words import Words as Sentences

NONE = "–"
"""Stands in a table where there is nothing to say."""

NO_WINDOWS = "No windows are recorded for this house yet."

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

ORDINARY_CUT = 60
"""Letters of a remark that a table row can hold before it crowds out its neighbours."""


@dataclass(frozen=True, slots=True)
class Words:
    """Writes quantities in one system of units. Lengths are given in millimetres, as answers are."""

    system: units.System

    @property
    def length_unit(self) -> str:
        """The unit of bare sizes, for a column's heading."""
        return "inches" if self.system == "us" else "mm"

    def size(self, mm: float) -> str:
        """A finished size of wood, bare: to 1/32 inch or half a millimetre."""
        return self._length(mm, 32, 0.5, marks=False)

    def glass(self, mm: float) -> str:
        """A size of glass, bare: to 1/16 inch or a millimetre, as glass is cut."""
        return self._length(mm, 16, 1.0, marks=False)

    def opening(self, mm: float) -> str:
        """A size of an opening, bare: to 1/16 inch or a millimetre, as it is measured."""
        return self._length(mm, 16, 1.0, marks=False)

    def weight_length(self, mm: float) -> str:
        """Length of a weight: to 1/8 inch or a millimetre, as the findings say it."""
        return self._length(mm, 8, 1.0)

    def section(self, shape: str, mm: float) -> str:
        """Section of a weight, such as ``round 1 1/2"`` or ``square 40 mm``."""
        return f"{shape} {self._length(mm, 16, 1.0)}"

    def cord(self, mm: float) -> str:
        """A length of cord: feet and half inches, or steps of 5 mm."""
        if self.system == "metric":
            return units.format_length(mm / 1000, "metric", nearest=5)
        return units.format_length(mm / 1000, "us", nearest=2, feet=True)

    def run(self, mm: float) -> str:
        """A length to buy by the foot or by a tenth of a metre, rounded up."""
        if self.system == "metric":
            return f"{_up(mm / 100) / 10:.1f} m"
        return f"{_up(mm / 304.8)} ft"

    def mass(self, kg: float) -> str:
        """A mass: to the ounce, or to 10 g."""
        return units.format_mass(kg, self.system)

    def force(self, newtons: float) -> str:
        """A force of the hand: to a tenth of a pound or newton."""
        return units.format_force(newtons, self.system)

    def gap(self, mm: float) -> str:
        """A clearance: to 1/64 inch or a tenth of a millimetre."""
        return self._length(mm, 64, 0.1)

    def gap_at_least(self, mm: float) -> str:
        """A clearance that must be reached, or wood that must go: rounded up."""
        step = 25.4 / 64 if self.system == "us" else 0.1
        return self.gap(_up(mm / step) * step)

    def flow(self, cubic_metres_a_second: float) -> str:
        """A flow of air, as the findings say it."""
        return Sentences(self.system).flow(cubic_metres_a_second)

    def flow_by_area(self, metres_a_second: float) -> str:
        """A flow of air for each area of opening [m3/(s m2)], as new windows are rated."""
        if self.system == "us":
            return f"{metres_a_second / 0.00508:.2f} cfm/ft²"
        return f"{metres_a_second * 3600:.1f} m³/(h m²)"

    def hour(self, hour: int) -> str:
        """An hour of the day by the clock: ``9 pm``, ``noon``, or ``21:00``."""
        hour %= 24
        if self.system == "metric":
            return f"{hour}:00"
        if hour in (0, 12):
            return "noon" if hour else "midnight"
        return f"{hour % 12} {'pm' if hour > 12 else 'am'}"

    def _length(self, mm: float, us: int, metric: float, *, marks: bool = True) -> str:
        nearest = us if self.system == "us" else metric
        return units.format_length(mm / 1000, self.system, nearest=nearest, marks=marks)


def _up(value: float) -> int:
    """The next whole number, but not for the last bits of a sum."""
    return math.ceil(value - 1e-9)


def date(day: datetime.date) -> str:
    """A date that reads the same on both sides of the ocean: ``3 March 2026``."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def day_of(on: str | None) -> datetime.date | None:
    """The day of ``2026-08-15``; None for what is no day, such as a 31st of February."""
    try:
        return datetime.date.fromisoformat(on) if on else None
    except ValueError:
        return None


def dated(on: str) -> str:
    """The same in words; as it was written where it is no day."""
    day = day_of(on)
    return on if day is None else date(day)


def count(number: int, one: str, many: str | None = None) -> str:
    """``1 window``, ``24 windows``; of words that take no s, give both."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def shortened(text: str, letters: int = ORDINARY_CUT) -> str:
    """One line of text, cut at a word with an ellipsis where it runs on."""
    line = " ".join(text.split())
    if len(line) <= letters:
        return line
    cut = line[: letters - 1]
    at = cut.rfind(" ")
    # A word longer than half the line is cut itself.
    return f"{cut[:at] if at > letters // 2 else cut}…"


def listed(items: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def capital(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]
