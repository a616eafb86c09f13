"""The upkeep of a house through the years: a row for each thing, a dot for each year it comes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.drawing.axes import LETTERING, Field, wrapped
from sashwright.drawing.model import Arc, Drawing, Group, Item, Line, Text, drawing, rectangle

WIDTH = 0.088
ROW = 0.0092
LEAST, MOST = 0.00045, 0.00125
"""Radius of a dot for one window, and for all of them [m]."""
SMALL = 2.4
EVERY = 5
"""Years between figures on the axis."""


def keep_plot(answer: Answer) -> Drawing:
    """Years from left to right, things from top to bottom; what is due now in red pencil, and ringed.

    Parameters
    ----------
    answer
        The keep chapter's answer for a house.
    """
    title = f"{answer.house}: upkeep through the years"
    years = answer.values["years"]
    rows = _rows(years)
    if not rows:
        return drawing(title, "Nothing is planned.", (Text((0.0, 0.0), "nothing planned"),), 1.0)
    foot = -ROW * len(rows)
    first, last = years[0]["year"], years[-1]["year"]
    field = Field(0.0, foot, WIDTH, -foot, (first - 0.5, last + 0.5), (0.0, 1.0))
    due = {row["key"] for row in answer.values["due"]}
    most = max(len(windows) for counts in rows.values() for windows in counts.values())
    names = {row["key"]: row["name"] for year in years for row in year["rows"]}
    items: list[Item] = [Group(tuple(_axis(field, first, last)), classes="axes", hidden=True)]
    said = []
    for place, (key, counts) in enumerate(rows.items()):
        words = _words(names[key], counts)
        said.append(words)
        drawn = _row(field, -ROW * (place + 1), names[key], counts, most, key in due, first)
        items.append(Group(tuple(drawn), words))
    items += _notes(field)
    return drawing(title, f"{'; '.join(said)}.", items, 1.0)


def _rows(years: Sequence[Mapping[str, Any]]) -> dict[str, dict[int, list[str]]]:
    """Windows by year of each thing, the most frequent first."""
    found: dict[str, dict[int, list[str]]] = {}
    for year in years:
        for row in year["rows"]:
            found.setdefault(row["key"], {})[year["year"]] = row["windows"]
    return dict(sorted(found.items(), key=lambda item: -len(item[1])))


def _words(name: str, counts: Mapping[int, Sequence[str]]) -> str:
    years = list(counts)
    told = ", ".join(map(str, years[:4])) + (" and later" if len(years) > 4 else "")
    return f"{name}: {told}"


def _axis(field: Field, first: int, last: int) -> Iterator[Item]:
    yield Line((field.left, field.bottom), (field.right, field.bottom), "axis")
    for year in range(first, last + 1):
        if year % EVERY:
            continue
        x = field.x(year)
        yield Line((x, field.bottom), (x, field.top), "grid")
        yield Text((x, field.bottom), str(year), "figure", LETTERING, shift=(0.0, -3.9))
    now = field.x(first - 0.5), field.x(first + 0.5)
    yield rectangle(now[0], field.bottom, now[1], field.top, "void")


def _row(
    field: Field,
    bottom: float,
    name: str,
    counts: Mapping[int, Sequence[str]],
    most: int,
    due: bool,
    first: int,
) -> Iterator[Item]:
    middle = bottom + 0.0022
    yield Line((field.left, bottom), (field.right, bottom), "grid")
    for year, windows in counts.items():
        at = (field.x(year), middle)
        radius = LEAST + (MOST - LEAST) * math.sqrt((len(windows) - 1) / max(most - 1, 1))
        now = due and year == first
        yield Arc(at, radius, "pencil-fill" if now else "solid")
        if now:
            yield Arc(at, radius + 0.0005, "pencil")
    at = (field.left, middle)
    yield Text(at, name, "note halo", LETTERING, "start", shift=(3.6, 2.0))


def _notes(field: Field) -> Iterator[Item]:
    y = -8.2
    note = (
        "The larger the dot, the more windows. Shaded: this year. Ringed in red: due now. Far years are "
        "likely days only: see each window for how early and how late."
    )
    for line in wrapped(note, SMALL, WIDTH * 1000):
        yield Text((field.left, field.bottom), line, "note", SMALL, "start", shift=(0.0, y))
        y -= 3.2
