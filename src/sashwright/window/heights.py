"""How high a house is, where nobody measured it."""

from __future__ import annotations

from sashwright.window.spec import House

STOREY = 2.7
FOUNDATION_RISE = 0.6
"""Height of a storey, and of the ground floor over the ground, for eaves nobody measured [m]; common
practice."""


def storeys_of(house: House) -> int:
    """As the house says, or else the highest storey that has a window."""
    highest = max((window.storey for window in house.windows), default=1)
    return house.air.storeys or max(highest, 1)


def eaves_of(house: House) -> float:
    """Height of the eaves above the ground, measured or by storeys [m]."""
    return house.air.eaves or FOUNDATION_RISE + STOREY * storeys_of(house)
