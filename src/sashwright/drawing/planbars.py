"""Ways to open a house beside each other: comfort as bars, air changes and movements as figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.drawing.axes import LETTERING, Field, steps_between
from sashwright.drawing.model import Drawing, Group, Hatch, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width

WIDTH = 0.086
BAR = 0.0046
LINE = 0.0036
BETWEEN = 0.0038
LOOKS: Mapping[str, tuple[str, str, Hatch | None]] = {
    "comfortable": ("comfortable", "wood edge", None),
    "overheated": ("too warm", "warm-3 edge", "metal"),
    "cold": ("too cool", "cool edge", None),
}
"""Name, pen and hatch of each part; what is too cool is ruled across besides."""
SMALL = 2.4


def plan_bars(plans: Sequence[Mapping[str, Any]], *, best: str = "", season: str = "") -> Drawing:
    """The hours in which people are in their rooms, plan by plan.

    Parameters
    ----------
    plans
        Rows with ``name``, ``comfortable_share``, ``overheated_share``, ``cold_share``,
        ``air_changes_h`` and ``moves_per_day``; under ``seasons`` the same by season.
    best
        Name of the one that is marked.
    season
        Only one season; else all that windows are for.
    """
    rows = [(row["name"], row["seasons"][season] if season else row) for row in plans]
    title = "Ways to open the house" + (f", {season} season" if season else "")
    words = "; ".join(_says(name, row) for name, row in rows)
    return drawing(title, f"{words}.", _chart(rows, best), 1.0)


def _says(name: str, row: Mapping[str, float]) -> str:
    shares = ", ".join(
        f"{100 * row[f'{part}_share']:.0f} % {look[0]}" for part, look in LOOKS.items()
    )
    return f"{name}: {shares}, {_figures(row)}"


def _figures(row: Mapping[str, float]) -> str:
    moves = row["moves_per_day"]
    moved = "none moved" if moves < 0.05 else f"{moves:.0f} moves a day"
    return f"{row['air_changes_h']:.1f} air changes an hour, {moved}"


def _chart(rows: Sequence[tuple[str, Mapping[str, float]]], best: str) -> Iterator[Item]:
    pitch = BETWEEN + LINE + BAR + LINE
    foot = -pitch * len(rows) - 0.0016
    field = Field(0.0, foot, WIDTH, -foot, (0.0, 1.0), (0.0, 1.0))
    yield Group(tuple(_axis(field)), classes="axes", hidden=True)
    for index, (name, row) in enumerate(rows):
        bottom = -(index + 1) * pitch + LINE
        yield Group(
            tuple(_row(field, name, row, bottom, marked=name == best)),
            _says(name, row), classes="bar", data=(("plan", name),),
        )  # fmt: skip
    yield Group(tuple(_key(field)), classes="key", hidden=True)


def _row(
    field: Field, name: str, row: Mapping[str, float], bottom: float, *, marked: bool
) -> Iterator[Item]:
    x, top = field.left, bottom + BAR
    for part, (_, pen, hatch) in LOOKS.items():
        share = row[f"{part}_share"]
        if share <= 0:
            continue
        end = x + share * field.width
        yield rectangle(x, bottom, end, top, pen, hatch)
        if part == "cold":
            yield from _ruled(x, bottom, end, top)
        text = f"{100 * share:.0f} %"
        if (end - x) * 1000 > text_width(text, SMALL) + 2:
            middle = ((x + end) / 2, bottom)
            yield Text(middle, text, "figure halo", SMALL, shift=(0.0, 1.4))
        x = end
    if marked:
        mark = field.left - 0.0011
        yield Line((mark, bottom - LINE + 0.0006), (mark, top + LINE - 0.0004), "pencil-bold")
    pen = "pencil-note halo" if marked else "note halo"
    title = name[:1].upper() + name[1:]
    yield Text((field.left, top), title, pen, LETTERING, "start", shift=(0.9, 1.0))
    yield Text(
        (field.left, bottom), _figures(row), "figure halo", SMALL, "start", shift=(0.9, -3.0)
    )


def _ruled(left: float, bottom: float, right: float, top: float) -> Iterator[Line]:
    """Upright strokes, as the calendar has them for what is too cool."""
    x = left + 0.0012
    while x < right:
        yield Line((x, bottom), (x, top), "faint")
        x += 0.0012


def _axis(field: Field) -> Iterator[Item]:
    for value in steps_between(0.0, 1.0, 0.25):
        x = field.x(value)
        yield Line((x, field.bottom), (x, field.top), "grid" if value else "axis")
        yield Text((x, field.bottom), f"{100 * value:.0f} %", "figure", SMALL, shift=(0.0, -3.6))


def _key(field: Field) -> Iterator[Item]:
    x, foot = field.left, field.bottom - 0.0098
    for part, (name, pen, hatch) in LOOKS.items():
        yield rectangle(x, foot, x + 0.0040, foot + 0.0024, pen, hatch)
        if part == "cold":
            yield from _ruled(x, foot, x + 0.0040, foot + 0.0024)
        yield Text((x, foot), name, "note", SMALL, "start", shift=(5.0, 0.2))
        x += text_width(name, SMALL) / 1000 + 0.0090
    words = "of the hours in which people are in the rooms"
    yield Text((field.left, foot), words, "note", SMALL, "start", shift=(0.0, -4.0))
