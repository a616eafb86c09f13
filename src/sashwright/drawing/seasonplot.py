"""The mean day through the year, and the weeks in which storms and screens change places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.drawing.axes import (
    LETTERING,
    Field,
    months_axis,
    round_step,
    short_date,
    steps_between,
    thinned,
)
from sashwright.drawing.model import (
    Drawing,
    Group,
    Item,
    Line,
    Polyline,
    Text,
    drawing,
    outline,
    rectangle,
)
from sashwright.drawing.paper import text_width
from sashwright.physics.hourly_year import DAYS

WIDTH, HEIGHT = 0.082, 0.050
STRIP = 0.0052
"""Of the field on paper, and of the strip over it that says what hangs [m]."""
EVERY = 4


def season_plot(answer: Answer, system: units.System = "us", today: int | None = None) -> Drawing:
    """The mean day with both set temperatures and the changes of storms and screens.

    Parameters
    ----------
    answer
        The season chapter's answer for a house.
    today
        Day of the year, from 1, to be marked.
    """
    title = f"{answer.house}: when storms and screens change places"
    values = answer.values.get("changeover")
    if not values:
        note = Text((0.0, 0.0), "No weather is known, so no week can be named.")
        return drawing(title, "No weather is known.", (note,), 1.0)
    curve = [_degrees(celsius, system) for celsius in values["mean_day_c"]]
    return drawing(title, describe(values, system), _items(values, curve, system, today), 1.0)


def describe(values: Mapping[str, Any], system: units.System) -> str:
    """What the plot shows, in words."""
    curve = values["mean_day_c"]
    low, high = (units.format_temperature(t, system) for t in (min(curve), max(curve)))
    warm, cool = (units.format_temperature(values[key], system) for key in ("warm_c", "cool_c"))
    said = f"The mean day goes from {low} to {high}; set temperatures {cool} and {warm}."
    for name, key in (("Storms", "storms_on"), ("screens", "screens_on")):
        first, last = values[f"{key}_from"], values[f"{key}_by"]
        if first and last:
            said += f" {name} go on between {first['date']} and {last['date']}."
    return said.replace(". screens", ". Screens")


def _degrees(celsius: float, system: units.System) -> float:
    return celsius * 9 / 5 + 32 if system == "us" else celsius


def _items(
    values: Mapping[str, Any], curve: Sequence[float], system: units.System, today: int | None
) -> Iterator[Item]:
    warm, cool = (_degrees(values[key], system) for key in ("warm_c", "cool_c"))
    low, high = min(*curve, cool), max(*curve, warm)
    room = 0.06 * (high - low)
    field = Field(0.0, 0.0, WIDTH, HEIGHT, (0.0, DAYS), (low - room, high + room))
    yield from _changes(field, values)
    yield Group(tuple(_scale(field, system)), classes="axes", hidden=True)
    yield Group(tuple(months_axis(field)), classes="axes", hidden=True)
    yield from _set_lines(field, warm, cool, system)
    days = thinned(len(curve), EVERY)
    points = [field.at(day * DAYS / (len(curve) - 1), curve[day]) for day in days]
    yield Polyline(outline(points), "curve")
    if today is not None:
        x = field.x(min(today, DAYS) - 0.5)
        line = Line((x, field.bottom), (x, field.top), "pencil")
        at = (min(max(x, field.left + 0.005), field.right - 0.005), field.bottom)
        yield Group(
            (line, Text(at, "today", "pencil-note halo", LETTERING, shift=(0.0, 1.2))), "today"
        )


# --- changes --------------------------------------------------------------------------------------


def _changes(field: Field, values: Mapping[str, Any]) -> Iterator[Item]:
    """Weeks of change, hatched, and what hangs between them, in a strip over the field."""
    marks = {
        key: values[key]["day"] - 1
        for key in ("storms_on_from", "storms_on_by", "screens_on_from", "screens_on_by")
        if values[key]
    }
    if len(marks) < 4:
        return
    for key, name in (("storms_on", "storms go on"), ("screens_on", "screens go on")):
        first, last = marks[f"{key}_from"], marks[f"{key}_by"]
        group = [
            rectangle(field.x(a), field.bottom, field.x(b), field.top + STRIP, "band", "earth")
            for a, b in _round_the_year(first, last)
        ]
        yield Group(tuple(group), name, classes="change")
        yield from _dates(field, first, last)
    yield from _hanging(field, marks["screens_on_by"], marks["storms_on_from"], "screens")
    yield from _hanging(field, marks["storms_on_by"], marks["screens_on_from"], "storms")


def _round_the_year(first: int, last: int) -> Iterator[tuple[float, float]]:
    """A stretch of days, in two where it runs over the new year."""
    if first <= last:
        yield first, last
    else:
        yield first, DAYS
        yield 0, last


def _dates(field: Field, first: int, last: int) -> Iterator[Text]:
    """First and last day of a change, over the strip: the one ends there, the other begins."""
    days = ((first, "end", -1.0), (last, "start", 1.0))
    middle = field.x((first + (last if last >= first else last + DAYS)) / 2 % DAYS)
    text = " – ".join(short_date(day + 1) for day, _, _ in days)
    half = text_width(text, LETTERING) / 2000
    x = min(max(middle, field.left + half), field.right - half)
    yield Text((x, field.top + STRIP), text, "figure", LETTERING, shift=(0.0, 1.2))


def _hanging(field: Field, first: int, last: int, name: str) -> Iterator[Item]:
    y = field.top
    for a, b in _round_the_year(first, last):
        left, right = field.x(a), field.x(b)
        yield rectangle(left, y, right, y + STRIP, "edge")
        words = Text(
            ((left + right) / 2, y + STRIP / 2), name, "note", LETTERING, shift=(0.0, -0.9),
            room=right - left - 0.001,
        )  # fmt: skip
        yield words


# --- scale ----------------------------------------------------------------------------------------


def _scale(field: Field, system: units.System) -> Iterator[Item]:
    low, high = field.y_range
    for value in steps_between(low, high, round_step((high - low) / 6)):
        y = field.y(value)
        yield Line((field.left, y), (field.right, y), "grid")
        text = f"{value:g}".replace("-", "−")
        yield Text((field.left, y), text, "figure", LETTERING, "end", shift=(-1.4, -0.9))
    yield Line((field.left, field.bottom), (field.left, field.top), "axis")
    unit = "°F" if system == "us" else "°C"
    at = (field.left, field.top)
    yield Text(at, unit, size=LETTERING, anchor="end", shift=(-1.4, 1.6))


def _set_lines(field: Field, warm: float, cool: float, system: units.System) -> Iterator[Item]:
    unit = "°F" if system == "us" else "°C"
    lines = ((warm, "warm", 0.9), (cool, "cool", -3.4))
    for value, name, shift in lines if warm != cool else lines[:1]:
        y = field.y(value)
        yield Line((field.left, y), (field.right, y), "hidden")
        text = f"{name} {value:.0f} {unit}"
        yield Text((field.left, y), text, "note halo", 2.4, "start", shift=(1.2, shift))
