"""How pages write days, clearances, flows and shares of the chapters."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright import units
from sashwright.chapters.fit.calendar import date_words
from sashwright.chapters.words import Words as Fine

NONE = "–"
FOOT = 0.3048
MILE = 1609.344
HOUR = 3600.0
SMALL = 1e-9


def short_date(day: int) -> str:
    """``8 Sep`` for day 251, counted from 1."""
    number, month = date_words(day - 1).split()
    return f"{number} {month[:3]}"


def long_date(day: int) -> str:
    """``8 September`` for day 251, counted from 1."""
    return date_words(day - 1)


def days(usual: int, at_worst: int) -> str:
    """On how many days something happens, and on how many at the worst side of the band."""
    if not at_worst:
        return NONE
    return str(usual) if usual == at_worst else f"{usual} to {at_worst}"


def percent(fraction: float, decimals: int = 0) -> str:
    return f"{100 * fraction:.{decimals}f} %"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def minutes(count: float) -> str:
    """``25 min``, ``1 h 15 min``."""
    hours, rest = divmod(math.floor(count + 0.5), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


@dataclass(frozen=True, slots=True)
class Say:
    """Writes quantities in one system of units; lengths are given in millimetres, as answers are."""

    system: units.System

    @property
    def fine(self) -> Fine:
        return Fine(self.system)

    def gap(self, mm: float | None) -> str:
        """A clearance, to 1/64 in or 0.1 mm; wood that wants more room than there is leaves none."""
        return NONE if mm is None else self.fine.fine(max(mm, 0.0) / 1000)

    def amount(self, mm: float) -> str:
        """What is to be taken off; nothing where it is none."""
        return self.fine.fine(mm / 1000) if mm > SMALL else NONE

    def shift(self, mm: float) -> str:
        """Where to set a stop, from where it is."""
        if self.gap(abs(mm)) == self.gap(0.0):
            return "where it is"
        away = "away from" if mm > 0 else "toward"
        return f"{self.gap(abs(mm))} {away} the sash"

    def length(self, mm: float) -> str:
        return self.fine.length(mm / 1000)

    def run(self, mm: float) -> str:
        """A length of some feet or metres: of a rack, of all joints."""
        if self.system == "us":
            return units.format_length(mm / 1000, "us", nearest=2, feet=True)
        return f"{mm / 1000:.2f} m"

    def mass(self, kg: float) -> str:
        return self.fine.mass(kg)

    def flow(self, cubic_metres_a_second: float) -> str:
        return self.fine.flow(cubic_metres_a_second)

    def area(self, cm2: float) -> str:
        """A leakage area: to a hundredth of a square inch or a tenth of a square centimetre."""
        return f"{cm2 / 6.4516:.2f} in²" if self.system == "us" else f"{cm2:.1f} cm²"

    def far(self, metres: float) -> str:
        if self.system == "us":
            return f"{metres / MILE:.0f} miles"
        return f"{metres / 1000:.0f} km"

    def high(self, metres: float) -> str:
        return f"{metres / FOOT:,.0f} ft" if self.system == "us" else f"{metres:,.0f} m"

    def warmth(self, celsius: float) -> str:
        return units.format_temperature(celsius, self.system)

    def wind(self, metres_a_second: float) -> str:
        if self.system == "us":
            return f"{metres_a_second / MILE * HOUR:.1f} mph"
        return f"{metres_a_second:.1f} m/s"
