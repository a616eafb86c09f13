"""Limits that new windows are held to, as a measure: none of them applies to a restored window."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

RATED_PRESSURE = 75.0
"""Of the American air-leakage test [Pa]: 1.57 psf, the head of a wind of 25 mph."""

RATED_LIMIT = 0.0015
"""Most leakage of an operable window, classes R, LC and CW [m3/(s m2)]: 0.30 cfm/ft2 at 75 Pa."""
RATED_SOURCE = (
    "AAMA/WDMA/CSA 101/I.S.2/A440 (NAFS), classes R, LC and CW, also IECC R402.4.3: 1.5 L/(s m2), "
    "0.30 cfm/ft2, at 75 Pa; site-built windows are exempt"
)

JOINT_LIMIT = 0.34 * 4.719474432e-4 / 0.3048
"""Of an older American specification for wood windows [m3/(s m)]: 0.34 cfm a foot of joint at 75 Pa."""
JOINT_SOURCE = "UFGS 08550 wood windows, Grade 40: 0.34 cfm per foot of sash joint at 75 Pa"

CLASS_SOURCE = (
    "EN 12207:2016, classes by overall area and by length of opening joint at 100 Pa, growing with "
    "pressure to the power 2/3; how the two are joined is from memory"
)
_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class AirClass:
    """A class of EN 12207: flows at 100 Pa [m3/(s m2), m3/(s m)], and to what pressure they hold [Pa]."""

    number: int
    most_pressure: float
    by_area: float
    by_joint: float


CLASSES: tuple[AirClass, ...] = (
    AirClass(1, 150.0, 50.0 / _HOUR, 12.50 / _HOUR),
    AirClass(2, 300.0, 27.0 / _HOUR, 6.75 / _HOUR),
    AirClass(3, 600.0, 9.0 / _HOUR, 2.25 / _HOUR),
    AirClass(4, 600.0, 3.0 / _HOUR, 0.75 / _HOUR),
)
STEPS: Array = np.array([50.0, 100.0, 150.0, 200.0, 250.0, 300.0, 450.0, 600.0])
"""Pressures of the European test, EN 1026 [Pa]."""


def air_class(flows: Array, area: float, joint: float) -> Mapping[str, int | None]:
    """Classes of a window by area, by joint and overall; None where it reaches none.

    Parameters
    ----------
    flows : array
        At the pressures ``STEPS``, along the last axis of one window [m3/s].
    area, joint : float
        Overall area [m2] and length of the opening joints [m].

    Notes
    -----
    Overall: the same class on both counts, or the better of neighbours, or the one between classes two
    apart; further apart, or without a class on either count, none.
    """
    by_area = _best(flows / area, [each.by_area for each in CLASSES])
    by_joint = _best(flows / joint, [each.by_joint for each in CLASSES])
    return {"by_area": by_area, "by_joint": by_joint, "overall": _overall(by_area, by_joint)}


def _best(flows: Array, limits: Sequence[float]) -> int | None:
    best = None
    for each, limit in zip(CLASSES, limits, strict=True):
        tested = each.most_pressure + 1e-9 >= STEPS
        most = limit * (STEPS[tested] / 100) ** (2 / 3)
        if np.all(flows[tested] <= most * (1 + 1e-12)):
            best = each.number
    return best


def _overall(by_area: int | None, by_joint: int | None) -> int | None:
    if by_area is None or by_joint is None:
        return None
    apart = abs(by_area - by_joint)
    if apart <= 1:
        return max(by_area, by_joint)
    return (by_area + by_joint) // 2 if apart == 2 else None
