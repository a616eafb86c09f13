"""The year of one window: moisture, the meter's reading, every clearance, and what to leave today."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.fit.course import USUAL, Alike, Course, Followed, Standing, followed
from sashwright.chapters.fit.judge import PlaceYear, Stop, judged, stop_of
from sashwright.chapters.fit.swell import GapYear, Member
from sashwright.window.boards import boards_of, sash_of
from sashwright.window.clearances import clearances
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed
from sashwright.window.spec import SashMeasured

Array = NDArray[np.float64]
SIDES: tuple[Which, Which] = ("upper", "lower")

DRIEST = 0.02
"""Moisture content below which no wood in a house falls [-]; a reading must not shift a curve lower."""

Source = Literal["meter", "estimated"]


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """What the meter said of a sash: moisture content [-], on which day.

    ``shifts`` is how far it is above the estimate of each level of the coating [-], for wood of the
    ``ratio`` that was read (``moisture_ratio`` of the wood table).
    """

    moisture: float
    day: int
    shifts: Array
    ratio: float

    @property
    def shift(self) -> float:
        """Above the usual estimate [-]."""
        return float(self.shifts[USUAL])


@dataclass(frozen=True, slots=True)
class SashYear:
    """The stile of a sash through the year, by level and day; the reading that it was set by, if any."""

    which: Which
    course: Course
    reading: Reading | None
    today: float
    """Moisture content today; where today is not known, the mean of the year [-]."""

    @property
    def usual(self) -> Array:
        usual: Array = self.course[USUAL]
        return usual

    @property
    def source(self) -> Source:
        return "estimated" if self.reading is None else "meter"


@dataclass(frozen=True, slots=True)
class WindowYear:
    """All that the chapter finds out about one window."""

    placed: Placed
    members: Mapping[str, Member]
    sash: Mapping[Which, SashYear]
    places: Sequence[PlaceYear]
    stop: Stop | None
    today: int | None


@dataclass(frozen=True, slots=True)
class Request:
    """A window to follow, with where it stands and, for its sash, another wood to compare."""

    placed: Placed
    standing: Standing
    other: str

    def boards(self) -> Mapping[str, Followed]:
        return self._followed(None)

    def boards_in_other_wood(self) -> Mapping[str, Followed]:
        """The same, its sash of the other wood, settled in the same air as the present one was."""
        return self._followed(self.other)

    def _followed(self, other: str | None) -> Mapping[str, Followed]:
        knowledge = self.placed.knowledge
        found = {}
        for board in boards_of(self.placed.layout):
            if other is not None and sash_of(board.name) is not None:
                wood, before = knowledge.find("wood", other), knowledge.find("wood", board.wood)
                settled = board.moisture * wood.moisture_ratio / before.moisture_ratio
                board = replace(board, wood=other, moisture=settled)  # noqa: PLW2901
            found[board.name] = followed(board, self.standing, knowledge)
        return found


def read_meter(
    placed: Placed,
    boards: Mapping[str, Followed],
    courses: Mapping[Alike, Course],
    today: int | None,
) -> Mapping[Which, Reading]:
    """The meter's readings; one without a date counts for today, and for nothing if that is unknown."""
    readings = {}
    for which in SIDES:
        measured: SashMeasured = getattr(placed.window.measured, which)
        day = today if measured.moisture_on is None else day_of_date(measured.moisture_on)
        if measured.moisture is None or day is None:
            continue
        stile = boards[f"{which}.stile"]
        moisture = measured.moisture / 100
        shifts = moisture - courses[stile.alike][:, day]
        readings[which] = Reading(moisture, day, shifts, stile.wood.moisture_ratio)
    return readings


def year_of(
    placed: Placed,
    boards: Mapping[str, Followed],
    courses: Mapping[Alike, Course],
    readings: Mapping[Which, Reading],
    today: int | None,
) -> WindowYear:
    """The year of a window from the moisture of its boards.

    A reading moves the whole curve of its sash, each level of the coating for itself, so that it passes
    through the reading on its day; another wood in the same place as far as it takes up moisture.
    """
    members = {}
    for name, each in boards.items():
        course = courses[each.alike]
        which = sash_of(name)
        reading = None if which is None else readings.get(which)
        if reading is not None:
            shifts = reading.shifts * (each.wood.moisture_ratio / reading.ratio)
            course = np.maximum(course + shifts[:, None], DRIEST)
        members[name] = Member(each, course)
    sash = {
        which: _sash_year(which, members[f"{which}.stile"].course, readings.get(which), today)
        for which in SIDES
    }
    gaps = GapYear(clearances(placed.layout, placed.knowledge), members)
    places = _places(placed, gaps, members, sash, today)
    return WindowYear(placed, members, sash, places, _stop(placed, places), today)


def _sash_year(
    which: Which, course: Course, reading: Reading | None, today: int | None
) -> SashYear:
    now = course[USUAL].mean() if today is None else course[USUAL, today]
    return SashYear(which, course, reading, float(now))


def _places(
    placed: Placed,
    gaps: GapYear,
    members: Mapping[str, Member],
    sash: Mapping[Which, SashYear],
    today: int | None,
) -> list[PlaceYear]:
    shop = _in_the_shop(gaps, members, sash, today)
    # How much each gap closes at most, from the shop to the dampest day, grain and level alike.
    closing = (shop[..., None] - gaps.gaps).max(axis=(1, 2, 3))
    bands = gaps.usual, gaps.low, gaps.high
    return judged(gaps.places, placed.family.gaps, bands, closing)


def _in_the_shop(
    gaps: GapYear,
    members: Mapping[str, Member],
    sash: Mapping[Which, SashYear],
    today: int | None,
) -> Array:
    """Every gap with its sash at the moisture of today, the frame where it stands; (places, 3, 3) [m]."""
    swollen = []
    for name, member in members.items():
        which = sash_of(name)
        if which is not None:
            board, wood = member.followed.board, member.followed.wood
            now = min(sash[which].today, wood.fibre_saturation)
            swollen.append(np.full(3, 100 * (now - board.moisture)))
        elif today is None:
            swollen.append(member.swollen.mean(axis=1))
        else:
            swollen.append(member.swollen[:, today])
    start = np.array([place.gap for place in gaps.places])
    gap: Array = start[:, None, None] - gaps.closed_by(np.stack(swollen))
    return gap


def _stop(placed: Placed, places: Sequence[PlaceYear]) -> Stop | None:
    """Settings of the inside stop, which only the lower sash has."""
    play = next((each for each in places if each.place.place == "lower.faces"), None)
    if play is None:
        return None
    return stop_of(play, placed.family.gaps, placed.family.frame.stop_slot)
