"""Grades of the standards: test pressures of a performance grade, and European classes.

Nothing here certifies anything: a grade is earned in a laboratory, by one specimen, on one day.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

PerformanceClass = Literal["R", "LC", "CW", "AW"]
Country = Literal["US", "Canada"]

STEP = 5
HIGHEST = 100
"""Grades go in steps of 5 psf; above the gateway they are chosen freely, here up to 100 (from memory)."""
PER_GRADE = 48.0
"""Design pressure for each unit of the grade [Pa]: the standard's own rounding of 1 psf."""
GATEWAY: Mapping[PerformanceClass, int] = {"R": 15, "LC": 25, "CW": 30, "AW": 40}
"""Least grade of each class."""
STRUCTURAL = 1.5
"""Structural test over design pressure [-]."""
WATER_SHARE: Mapping[PerformanceClass, float] = {"R": 0.15, "LC": 0.15, "CW": 0.15, "AW": 0.20}
"""Water test over design pressure [-]."""
LEAST_WATER = 140.0
"""Least water test [Pa]: 2.90 psf."""
MOST_WATER: Mapping[Country, float] = {"US": 580.0, "Canada": 720.0}
"""Beyond which no water test goes [Pa]: 12 and 15 psf."""
GRADE_SOURCE = (
    "AAMA/WDMA/CSA 101/I.S.2/A440 (NAFS): structural test 1.5 x design pressure, water test 15 % of it "
    "(class AW 20 %), not below 140 Pa"
)


@dataclass(frozen=True, slots=True)
class GradePressures:
    """What a specimen of a performance grade is tested at [Pa]."""

    grade: int
    design: float
    structural: float
    water: float


def pressures_of(
    grade: int, performance_class: PerformanceClass = "R", country: Country = "US"
) -> GradePressures:
    """Test pressures of a performance grade.

    Raises
    ------
    ValueError
        For a grade below the class's gateway, or between steps.

    Examples
    --------
    >>> pressures_of(30)
    GradePressures(grade=30, design=1440.0, structural=2160.0, water=220.0)
    """
    gateway = GATEWAY[performance_class]
    if grade < gateway or grade % STEP:
        raise ValueError(
            f"found a performance grade of {grade}, expected {gateway} or more in steps of {STEP} "
            f"for class {performance_class}"
        )
    design = PER_GRADE * grade
    # Whole tens of pascals, upward; the sum must not tip over one by its last bit.
    share = math.ceil(WATER_SHARE[performance_class] * design / 10 - 1e-9) * 10.0
    water = min(max(share, LEAST_WATER), MOST_WATER[country])
    return GradePressures(grade, design, STRUCTURAL * design, water)


def wind_grade(pressure: float, performance_class: PerformanceClass = "R") -> int | None:
    """Highest performance grade whose design pressure is borne; None below the gateway."""
    grade = min(int((pressure + 1e-6) / PER_GRADE) // STEP * STEP, HIGHEST)
    return grade if grade >= GATEWAY[performance_class] else None


def water_grade(
    held: float, performance_class: PerformanceClass = "R", country: Country = "US"
) -> int | None:
    """Highest performance grade whose water test is held; None where not even the least one is."""
    grades = range(GATEWAY[performance_class], HIGHEST + STEP, STEP)
    met = [g for g in grades if pressures_of(g, performance_class, country).water <= held + 1e-6]
    return max(met, default=None)


def needed_grade(pressure: float, performance_class: PerformanceClass = "R") -> int:
    """Least performance grade that covers a design pressure.

    Examples
    --------
    >>> needed_grade(1450.0), needed_grade(100.0)
    (35, 15)
    """
    steps = math.ceil(pressure / PER_GRADE / STEP - 1e-9)
    return max(steps * STEP, GATEWAY[performance_class])


# --- Europe ---------------------------------------------------------------------------

WIND_STEP = 400.0
WIND_CLASSES = 5
"""P1 of EN 12210 goes in steps of 400 Pa up to class 5; P2 = P1 / 2, P3 = 1.5 P1."""
DEFLECTION_CLASSES: Mapping[str, float] = {"C": 300.0, "B": 200.0, "A": 150.0}
"""Span over relative frontal deflection, the stiffest first; EN 12210."""
WATER_CLASSES: tuple[tuple[int, float], ...] = (
    (1, 0.0),
    (2, 50.0),
    (3, 100.0),
    (4, 150.0),
    (5, 200.0),
    (6, 250.0),
    (7, 300.0),
    (8, 450.0),
    (9, 600.0),
)
"""Classes of EN 12208 and their pressures [Pa]."""
SHELTERED_MOST = 7
"""Method B, for windows in part sheltered, ends at class 7."""
CLASS_SOURCE = "EN 12210:2016 (wind, deflection A l/150, B l/200, C l/300), EN 12208:1999 (water)"


def wind_class(pressure: float, sag: float) -> str | None:
    """Class of EN 12210, such as ``C3``.

    Parameters
    ----------
    pressure : float
        That the window bears [Pa]; it must be P1 of the class at least.
    sag : float
        Of the member that bends most, over its span, for each pascal [1/Pa].

    Notes
    -----
    None where class 1 is not reached, or where even at 400 Pa a member bends more than l/150.
    """
    best = min(int((pressure + 1e-6) // WIND_STEP), WIND_CLASSES)
    for number in range(best, 0, -1):
        bent = sag * WIND_STEP * number
        for letter, ratio in DEFLECTION_CLASSES.items():
            if bent <= 1 / ratio * (1 + 1e-9):
                return f"{letter}{number}"
    return None


def water_class(held: float, *, sheltered: bool = False) -> str:
    """Class of EN 12208, such as ``4A``, or ``4B`` for a window in part sheltered."""
    number = max(each for each, pressure in WATER_CLASSES if pressure <= held + 1e-6)
    return f"{min(number, SHELTERED_MOST)}B" if sheltered else f"{number}A"
