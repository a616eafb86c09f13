"""From moisture to clearances: every gap of a window on every day, and how sure that is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.fit.course import USUAL, Course, Followed
from sashwright.window.boards import BANDS, movement
from sashwright.window.clearances import Clearance

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Member:
    """A board with its moisture content by level and day, shape (3, 365) [-]."""

    followed: Followed
    course: Course

    @property
    def swollen(self) -> Course:
        """Points of moisture above what its sizes hold for, as far as it swells [%]."""
        most = self.followed.wood.fibre_saturation
        return 100 * (np.minimum(self.course, most) - self.followed.board.moisture)


class GapYear:
    """All clearances of a window through the year.

    ``gaps`` [m] by place, grain, level and day, shape (places, 3, 3, 365).
    """

    def __init__(self, places: Sequence[Clearance], members: Mapping[str, Member]) -> None:
        self.places = tuple(places)
        self.names = tuple(members)
        self._sizes = _closing(places, members)
        swollen = np.stack([member.swollen for member in members.values()])
        start = np.array([place.gap for place in places])
        self.gaps = start[:, None, None, None] - self.closed_by(swollen)

    def closed_by(self, swollen: Array) -> Array:
        """How far swelling closes each gap [m].

        ``swollen`` of shape (boards, levels, …) [%]; returned by place and grain, shape
        (places, 3, levels, …).
        """
        flat = swollen.reshape(len(self.names), -1)
        closed: Array = self._sizes @ flat
        return closed.reshape(*self._sizes.shape[:2], *swollen.shape[1:])

    @property
    def usual(self) -> Array:
        """Shape (places, 365) [m]."""
        return self.gaps[:, USUAL, USUAL]

    @property
    def low(self) -> Array:
        """The tightest of the band, shape (places, 365) [m]."""
        least: Array = self.gaps.min(axis=(1, 2))
        return least

    @property
    def high(self) -> Array:
        """The widest of the band, shape (places, 365) [m]."""
        most: Array = self.gaps.max(axis=(1, 2))
        return most


def _closing(places: Sequence[Clearance], members: Mapping[str, Member]) -> Array:
    """What 1 % of moisture in each board takes off each gap, by grain; (places, 3, boards) [m]."""
    column = {name: at for at, name in enumerate(members)}
    sizes = np.zeros((len(places), len(BANDS), len(members)))
    for row, place in enumerate(places):
        for mover in place.movers:
            followed = members[mover.board].followed
            per_percent = movement(followed.wood, followed.board.grain, mover.across)
            sizes[row, :, column[mover.board]] += mover.size * np.array(per_percent)
    return sizes
