"""U-factors, heat and warmth in the words of sentences."""

from __future__ import annotations

from sashwright import units
from sashwright.chapters.heat.flows import Convention

BTU = 5.678263
"""One Btu/(h ft2 °F) [W/(m2 K)]."""
BTU_HOUR = 0.5275279
"""One Btu/(h °F) [W/K]."""

CONVENTIONS: dict[units.System, Convention] = {"us": "na", "metric": "en"}
"""Whose U is shown first to whom."""


def u_words(u: float, system: units.System) -> str:
    """``U-factor of 0.47``; with its unit where that is not understood."""
    if system == "us":
        return f"U-factor of {u_number(u, system)}"
    return f"U of {u_number(u, system)} W/(m2 K)"


def u_change(before: float, after: float, system: units.System) -> str:
    """``U-factor from 0.87 to 0.43``."""
    first, then = u_number(before, system), u_number(after, system)
    if system == "us":
        return f"U-factor from {first} to {then}"
    return f"U from {first} to {then} W/(m2 K)"


def u_number(u: float, system: units.System) -> str:
    """In Btu/(h ft2 °F) or W/(m2 K)."""
    return f"{u / BTU:.2f}" if system == "us" else f"{u:.2f}"


def loss_words(loss: float, system: units.System) -> str:
    """Heat for each degree of difference."""
    if system == "us":
        return f"{loss / BTU_HOUR:.1f} Btu/h per °F"
    return f"{loss:.1f} W/K"


def degrees(celsius: float, system: units.System) -> str:
    return units.format_temperature(celsius, system)


def kelvins(difference: float, system: units.System) -> str:
    """A difference of temperature."""
    return f"{difference * 1.8:.0f} °F" if system == "us" else f"{difference:.1f} K"


def speed(metres_a_second: float, system: units.System) -> str:
    if system == "us":
        return f"{metres_a_second / 0.00508:.0f} ft/min"
    return f"{metres_a_second:.2f} m/s"


def share(part: float) -> str:
    return f"{100 * part:.0f} %"
