"""The paths that air takes through a shut window, and how much each passes in some state of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge.tables import Leakage, LeakPath
from sashwright.physics.leakage import coefficient_from_area, effective_leakage_area
from sashwright.window.cracks import Cracks

Array = NDArray[np.float64]

PathName = Literal[
    "upper sides", "lower sides", "head", "meeting rail", "sill", "pulleys", "glass", "frame"
]
State = Mapping[PathName, Leakage]
"""The state that each path is in: a row of the leakage table."""


@dataclass(frozen=True, slots=True)
class Place:
    """One path: what the tables call it, and where its air goes."""

    name: PathName
    path: LeakPath
    words: str
    strip: Literal["sides", "head", "meeting_rail", "sill"] | None = None
    """Where its weatherstrip stands in the specification; None where none can be."""
    behind_storm: bool = True
    """Whether its air has to pass the storm sash too."""
    of_the_wall: bool = False
    """Between frame and wall: no part of the window as rating tests see it."""


PLACES: tuple[Place, ...] = (
    Place("upper sides", "sides", "the sides of the upper sash", "sides"),
    Place("lower sides", "sides", "the sides of the lower sash", "sides"),
    Place("head", "head", "the head", "head"),
    Place("meeting rail", "meeting rail", "the meeting rails", "meeting_rail"),
    Place("sill", "sill", "the sill", "sill"),
    # Through the weight pocket, whose own joints lie behind the casing.
    Place("pulleys", "pulley", "the pulley holes", behind_storm=False),
    Place("glass", "glass", "the putty"),
    Place("frame", "frame", "the joint of frame and wall", behind_storm=False, of_the_wall=True),
)
BY_NAME: Mapping[PathName, Place] = {place.name: place for place in PLACES}


def amount(place: Place, cracks: Cracks) -> float:
    """How much there is of a path: metres, pieces, or square metres of window."""
    amounts: Mapping[PathName, float] = {
        "upper sides": cracks.upper_sides,
        "lower sides": cracks.lower_sides,
        "head": cracks.head,
        "meeting rail": cracks.meeting_rail,
        "sill": cracks.sill,
        "pulleys": float(cracks.pulleys),
        "glass": cracks.glass,
        "frame": cracks.area,
    }
    return amounts[place.name]


@dataclass(frozen=True, slots=True)
class Leak:
    """One path in one state: its leakage area [m2], as likely, least and most, and its power law."""

    place: Place
    row: Leakage
    amount: float
    area: float
    area_low: float
    area_high: float

    @property
    def exponent(self) -> float:
        return self.row.exponent

    @property
    def coefficient(self) -> float:
        """Likely flow coefficient [m3/(s Pa^n)]."""
        return float(coefficient_from_area(self.area, self.exponent, self.row.reference_pressure))


def leaks_of(cracks: Cracks, state: State, factor: float = 1.0) -> list[Leak]:
    """Every path of a window in a state; all scaled by ``factor``, as a test found it."""
    return [_leak(place, state[place.name], amount(place, cracks), factor) for place in PLACES]


def _leak(place: Place, row: Leakage, much: float, factor: float) -> Leak:
    low, area, high = (much * each * factor for each in (row.area_low, row.area, row.area_high))
    return Leak(place, row, much, area, low, high)


def coefficients(leaks: Sequence[Leak], which: Literal["likely", "low", "high"]) -> Array:
    """Flow coefficients of paths, shape (paths,)."""
    field = {"likely": "area", "low": "area_low", "high": "area_high"}[which]
    areas = np.array([getattr(leak, field) for leak in leaks])
    pressures = np.array([leak.row.reference_pressure for leak in leaks])
    return np.asarray(coefficient_from_area(areas, exponents(leaks), pressures))


def exponents(leaks: Sequence[Leak]) -> Array:
    """Exponents of paths, shape (paths,)."""
    return np.array([leak.exponent for leak in leaks])


def areas_at(leaks: Sequence[Leak], pressure: float) -> Iterator[float]:
    """Leakage area of each path at a pressure [m2]."""
    for leak in leaks:
        yield float(effective_leakage_area(leak.coefficient, leak.exponent, pressure))
