"""Alternatives beside each other as ranges: what each may cost beside the base, and when it pays back."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.worth.say import SIGNS, amount, years
from sashwright.drawing.axes import LETTERING, Field, number, round_step, steps_between, wrapped
from sashwright.drawing.fates import SHORT, Row, compared_with, leading, scaled
from sashwright.drawing.model import Drawing, Group, Item, Line, Point, Text, drawing, rectangle
from sashwright.drawing.paper import text_width

WIDTH = 0.086
BAR = 0.0034
LINE = 0.0036
BETWEEN = 0.0028
SMALL = 2.4
YEARS = (1.0, 1000.0)
"""Ends of the axis of paybacks."""
MARKS = (1, 2, 5, 10, 20, 50, 100, 200, 500)
PUBLISHED = "void edge"


@dataclass(frozen=True, slots=True)
class Bar:
    """One row: from low to high on the axis; None at the high end for what never comes."""

    name: str
    low: float
    likely: float | None
    high: float | None
    figure: str
    pen: str = "wood edge"
    hatched: bool = False
    marked: bool = False
    below: str = ""
    """A second line, in small letters."""


# --- cost ---------------------------------------------------------------------------------


def cost_bars(
    alternatives: Sequence[Row], *, base: str, chosen: str = "", currency: str = "USD"
) -> Drawing:
    """What each alternative costs through all years more, or less, than the base, with its range.

    Parameters
    ----------
    alternatives
        Rows of the worth chapter; without ``ranges`` only the likely figure is drawn.
    base
        Key of what all are compared with.
    chosen
        Key of the one that the red pencil marks.
    """
    title = "Net present cost beside the base"
    rows = [row for row in alternatives if row["key"] != base]
    name = compared_with(alternatives, base)
    if not rows:
        return _nothing(title)
    ends = [_cost_ends(row) for row in rows]
    divide, word = scaled(max(abs(value) for each in ends for value in each))
    bars = [
        Bar(
            row["name"], low / divide, likely / divide, high / divide, _more(likely, currency),
            hatched=row["group"] == "replace", marked=row["key"] == chosen,
        )
        for row, (low, likely, high) in zip(rows, ends, strict=True)
    ]  # fmt: skip
    said = [
        f"{bar.name[:1].lower()}{bar.name[1:]} {bar.figure} ({_span(each, currency)})"
        for bar, each in zip(bars, ends, strict=True)
    ]
    low = min(0.0, *(bar.low for bar in bars))
    high = max(0.0, *(bar.high or 0.0 for bar in bars))
    field_range = (low - 0.02 * (high - low), high + 0.02 * (high - low))
    unit = f"{word}{SIGNS.get(currency, currency)} more than “{name}”"
    notes = [unit[:1].upper() + unit[1:] + ", less to the left of the line",
             "Bars: eight of ten draws. Stroke: the likely figure. Hatched: the old sash go."]  # fmt: skip
    items = range_chart(bars, field_range, level_marks(field_range), notes, zero=True)
    return drawing(title, f"More than “{name}”: {'; '.join(said)}.", items, 1.0)


def _cost_ends(row: Row) -> tuple[float, float, float]:
    likely = -row["net_savings"]
    ranges = (row.get("ranges") or {}).get("net_savings")
    if ranges is None:
        return likely, likely, likely
    return -ranges["high"], likely, -ranges["low"]


def _more(value: float, currency: str) -> str:
    return f"{amount(abs(value), currency)} {'less' if value < 0 else 'more'}"


def _span(ends: tuple[float, float, float], currency: str) -> str:
    return f"{amount(ends[0], currency)} to {amount(ends[2], currency)}"


def level_marks(ends: tuple[float, float]) -> list[tuple[float, str]]:
    """Round figures along an axis."""
    low, high = ends
    step = round_step((high - low) / 7)
    return [(value, number(value, step)) for value in steps_between(low, high, step)]


# --- payback ------------------------------------------------------------------------------


def payback_bars(
    alternatives: Sequence[Row],
    *,
    base: str,
    chosen: str = "",
    studies: Sequence[Mapping[str, Any]] = (),
) -> Drawing:
    """Years until the energy saved has paid for each alternative, and what published studies found.

    Parameters
    ----------
    alternatives
        Rows of the worth chapter; of ways that are much alike the one that costs least is drawn.
    studies
        Rows of the same; those that speak of paybacks in years are drawn.
    """
    title = "Payback by the energy saved"
    rows = [row for row in leading(alternatives, base) if row["key"] != base]
    if not rows:
        return _nothing(title)
    bars = [_payback(row, chosen) for row in rows]
    bars += [_study(row) for row in studies if row["unit"] == "years"]
    said = [f"{bar.name[:1].lower()}{bar.name[1:]}, {bar.figure}" for bar in bars]
    notes = [
        "Years, in steps of ratios. Bars: eight of ten draws. Stroke: the likely figure. Arrow: some never.",
        "Simple payback: first cost over the energy saved in the first year, today’s prices, no interest.",
    ]
    low, high = (math.log10(end) for end in YEARS)
    marks = [(math.log10(value), str(value)) for value in MARKS]
    items = range_chart(bars, (low, high), marks, notes, zero=False)
    return drawing(title, f"{'; '.join(said)}.", items, 1.0)


def _payback(row: Row, chosen: str) -> Bar:
    likely = row["energy_payback_years"]
    ranges = (row.get("ranges") or {}).get("energy_payback_years") or {
        "low": likely,
        "high": likely,
    }
    low, high = ranges["low"], ranges["high"]
    figure = years(likely)
    if low != high:
        figure += f" ({_bare(low)} to {_bare(high)})"
    return Bar(
        row["name"],
        _logged(low),
        None if likely is None else _logged(likely),
        None if high is None or high > YEARS[1] else _logged(high),
        figure,
        hatched=row["group"] == "replace",
        marked=row["key"] == chosen,
    )


def _study(row: Mapping[str, Any]) -> Bar:
    low, high = row["low"], row["high"]
    figure = f"{low:g} years" if low == high else f"{low:g} to {high:g} years"
    what = SHORT.get(row["of"], row["of"])
    below = f"{what[:1].upper()}{what[1:]}, against {row['against']}"
    return Bar(
        row["study"], _logged(low), _logged(low) if low == high else None, _logged(high), figure,
        PUBLISHED, below=below,
    )  # fmt: skip


def _bare(value: float | None) -> str:
    return years(value).removesuffix(" years")


def _logged(value: float | None) -> float:
    """On the axis of ratios; what never comes, or comes late, at its end."""
    low, high = YEARS
    return math.log10(high if value is None else min(max(value, low), high))


# --- the chart ----------------------------------------------------------------------------


def _nothing(title: str) -> Drawing:
    words = "There is nothing to compare with."
    return drawing(title, words, (Text((0.0, 0.0), words),), 1.0)


def range_chart(
    bars: Sequence[Bar],
    ends: tuple[float, float],
    marks: Sequence[tuple[float, str]],
    notes: Sequence[str],
    *,
    zero: bool,
) -> Iterator[Item]:
    """Bars one below the other over an axis from end to end, with ``marks`` on it and notes under it."""
    laid = list(_laid(bars))
    foot = laid[-1][2] - 0.0022
    field = Field(0.0, foot, WIDTH, -foot, ends, (0.0, 1.0))
    yield Group(tuple(_axis(field, marks, zero=zero)), classes="axes", hidden=True)
    for bar, lines, bottom in laid:
        title = f"{bar.name}: {bar.figure}"
        yield Group(tuple(_row(field, bar, lines, bottom)), title, classes="bar")
    y = -8.2
    for note in notes:
        for line in wrapped(note, SMALL, WIDTH * 1000):
            yield Text((field.left, foot), line, "note", SMALL, "start", shift=(0.0, y))
            y -= 3.2
        y -= 0.6


def _laid(bars: Sequence[Bar]) -> Iterator[tuple[Bar, list[str], float]]:
    """Each bar with its name in lines, and the height of its foot, from the top down [m]."""
    y = 0.0
    for bar in bars:
        room = WIDTH * 1000 - text_width(bar.figure, LETTERING) - 4
        lines = wrapped(bar.name, LETTERING, room)
        small = LINE if bar.below else 0.0
        y -= BETWEEN + LINE * len(lines) + small + BAR
        yield bar, lines, y


def _axis(field: Field, marks: Sequence[tuple[float, str]], *, zero: bool) -> Iterator[Item]:
    for value, text in marks:
        x = field.x(value)
        pen = "axis" if zero and abs(value) < 1e-9 else "grid"
        yield Line((x, field.bottom), (x, field.top), pen)
        yield Text((x, field.bottom), text, "figure", LETTERING, shift=(0.0, -3.9))


def _row(field: Field, bar: Bar, lines: Sequence[str], bottom: float) -> Iterator[Item]:
    top = bottom + BAR
    low = field.x(bar.low)
    high = field.right if bar.high is None else field.x(bar.high)
    if bar.high is None and bar.low >= field.x_range[1]:
        low = field.right - 0.004
    yield rectangle(
        low, bottom, max(high, low + 0.0003), top, bar.pen, "metal" if bar.hatched else None
    )
    if bar.high is None:
        yield from _arrow((high, (bottom + top) / 2))
    if bar.likely is not None:
        x = field.x(bar.likely)
        yield Line((x, bottom - 0.0005), (x, top + 0.0005), "pencil-bold" if bar.marked else "cut")
    if bar.marked:
        mark = field.left - 0.0011
        yield Line((mark, bottom), (mark, top + LINE * len(lines)), "pencil-bold")
    pen = "pencil-note halo" if bar.marked else "note halo"
    above = top
    if bar.below:
        at = (field.left, above)
        yield Text(at, bar.below, "note halo", SMALL, "start", shift=(0.9, 1.0))
        above += LINE
    for index, line in enumerate(reversed(lines)):
        at = (field.left, above + index * LINE)
        yield Text(at, line, pen, LETTERING, "start", shift=(0.9, 1.0))
    at = (field.right, above + (len(lines) - 1) * LINE)
    yield Text(at, bar.figure, "figure halo", LETTERING, "end", shift=(0.0, 1.0))


def _arrow(tip: Point) -> Iterator[Line]:
    x, y = tip[0] + 0.0014, tip[1]
    yield Line((tip[0], y), (x, y), "cut")
    for side in (-1, 1):
        yield Line((x, y), (x - 0.0009, y + side * 0.0008), "cut")
