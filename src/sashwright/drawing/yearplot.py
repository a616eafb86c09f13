"""Clearances through the year, as plots: the usual course, its band, and where it binds or rattles.

The band is what grain and coating leave uncertain. Both zones are hatched and named, so that a plot
says the same in black and white.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.axes import (
    LETTERING,
    Field,
    date_words,
    months_axis,
    short_date,
    steps_between,
    thinned,
    wrapped,
)
from sashwright.drawing.model import (
    Anchor,
    Arc,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Text,
    drawing,
    outline,
    rectangle,
)
from sashwright.drawing.paper import text_width
from sashwright.physics.hourly_year import DAYS

WIDTH, HEIGHT = 0.080, 0.052
"""Of the field between the axes, on paper at full size [m]."""
SMALL_WIDTH, SMALL_HEIGHT = 0.039, 0.024
COLUMNS = 2
PITCH = (0.050, 0.0385)
"""From one small field to the next [m]."""
TITLE = 2.5
SMALL_NAME = 2.2
EVERY = 3
SMALL_EVERY = 7
"""Days from one point of a curve to the next."""
ROOM = 0.16
"""Of the range, below the binding limit and above the rattling one, for the zones' names."""
SMALL_ROOM = 0.20
"""The same of the small fields, whose names need as much paper."""

US_STEPS = tuple(25.4 / n for n in (64, 32, 16, 8, 4, 2, 1))
METRIC_STEPS = (0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)


@dataclass(frozen=True)
class Course:
    """One clearance of a fit answer [mm], days from 0."""

    name: str
    values: Mapping[str, Any]
    low: list[float]
    usual: list[float]
    high: list[float]

    @property
    def binds(self) -> float:
        return float(self.values["binds_at_mm"])

    @property
    def rattles(self) -> float | None:
        limit = self.values["rattles_above_mm"]
        return None if limit is None else float(limit)

    @property
    def tightest(self) -> int:
        return int(self.values["least_day"]) - 1

    @property
    def widest(self) -> int:
        return int(self.values["greatest_day"]) - 1

    @property
    def span(self) -> tuple[float, float]:
        """What a field must show: the band, the zero, and both limits."""
        wide = max(*self.high, self.rattles or 0.0)
        return min(*self.low, 0.0), wide


def course_of(answer: WindowAnswer, place: str) -> Course | None:
    """A clearance by its name, such as ``lower.sides``; None where the answer has none."""
    values = answer.values.get("clearances", {}).get(place)
    curves = answer.values.get("curves", {}).get("clearance_mm", {}).get(place)
    if not values or not curves or len(curves["usual"]) < 2:
        return None
    return Course(values["name"], values, *(list(curves[key]) for key in ("low", "usual", "high")))


def clearance_plot(answer: WindowAnswer, place: str, system: units.System = "us") -> Drawing:
    """One clearance through the year.

    Parameters
    ----------
    answer
        The fit chapter's answer for a window.
    place
        Which clearance, such as ``lower.sides``.
    """
    course = course_of(answer, place)
    if course is None:
        note = Text((0.0, 0.0), "Nothing is known of this clearance.")
        return drawing("Clearance through the year", "Nothing is known of it.", (note,), 1.0)
    title = f"Window {answer.number}, {course.name} through the year"
    return drawing(title, describe(course, system), _items(answer, course, system), 1.0)


def describe(course: Course, system: units.System) -> str:
    """What a plot of one clearance shows, in words."""
    values = course.values
    said = (
        f"{course.name[:1].upper()}{course.name[1:]}: usually "
        f"{_gap(values['least_mm'], system)} at its tightest, on {date_words(values['least_day'])}, and "
        f"{_gap(values['greatest_mm'], system)} at its widest, on {date_words(values['greatest_day'])}; "
        f"with grain and coating, from {_gap(values['low_mm'], system)} to "
        f"{_gap(values['high_mm'], system)}."
    )
    return f"{said} {_days('binds', values['binding_days'])} {_loose(course)}".strip()


def _days(does: str, days: int) -> str:
    if days == 0:
        return f"Usually it never {does}."
    return f"It {does} on {days} day{'' if days == 1 else 's'} of a usual year."


def _loose(course: Course) -> str:
    return "" if course.rattles is None else _days("rattles", course.values["rattling_days"])


def _gap(mm: float, system: units.System) -> str:
    """A clearance: to 1/64 inch or a tenth of a millimetre."""
    return units.format_length(mm / 1000, system, 64 if system == "us" else 0.1)


# --- a large plot ---------------------------------------------------------------------------------


