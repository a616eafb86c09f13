"""When people are in the rooms, and what warmth they and their appliances give."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building.rooms import Zone
from sashwright.physics.hourly_year import HOURS

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Whole64 = NDArray[np.int64]

PERSON = 70.0
"""Sensible heat of a person at rest or light work [W]; ASHRAE Handbook of Fundamentals, from memory."""
DAY_FROM, DAY_TO = 7, 22
"""Hours between which people are in the rooms they use by day; in bedrooms in the others; judgement."""
HOUR_OF_DAY: Whole64 = np.tile(np.arange(24), HOURS // 24)
"""Of each of the 8,760 hours, the one that it begins with."""
NIGHT: Mask = (HOUR_OF_DAY < DAY_FROM) | (HOUR_OF_DAY >= DAY_TO)


def occupied(zones: Sequence[Zone]) -> Array:
    """Whether somebody is in each zone in each hour, (8760, R): 1 or 0."""
    columns = {"day": ~NIGHT, "night": NIGHT, "passing": np.zeros(HOURS, dtype=bool)}
    return np.column_stack([columns[zone.use] for zone in zones]).astype(np.float64)


def gains(zones: Sequence[Zone], there: Array) -> Array:
    """Of people and appliances, (8760, R) [W]: means of a day, people's in the hours they are ``there``."""
    mean = there.mean(axis=0)
    spread = np.where(mean > 0, there / np.where(mean > 0, mean, 1.0), 1.0)
    people = np.array([PERSON * zone.people for zone in zones])
    appliances = np.array([zone.appliances for zone in zones])
    found: Array = spread * people + appliances
    return found
