"""Money spent on a house over the years, alternative beside alternative, energy counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.worth.say import SIGNS, amount
from sashwright.drawing.fates import Row, beside, compared_with, leading, scaled, short
from sashwright.drawing.model import Drawing, Text, drawing
from sashwright.drawing.overyears import Course, chart, crossing

Ranges = Mapping[str, Mapping[str, Sequence[float]]]

PENS = {"keep": "outline", "replace": "hidden-bold"}
CHOSEN = "pencil-bold"
BANDS = {"keep": "band", "replace": "void"}


def cost_plot(
    alternatives: Sequence[Row],
    *,
    base: str,
    chosen: str = "",
    ranges: Ranges | None = None,
    currency: str = "USD",
    discount: float = 0.0,
) -> Drawing:
    """What each alternative has cost so far more than the base, at its worth today.

    Parameters
    ----------
    alternatives
        Rows of the worth chapter; of ways that are much alike the cheapest is drawn.
    base
        Key of what all are compared with: the line of zero.
    chosen
        Key of the one that the red pencil marks.
    ranges
        ``low`` and ``high`` of the same difference by year, for some keys: the band round a line.
    currency, discount
        For the words: what is counted, and the interest [1/year].

    Notes
    -----
    Work that is done again at the end of its life makes a step. A dot stands where a line falls to zero.
    """
    title = "Money spent over the years"
    rows = [row for row in leading(alternatives, base) if row["key"] != base]
    zero = next(row for row in alternatives if row["key"] == base)["cost_by_year"]
    if not rows:
        note = Text((0.0, 0.0), "There is nothing to compare with.")
        return drawing(title, "There is nothing to compare with.", (note,), 1.0)
    more = {row["key"]: beside(row["cost_by_year"], zero) for row in rows}
    divide, word = scaled(max(abs(value) for each in more.values() for value in each))
    courses = [
        Course(
            short(row),
            [value / divide for value in more[row["key"]]],
            CHOSEN if row["key"] == chosen else PENS[row["group"]],
            *_ends(ranges or {}, row["key"], divide),
            BANDS[row["group"]],
            _says(row, more[row["key"]], currency),
        )
        for row in rows
    ]
    name = compared_with(alternatives, base)
    unit = f"{word}{SIGNS.get(currency, currency)} spent so far, more than “{name}”"
    words = "; ".join(course.says for course in courses)
    pen = CHOSEN if chosen == base else "axis"
    notes = list(_notes(courses, discount))
    items = chart(
        courses,
        unit[:1].upper() + unit[1:],
        short({"key": base, "name": name}),
        notes,
        zero_pen=pen,
    )
    return drawing(title, f"Beside “{name}”: {words}.", items, 1.0)


def _ends(ranges: Ranges, key: str, divide: float) -> tuple[list[float], list[float]]:
    found = ranges.get(key, {"low": (), "high": ()})
    low, high = ([value / divide for value in found[end]] for end in ("low", "high"))
    return low, high


def _says(row: Mapping[str, Any], more: Sequence[float], currency: str) -> str:
    name = f"{row['name'][:1].lower()}{row['name'][1:]}"
    end = more[-1]
    said = f"{name}: {amount(row['first_cost'], currency)} at once, "
    said += (
        f"{amount(abs(end), currency)} {'more' if end > 0 else 'less'} after {len(more) - 1} years"
    )
    years = crossing(more)
    return f"{said}, paid back after {years:.0f} years" if years is not None else said


def _notes(courses: Sequence[Course], discount: float) -> Iterator[str]:
    yield (
        f"First cost, renewals, upkeep and energy, at {100 * discount:g} % interest. A step: what has lived "
        "its life is done again. At the end, what is left counts."
    )
    if any(crossing(course.values) for course in courses):
        yield "Dot: paid back."
    if any(course.low for course in courses):
        yield "Band: eight of ten draws lie in it."