def _items(answer: WindowAnswer, course: Course, system: units.System) -> Iterator[Item]:
    field = Field(0.0, 0.0, WIDTH, HEIGHT, (0.0, DAYS), _range(course.span))
    yield from _zones(field, course)
    yield Group(tuple(_scale(field, system)), classes="axes", hidden=True)
    yield Group(tuple(months_axis(field)), classes="axes", hidden=True)
    yield from _band(field, course, EVERY)
    yield from _wanted(field, course)
    yield from _zone_names(field, course, LETTERING)
    today = answer.values.get("today")
    if today is not None:
        yield _today(field, course, int(today) - 1)
    yield from _extreme(field, course, course.tightest, system, below=True)
    yield from _extreme(field, course, course.widest, system, below=False)


def _range(span: tuple[float, float], share: float = ROOM) -> tuple[float, float]:
    low, high = span
    room = share * max(high - low, 0.1)
    return low - room, high + room


def _zones(field: Field, course: Course) -> Iterator[Item]:
    """Where it binds and where it rattles, as far as the field goes."""
    binds = field.y(course.binds)
    yield Group(
        (rectangle(field.left, field.bottom, field.right, binds, "amiss", "metal"),),
        "here it binds", classes="zone binds",
    )  # fmt: skip
    if course.rattles is not None and course.rattles < field.y_range[1]:
        rattles = field.y(course.rattles)
        yield Group(
            (rectangle(field.left, rattles, field.right, field.top, "void", "earth"),),
            "here it rattles", classes="zone rattles",
        )  # fmt: skip
    for limit in (course.binds, course.rattles):
        if limit is not None:
            y = field.y(limit)
            yield Line((field.left, y), (field.right, y), "ghost")


def _zone_names(field: Field, course: Course, size: float) -> Iterator[Text]:
    """Each in its zone, on the side away from the day that is marked there."""
    low, high = field.y_range
    names = [("binds", low, course.binds, course.tightest)]
    if course.rattles is not None:
        names.append(("rattles", course.rattles, high, course.widest))
    for name, below, above, day in names:
        x, anchor, sign = _away(field, course, day)
        y = field.y((below + above) / 2)
        yield Text((x, y), name, "note halo", size, anchor, shift=(sign * 1.4, -0.36 * size))


def _away(field: Field, course: Course, day: int) -> tuple[float, Anchor, float]:
    """The side of the field that is far from a day: its edge, anchor, and which way is in."""
    if day < len(course.usual) / 2:
        return field.right, "end", -1.0
    return field.left, "start", 1.0


def _step(field: Field, system: units.System, apart: float = 6.0) -> float:
    """The least step [mm] whose lines stand so far apart on paper [mm]."""
    low, high = field.y_range
    per = field.height * 1000 / (high - low)
    steps = US_STEPS if system == "us" else METRIC_STEPS
    return next((step for step in steps if step * per >= apart), steps[-1])


def _scale(field: Field, system: units.System) -> Iterator[Item]:
    low, high = field.y_range
    us = system == "us"
    for value in steps_between(low, high, _step(field, system)):
        y = field.y(value)
        yield Line((field.left, y), (field.right, y), "grid" if value else "axis")
        text = units.format_length(value / 1000, system, 64 if us else 0.1, marks=False)
        yield Text((field.left, y), text, "figure", LETTERING, "end", shift=(-1.4, -0.9))
    yield Line((field.left, field.bottom), (field.left, field.top), "axis")
    unit = "clearance, inches" if us else "clearance, mm"
    yield Text((field.left, field.top), unit, size=LETTERING, anchor="start", shift=(-6.0, 2.4))


def _band(field: Field, course: Course, every: int) -> Iterator[Item]:
    keep = (course.tightest, course.widest)
    days = thinned(len(course.usual), every, keep)
    low, usual, high = (
        [field.at(_day_x(day, len(row)), row[day]) for day in days]
        for row in (course.low, course.usual, course.high)
    )
    yield Group(
        (Polygon(outline([*high, *reversed(low)]), "band"), Polyline(outline(low), "fine"),
         Polyline(outline(high), "fine")),
        "what grain and coating leave uncertain", classes="range",
    )  # fmt: skip
    yield Polyline(outline(usual), "curve")


def _day_x(day: int, days: int) -> float:
    """Days stretched so that the curve runs from edge to edge."""
    return day * DAYS / (days - 1)


def _wanted(field: Field, course: Course) -> Iterator[Item]:
    """The least that the shop wants, where it is not the limit of binding itself."""
    wanted = float(course.values["wanted_least_mm"])
    y = field.y(wanted)
    if (y - field.y(course.binds)) * 1000 > 1.5:
        yield Line((field.left, y), (field.right, y), "hidden")
        x, anchor, sign = _away(field, course, course.tightest)
        yield Text((x, y), "least wanted", "note halo", 2.3, anchor, shift=(sign * 1.4, 0.8))


