"""When a clearance binds and when it rattles, and what to do about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.window.clearances import Clearance, Kind
from sashwright.window.spec import Gaps

Array = NDArray[np.float64]

PAINT_FILM = 0.0001
"""A gap no wider than this is taken for closed [m]: the next coat of paint, 0.003 to 0.005 in a face;
common practice."""
RATTLE_BEYOND = 0.0254 / 16
"""What a gap may have above the shop's own before it rattles or shows [m]; common practice."""

SLIDING: frozenset[Kind] = frozenset(("sides", "faces", "notch"))
"""Where the sash slides past wood, so that a gap must be left."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Of one clearance [m]: closed at ``binds``, ``least`` wanted, too wide above ``rattles``."""

    binds: float
    least: float
    rattles: float | None


def limits_of(place: Clearance, gaps: Gaps) -> Limits:
    """What the shop wants of a clearance."""
    aims: Mapping[Kind, float] = {
        "sides": gaps.sides,
        "faces": gaps.faces,
        "rails": gaps.rails,
        "meeting": gaps.meeting,
    }
    aim = aims.get(place.kind)
    rattles = None if aim is None else aim + RATTLE_BEYOND
    if place.kind in SLIDING:
        return Limits(PAINT_FILM, max(gaps.least, PAINT_FILM), rattles)
    if place.kind == "strip":
        return Limits(0.0, 0.0, rattles)
    return Limits(PAINT_FILM, PAINT_FILM, rattles)


@dataclass(frozen=True, slots=True, eq=False)
class PlaceYear:
    """One clearance through the year: usual, and the band from low to high [m], shape (365,) each."""

    place: Clearance
    limits: Limits
    usual: Array
    low: Array
    high: Array
    tightest: int
    """Day of the least clearance, from 0."""
    widest: int
    """Day of the greatest clearance, from 0."""
    lowest: float
    """The least of the band [m]."""
    highest: float
    """The greatest of the band [m]."""
    binding: tuple[int, int]
    """Days on which it is closed: as usual, and at the tight side of the band."""
    rattling: tuple[int, int]
    """Days on which it is too wide: as usual, and at the wide side of the band."""
    leave: float
    """What to leave in the shop today, so that the dampest day still has the least wanted [m]."""

    @property
    def least(self) -> float:
        """As usual, on the tightest day [m]."""
        return float(self.usual[self.tightest])

    @property
    def greatest(self) -> float:
        """As usual, on the widest day [m]."""
        return float(self.usual[self.widest])

    @property
    def relief(self) -> float:
        """What is missing from the least wanted on the dampest day, at the tight side of the band [m]."""
        return max(self.limits.least - self.lowest, 0.0)


def judged(
    places: Sequence[Clearance],
    gaps: Gaps,
    bands: tuple[Array, Array, Array],
    closing: Array,
) -> list[PlaceYear]:
    """Each clearance with its days, from its usual, low and high course and how far it closes [m].

    The courses are of shape (places, 365); ``closing``, from the shop to the dampest day, of shape
    (places,).
    """
    usual, low, high = bands
    limits = [limits_of(place, gaps) for place in places]
    binds = np.array([each.binds for each in limits])[:, None]
    most = np.array([np.inf if each.rattles is None else each.rattles for each in limits])[:, None]
    columns = (
        usual,
        low,
        high,
        usual.argmin(axis=1).tolist(),
        usual.argmax(axis=1).tolist(),
        low.min(axis=1).tolist(),
        high.max(axis=1).tolist(),
        _pairs(usual <= binds, low <= binds),
        _pairs(usual > most, high > most),
        [
            each.least + max(float(closes), 0.0)
            for each, closes in zip(limits, closing, strict=True)
        ],
    )
    return [PlaceYear(*row) for row in zip(places, limits, *columns, strict=True)]


def _pairs(usual: NDArray[np.bool_], worst: NDArray[np.bool_]) -> list[tuple[int, int]]:
    return list(zip(usual.sum(axis=1).tolist(), worst.sum(axis=1).tolist(), strict=True))


@dataclass(frozen=True, slots=True)
class Stop:
    """Where to set the inside stop [m]: shifts from where it is, away from the sash above zero."""

    slot: float
    dry_day: int
    wet_day: int
    dry_shift: float
    wet_shift: float
    single_shift: float | None
    """One setting that does for the whole year, where there is one."""

    @property
    def reach(self) -> float:
        """Between the two settings."""
        return abs(self.wet_shift - self.dry_shift)

    @property
    def enough(self) -> bool:
        """Whether the slot reaches both settings."""
        return self.reach <= self.slot


def stop_of(play: PlaceYear, gaps: Gaps, slot: float) -> Stop:
    """Settings of the inside stop for the season of least play and for that of most.

    Each setting gives the play aimed at, on the day that calls for it most. One setting does where the
    band of a whole year, set in the middle of what is allowed, neither binds nor rattles.
    """
    least, most = play.limits.least, gaps.faces + RATTLE_BEYOND
    room = (most - least) - (play.highest - play.lowest)
    single = least + room / 2 - play.lowest if room >= 0 else None
    return Stop(
        slot,
        play.widest,
        play.tightest,
        gaps.faces - play.greatest,
        gaps.faces - play.least,
        single,
    )
