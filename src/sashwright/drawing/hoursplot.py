"""Hours that finished tasks took against the table, and what the next estimate makes of them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from sashwright.chapters.price.hours import Done, Learned
from sashwright.drawing.axes import LETTERING, Field, wrapped
from sashwright.drawing.model import Arc, Drawing, Group, Item, Line, Text, drawing, rectangle

WIDTH = 0.086
ROW = 0.0094
BAR = 0.0030
DOT = 0.00075
SMALL = 2.4
MARKS = (0.125, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
"""Times the table."""
LEAST = (0.5, 2.0)
"""The axis goes so far at the least, to the next of the marks."""


def hours_plot(
    jobs: Sequence[Done], learned: Mapping[str, Learned], names: Mapping[str, str]
) -> Drawing:
    """For each task: a dot for every finished one, and a bar for what the next is expected to take.

    Parameters
    ----------
    names
        Of tasks by key.
    """
    title = "Hours spent against the table"
    if not jobs:
        return drawing(title, "No finished work is recorded.", (), 1.0)
    tasks = list(dict.fromkeys(job.task for job in jobs))
    foot = -ROW * len(tasks)
    ends = _ends(jobs, learned)
    field = Field(0.0, foot, WIDTH, -foot, ends, (0.0, 1.0))
    items: list[Item] = [Group(tuple(_axis(field)), classes="axes", hidden=True)]
    said = []
    for place, task in enumerate(tasks):
        mine = [job for job in jobs if job.task == task]
        bottom = -ROW * (place + 1)
        name = names.get(task, task)
        words = _words(name, mine, learned.get(task))
        said.append(words)
        items.append(Group(tuple(_row(field, bottom, name, mine, learned.get(task))), words))
    items += _notes(field)
    return drawing(title, f"{'; '.join(said)}.", items, 1.0)


def _ends(jobs: Sequence[Done], learned: Mapping[str, Learned]) -> tuple[float, float]:
    """Of the axis, as logarithms."""
    ratios = [job.spent / job.estimated for job in jobs]
    ratios += [factor for each in learned.values() for factor in each.factors]
    low = max((m for m in MARKS if m <= min(*ratios, LEAST[0])), default=MARKS[0])
    high = min((m for m in MARKS if m >= max(*ratios, LEAST[1])), default=MARKS[-1])
    return math.log(low), math.log(high)


def _words(name: str, mine: Sequence[Done], learned: Learned | None) -> str:
    spent, estimated = sum(job.spent for job in mine), sum(job.estimated for job in mine)
    said = f"{name}: {spent:.1f} h spent, {estimated:.1f} h by the table"
    if learned is None:
        return said
    low, likely, high = learned.factors
    return f"{said}; the next one {likely:.2f} times the table, {low:.2f} to {high:.2f}"


def _axis(field: Field) -> Iterator[Item]:
    low, high = field.x_range
    for mark in MARKS:
        if not low - 1e-9 <= math.log(mark) <= high + 1e-9:
            continue
        x = field.x(math.log(mark))
        yield Line((x, field.bottom), (x, field.top), "axis" if mark == 1 else "grid")
        text = f"{mark:g}" if mark >= 1 else f"1/{1 / mark:g}"
        yield Text((x, field.bottom), text, "figure", LETTERING, shift=(0.0, -3.9))


def _row(
    field: Field, bottom: float, name: str, mine: Sequence[Done], learned: Learned | None
) -> Iterator[Item]:
    middle = bottom + 0.0005 + BAR / 2
    if learned is not None:
        low, likely, high = (field.x(_kept(math.log(each), field)) for each in learned.factors)
        yield rectangle(low, middle - BAR / 2, high, middle + BAR / 2, "wood edge")
        yield Line((likely, middle - BAR / 2 - 0.0004), (likely, middle + BAR / 2 + 0.0004), "cut")
    for job in mine:
        x = field.x(_kept(math.log(job.spent / job.estimated), field))
        yield Arc((x, middle), DOT, "pencil-fill edge")
    at = (field.left, middle + BAR / 2)
    yield Text(at, name, "note halo", LETTERING, "start", shift=(0.9, 1.0))
    figure = f"{len(mine)} done"
    yield Text((field.right, at[1]), figure, "figure halo", SMALL, "end", shift=(0.0, 1.0))


def _kept(value: float, field: Field) -> float:
    low, high = field.x_range
    return min(max(value, low), high)


def _notes(field: Field) -> Iterator[Item]:
    y = -8.2
    note = (
        "Times the hours of the table. Dots: finished tasks. Bar: eight of ten of the next, stroke the "
        "likely one, as learned from them."
    )
    for line in wrapped(note, SMALL, WIDTH * 1000):
        yield Text((field.left, field.bottom), line, "note", SMALL, "start", shift=(0.0, y))
        y -= 3.2