def _extreme(
    field: Field, course: Course, day: int, system: units.System, *, below: bool
) -> Iterator[Item]:
    """A dot on the usual curve, and its day and size beyond the band."""
    at = field.at(_day_x(day, len(course.usual)), course.usual[day])
    word = "tightest" if below else "widest"
    edge = min(course.low) if below else max(course.high)
    if below and (field.y(edge) - field.y(course.binds)) * 1000 < LETTERING + 1.4:
        # There the zone has its name and the axis its zero.
        below, edge = False, max(course.high[max(day - 45, 0) : day + 45])
    value = _gap(course.usual[day], system)
    text = f"{word} {value}, {short_date(day + 1)}"
    yield Arc(at, 0.0007, "solid")
    x = _inside(field, at[0], text_width(text, LETTERING) / 1000)
    shift = -3.6 if below else 1.8
    yield Text((x, field.y(edge)), text, "note halo", LETTERING, shift=(0.0, shift))


def _inside(field: Field, x: float, width: float) -> float:
    """Where the middle of a text may stand so that it stays in the field [m]."""
    half = width / 2 + 0.001
    return min(max(x, field.left + half), field.right - half)


def _today(field: Field, course: Course, day: int) -> Group:
    x = field.x(_day_x(day, len(course.usual)))
    at: Point = (x, field.y(course.usual[min(day, len(course.usual) - 1)]))
    text = Text(
        (_inside(field, x, text_width("today", LETTERING) / 1000), field.top), "today", "pencil-note",
        LETTERING, shift=(0.0, 0.9),
    )  # fmt: skip
    return Group(
        (Line((x, field.bottom), (x, field.top), "pencil"), Arc(at, 0.0010, "pencil pencil-fill"),
         text),
        "today", classes="today", data=(("marker", "today"),),
    )  # fmt: skip


# --- small multiples ------------------------------------------------------------------------------


def clearances_plot(answer: WindowAnswer, system: units.System = "us") -> Drawing:
    """Every clearance of a window through the year, small, all to one scale."""
    places = answer.values.get("clearances", {})
    courses = [course for place in places if (course := course_of(answer, place)) is not None]
    title = f"Window {answer.number}, clearances through the year"
    if not courses:
        note = Text((0.0, 0.0), "Nothing is known of the clearances.")
        return drawing(title, "Nothing is known of them.", (note,), 1.0)
    spans = [course.span for course in courses]
    y_range = _range((min(low for low, _ in spans), max(high for _, high in spans)), SMALL_ROOM)
    today = answer.values.get("today")
    items = [
        _small(course, _small_field(index, y_range), system, today)
        for index, course in enumerate(courses)
    ]
    words = " ".join(describe(course, system) for course in courses)
    return drawing(title, words, items, 1.0)


def _small_field(index: int, y_range: tuple[float, float]) -> Field:
    row, column = divmod(index, COLUMNS)
    left, bottom = column * PITCH[0], -row * PITCH[1]
    return Field(left, bottom, SMALL_WIDTH, SMALL_HEIGHT, (0.0, DAYS), y_range)


def _small(course: Course, field: Field, system: units.System, today: int | None) -> Group:
    items: list[Item] = [
        *_zones(field, course),
        Group(tuple(_small_scale(field, system)), classes="axes", hidden=True),
        Group(tuple(months_axis(field, every=3, letters=3)), classes="axes", hidden=True),
        *_band(field, course, SMALL_EVERY),
        *_zone_names(field, course, SMALL_NAME),
        *_small_title(field, course),
    ]
    if today is not None:
        x = field.x(_day_x(int(today) - 1, len(course.usual)))
        items.append(Line((x, field.bottom), (x, field.top), "pencil"))
    return Group(tuple(items), describe(course, system), classes="clearance")


def _small_scale(field: Field, system: units.System) -> Iterator[Item]:
    low, high = field.y_range
    us = system == "us"
    for value in steps_between(low, high, _step(field, system, 5.4)):
        y = field.y(value)
        yield Line((field.left, y), (field.right, y), "grid" if value else "axis")
        text = units.format_length(value / 1000, system, 64 if us else 0.1)
        if not us and value:
            text = text.removesuffix(" mm")
        yield Text((field.left, y), text, "figure", 2.3, "end", shift=(-1.2, -0.8))
    yield Line((field.left, field.bottom), (field.left, field.top), "axis")


def _small_title(field: Field, course: Course) -> Iterator[Text]:
    lines = wrapped(course.name, TITLE, (field.width + 0.004) * 1000)
    for index, line in enumerate(reversed(lines)):
        at = (field.left, field.top)
        yield Text(at, line, "note", TITLE, "start", shift=(-2.0, 1.4 + 3.2 * index))
    level = _level(course)
    if level:
        at = (field.right, field.top)
        yield Text(at, level, "pencil-note halo", TITLE, "end", shift=(-0.8, -3.2))


def _level(course: Course) -> str:
    if course.values["binding_days"]:
        return "binds"
    if course.values["rattling_days"]:
        return "rattles"
    return ""
