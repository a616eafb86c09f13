"""The cutting list in the words and units of the reader: stacks of wood, glass, templates, totals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.papers import cutwords
from sashwright.papers.cutwords import Row, Sum
from sashwright.papers.words import Words, count


@dataclass(frozen=True, slots=True)
class WoodLine:
    """One line of the cutting list."""

    window: str
    mark: str
    name: str
    unit: str
    count: int
    rough: str
    finished: str
    remarks: str


@dataclass(frozen=True, slots=True)
class WoodStack:
    """Lines that come out of one stack of boards."""

    title: str
    lumber: str
    lines: tuple[WoodLine, ...]


@dataclass(frozen=True, slots=True)
class GlassLine:
    """One line of the glass list."""

    window: str
    mark: str
    unit: str
    count: int
    size: str
    glass: str
    lites: str
    shape: str
    points: str
    """Of a template's outline, for a drawing with its foot at the bottom."""
    box: str
    """The drawing's view box."""


@dataclass(frozen=True, slots=True)
class Listed:
    """All that the page shows."""

    made: str
    where: str
    lumber: str
    panes: str
    rough: str
    stacks: tuple[WoodStack, ...]
    glass: tuple[GlassLine, ...]
    sums: tuple[tuple[str, tuple[Sum, ...]], ...]

    @property
    def anything(self) -> bool:
        return bool(self.stacks or self.glass)


def listed(answer: Answer, system: units.System) -> Listed:
    """The cutting list for the page."""
    words, values = Words(system), answer.values
    allowance = values["allowance_mm"]
    longer, wider, horn = (words.size(allowance[name]) for name in ("length", "width", "horn"))
    panes = list(cutwords.panes_of(answer))
    area = sum(row["area_m2"] for row in values["glass"])
    return Listed(
        cutwords.units_made(values),
        count(values["windows"], "window"),
        cutwords.lumber(words, values["board_feet"], values["rough_m3"]),
        f"{count(sum(pane['count'] for pane in panes), 'pane')}, {cutwords.area(words, area)}",
        f"Sizes in {words.length_unit}. Rough sizes are {longer} longer and {wider} wider; stiles have "
        f"{horn} more at each end, sawn off when the joint is glued.",
        tuple(_stacks(answer, words)),
        tuple(_glass(words, pane) for pane in panes),
        tuple(_sums(words, values)),
    )


def _stacks(answer: Answer, words: Words) -> Iterator[WoodStack]:
    for stack in cutwords.stacks(cutwords.parts_of(answer)):
        yield WoodStack(
            stack.title,
            cutwords.lumber(words, stack.board_feet, stack.rough_m3),
            tuple(_line(words, row) for row in stack.rows),
        )


def _line(words: Words, row: Row) -> WoodLine:
    return WoodLine(
        row["window"],
        row["mark"],
        row["name"],
        row["unit"],
        row["count"],
        cutwords.rough(words, row),
        cutwords.finished(words, row),
        cutwords.remarks(words, row),
    )


def _glass(words: Words, row: Row) -> GlassLine:
    points, box = _outline(row["template"]) if row["template"] else ("", "")
    return GlassLine(
        row["window"],
        row["mark"],
        row["unit"],
        row["count"],
        cutwords.cut_size(words, row),
        cutwords.glass_kind(row),
        ", ".join(row["lites"]),
        cutwords.shape(words, row),
        points,
        box,
    )


def _outline(template: Any) -> tuple[str, str]:
    """A template's outline with its foot at the bottom, and the box it fits in."""
    outline: Sequence[Sequence[float]] = template["outline_mm"]
    wide, high = max(x for x, _ in outline), max(y for _, y in outline)
    points = " ".join(f"{x:.1f},{high - y:.1f}" for x, y in outline)
    margin = 0.02 * max(wide, high)
    box = f"{-margin:.1f} {-margin:.1f} {wide + 2 * margin:.1f} {high + 2 * margin:.1f}"
    return points, box


def _sums(words: Words, values: Row) -> Iterator[tuple[str, tuple[Sum, ...]]]:
    for title, lines in (
        ("Rough lumber", cutwords.wood_sums(words, values)),
        ("Mouldings, run by the length", cutwords.moulding_sums(words, values)),
        ("Glass and putty", cutwords.glass_sums(words, values)),
        ("Paint, hardware, hanging", cutwords.other_sums(words, values)),
    ):
        if lines:
            yield title, tuple(lines)
