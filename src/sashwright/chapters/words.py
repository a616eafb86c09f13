"""Numbers in sentences: one place where findings turn SI into what the reader is used to."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright import units
from sashwright.units import INCH

HAIR = 1e-6
"""Share of a step that does not count as more or less: the last bit of a sum."""


_PLURAL = {"foot": "feet", "square foot": "square feet", "board foot": "board feet", "kg": "kg"}


def counted(quantity: float, unit: str, digits: int = 1) -> str:
    """An amount in the unit of its table: ``4.2 square feet``, ``2 pieces``, ``1 piece``."""
    number = f"{quantity:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{quantity:.0f}"
    return f"{number} {unit if number == '1' else _PLURAL.get(unit, f'{unit}s')}"


@dataclass(frozen=True, slots=True)
class Words:
    """Formats quantities in one unit system, rounded as the shop would say them."""

    system: units.System = "us"

    def length(self, metres: float) -> str:
        return units.format_length(metres, self.system, 16 if self.system == "us" else None)

    def rough(self, metres: float) -> str:
        """A length of a casting or of room to hang in: to 1/8 in or 1 mm."""
        return units.format_length(metres, self.system, 8 if self.system == "us" else None)

    def fine(self, metres: float) -> str:
        """A small length: to 1/64 in or 0.1 mm."""
        return units.format_length(metres, self.system, 64 if self.system == "us" else 0.1)

    def at_most(self, metres: float) -> str:
        """A rough length that must not be exceeded, rounded down."""
        return self.rough(math.floor(metres / self._step + HAIR) * self._step)

    def at_least(self, metres: float) -> str:
        """A rough length that must be reached, rounded up."""
        return self.rough(math.ceil(metres / self._step - HAIR) * self._step)

    @property
    def _step(self) -> float:
        return INCH / 8 if self.system == "us" else 0.001

    def mass(self, kilograms: float) -> str:
        return units.format_mass(kilograms, self.system)

    def flow(self, cubic_metres_a_second: float) -> str:
        """A flow of air, to three figures or so."""
        per_unit = 4.719474432e-4 if self.system == "us" else 1 / 3600
        small = cubic_metres_a_second / per_unit < 9.95
        return units.format_flow(cubic_metres_a_second, self.system, 1 if small else 0)

    def force(self, newtons: float) -> str:
        return units.format_force(newtons, self.system)

    def pressure(self, pascals: float) -> str:
        """A wind pressure: to 0.1 psf, or 10 Pa from 100 Pa on."""
        if self.system == "us":
            return units.format_pressure(pascals, "us", 1)
        return units.format_pressure(round(pascals, -1 if abs(pascals) >= 100 else 0), "metric", 0)

    def speed(self, metres_a_second: float) -> str:
        return units.format_speed(metres_a_second, self.system)

    def height(self, metres: float) -> str:
        """Of a house: to a foot or 0.1 m."""
        if self.system == "us":
            return f"{metres / (12 * INCH):.0f} ft"
        return f"{metres:.1f} m"
