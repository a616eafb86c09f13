"""Courses over the years from today, each with its name at its end, beside the line of nothing changed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sashwright.drawing.axes import LETTERING, Field, number, round_step, steps_between, wrapped
from sashwright.drawing.model import (
    Arc,
    Callouts,
    Group,
    Item,
    Line,
    Polygon,
    Polyline,
    Text,
    outline,
)

WIDTH, HEIGHT = 0.051, 0.066
"""Of the field [m]: with names at the ends of the lines it is as wide as a phone."""
NAMES = 4.2
"""From the field to the names [mm]."""
SMALL = 2.4
DOT = 0.0008
LETTERED = 0.012
"""What the figure at a dot takes up [m]."""


@dataclass(frozen=True, slots=True)
class Course:
    """What adds up over the years beside the base, from year 0; ``low`` and ``high`` where it has a range."""

    name: str
    values: Sequence[float]
    pen: str = "outline"
    low: Sequence[float] = ()
    high: Sequence[float] = ()
    band: str = "band"
    says: str = ""
    """What a reader of the page hears of it."""


def crossing(values: Sequence[float]) -> float | None:
    """Years until a course that begins above zero first falls to it; None where it never does."""
    if values[0] <= 0:
        return None
    for year, (before, after) in enumerate(pairwise(values)):
        if before > 0 >= after:
            return year + before / (before - after)
    return None


def chart(
    courses: Sequence[Course],
    unit: str,
    zero: str,
    notes: Iterable[str] = (),
    *,
    zero_pen: str = "axis",
) -> Iterator[Item]:
    """The field with its courses.

    Parameters
    ----------
    courses
        All of as many years.
    unit
        What the upright axis counts, above it.
    zero
        Name of the line of zero, drawn with ``zero_pen``.
    notes
        Sentences below.
    """
    field = _field(courses)
    yield Group(tuple(_axes(field, unit)), classes="axes", hidden=True)
    for course in courses:
        if course.low:
            yield _band(field, course)
    yield Line(field.at(0.0, 0.0), field.at(field.x_range[1], 0.0), zero_pen)
    for course in courses:
        yield Group((_line(field, course),), course.says, classes="course")
    yield from _paid_back(field, courses)
    ends = [(field.at(field.x_range[1], each.values[-1]), each.name) for each in courses]
    yield Callouts("right", field.right, NAMES, (*ends, (field.at(field.x_range[1], 0.0), zero)))
    yield Group(tuple(_notes(field, notes)), classes="key", hidden=True)


def _field(courses: Sequence[Course]) -> Field:
    every = [0.0, *(v for each in courses for v in (*each.values, *each.low, *each.high))]
    low, high = min(every), max(every)
    room = 0.05 * (high - low or 1.0)
    years = float(len(courses[0].values) - 1) if courses else 1.0
    return Field(0.0, 0.0, WIDTH, HEIGHT, (0.0, years), (low - room, high + room))


def _axes(field: Field, unit: str) -> Iterator[Item]:
    low, high = field.y_range
    step = round_step((high - low) / 7)
    for value in steps_between(low, high, step):
        y = field.y(value)
        yield Line((field.left, y), (field.right, y), "grid")
        text = number(value, step)
        yield Text((field.left, y), text, "figure", LETTERING, "end", shift=(-1.2, -0.9))
    for line, words in enumerate(reversed(wrapped(unit, SMALL, WIDTH * 1000 + 24))):
        at = (field.left, field.top)
        yield Text(at, words, size=SMALL, anchor="start", shift=(-5.0, 2.2 + 3.2 * line))
    yield Line((field.left, field.bottom), (field.right, field.bottom), "axis")
    yield Line((field.left, field.bottom), (field.left, field.top), "axis")
    years = field.x_range[1]
    for value in steps_between(0.0, years, max(round_step(years / 6), 1.0)):
        x = field.x(value)
        yield Line((x, field.bottom), (x, field.bottom - 0.0010), "axis")
        yield Text((x, field.bottom), f"{value:g}", "figure", LETTERING, shift=(0.0, -3.9))
    yield Text((field.left, field.bottom), "years", size=SMALL, anchor="start", shift=(0.0, -7.6))


def _band(field: Field, course: Course) -> Group:
    low, high = (
        [field.at(year, value) for year, value in enumerate(row)]
        for row in (course.low, course.high)
    )
    return Group(
        (Polygon(outline([*high, *reversed(low)]), course.band), Polyline(outline(low), "fine"),
         Polyline(outline(high), "fine")),
        f"{course.name}: what it may be", classes="range",
    )  # fmt: skip


def _line(field: Field, course: Course) -> Polyline:
    points = [field.at(year, value) for year, value in enumerate(course.values)]
    return Polyline(outline(points), course.pen)


def _paid_back(field: Field, courses: Sequence[Course]) -> Iterator[Item]:
    """A dot where a course falls to zero, and after how many years; of dots close together at the last."""
    found = sorted(
        (years, course.name) for course in courses if (years := crossing(course.values)) is not None
    )
    for index, (years, name) in enumerate(found):
        at = field.at(years, 0.0)
        text = f"{years:.0f} years" if years >= 10 else f"{years:.1f} years"
        items: tuple[Item, ...] = (Arc(at, DOT, "paper"), Arc(at, DOT, "outline"))
        beyond = found[index + 1][0] if index + 1 < len(found) else math.inf
        if (field.x(beyond) if math.isfinite(beyond) else math.inf) - at[0] > LETTERED:
            items += (Text(at, text, "figure halo", SMALL, "start", shift=(0.6, 1.2)),)
        yield Group(items, f"{name} has paid back after {text}", classes="payback")


def _notes(field: Field, notes: Iterable[str]) -> Iterator[Item]:
    y = -11.6
    for note in notes:
        for line in wrapped(note, SMALL, WIDTH * 1000 + 30):
            yield Text((field.left, field.bottom), line, "note", SMALL, "start", shift=(-5.0, y))
            y -= 3.2
        y -= 0.6
