"""Carbon of each alternative over the years, making and burning, and what each throws away."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright import units
from sashwright.drawing.costplot import CHOSEN, PENS
from sashwright.drawing.fates import Row, beside, compared_with, leading, short
from sashwright.drawing.model import (
    Drawing,
    Group,
    Hatch,
    Item,
    Line,
    Text,
    drawing,
    rectangle,
)
from sashwright.drawing.overyears import WIDTH, Course, chart, crossing

BAR, PITCH = 0.0026, 0.0044
LEFT = 0.030
"""Where the bars of what is thrown away begin [m]."""
HEAD = 0.0275
"""From the field down to these bars' heading [m]."""
SMALL = 2.4
TONNE = 1000.0


def carbon_plot(
    alternatives: Sequence[Row], *, base: str, chosen: str = "", system: units.System = "us"
) -> Drawing:
    """Carbon so far beside the base, year by year, and below it what goes to the tip through all years.

    Parameters
    ----------
    alternatives
        Rows of the worth chapter; of ways that are much alike the cheapest is drawn.
    base
        Key of what all are compared with: the line of zero.
    chosen
        Key of the one that the red pencil marks.
    """
    title = "Carbon over the years, and what is thrown away"
    rows = leading(alternatives, base)
    zero = next(row for row in rows if row["key"] == base)["carbon_by_year_kg"]
    name = compared_with(alternatives, base)
    courses = [
        Course(
            short(row),
            [kg / TONNE for kg in beside(row["carbon_by_year_kg"], zero)],
            CHOSEN if row["key"] == chosen else PENS[row["group"]],
            says=_says(row, beside(row["carbon_by_year_kg"], zero)),
        )
        for row in rows
        if row["key"] != base
    ]
    if not courses:
        note = Text((0.0, 0.0), "There is nothing to compare with.")
        return drawing(title, "There is nothing to compare with.", (note,), 1.0)
    words = "; ".join(course.says for course in courses)
    unit = f"t CO2e given off so far, more than “{name}”"
    pen = CHOSEN if chosen == base else "axis"
    notes = [
        "Begins with what the making gives off; then what is burnt less brings it down. Dot: made good."
    ]
    items = [
        *chart(courses, unit, short({"key": base, "name": name}), notes, zero_pen=pen),
        *_thrown_away(rows, len(zero) - 1, chosen, system),
    ]
    return drawing(title, f"Beside “{name}”: {words}.", items, 1.0)


def _says(row: Row, more: Sequence[float]) -> str:
    name = f"{row['name'][:1].lower()}{row['name'][1:]}"
    end = more[-1] / TONNE
    said = f"{name}: {row['carbon_made_now_kg']:.0f} kg made now, "
    said += f"{abs(end):.1f} t {'more' if end > 0 else 'less'} after {len(more) - 1} years"
    years = crossing(more)
    if years is None:
        return said
    return f"{said}, made good {f'after {years:.1f} years' if years >= 1 else 'within a year'}"


def _thrown_away(
    rows: Sequence[Row], years: int, chosen: str, system: units.System
) -> Iterator[Item]:
    head, unit = -HEAD, "lb" if system == "us" else "kg"
    each = units.POUND if system == "us" else 1.0
    text = f"Thrown away in {years} years, {unit}"
    yield Text((0.0, head), text, "note", SMALL, "start", shift=(-5.0, 0.0))
    most = max(row["landfill_kg"] for row in rows) or 1.0
    reach = WIDTH + 0.018 - LEFT
    for index, row in enumerate(rows):
        foot = head - 0.0018 - (index + 1) * PITCH
        end = LEFT + reach * row["landfill_kg"] / most
        figure = f"{row['landfill_kg'] / each:,.0f}"
        hatch: Hatch | None = "metal" if row["group"] == "replace" else None
        items: tuple[Item, ...] = (
            rectangle(LEFT, foot, end, foot + BAR, "wood edge", hatch),
            Text((LEFT, foot), short(row), "note", SMALL, "end", shift=(-1.4, 0.4)),
            Text((end, foot), figure, "figure halo", SMALL, "start", shift=(0.9, 0.4)),
        )
        if row["key"] == chosen:
            items += (Line((LEFT - 0.0007, foot), (LEFT - 0.0007, foot + BAR), "pencil-bold"),)
        yield Group(items, f"{row['name']}: {figure} {unit}", classes="bar")
