"""Numbers in sentences: one place where findings turn SI into what the reader is used to."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright import units


@dataclass(frozen=True, slots=True)
class Words:
    """Formats quantities in one unit system, rounded as the shop would say them."""

    system: units.System = "us"

    def length(self, metres: float) -> str:
        return units.format_length(metres, self.system, 16 if self.system == "us" else None)

    def mass(self, kilograms: float) -> str:
        return units.format_mass(kilograms, self.system)

    def force(self, newtons: float) -> str:
        return units.format_force(newtons, self.system)
