"""How far the wind uses up each part of a window, on its elevation: every part filled like a gauge.

Glass is hatched from its foot up, wood inked along its length, each as far as its share; whatever bears
too little is ringed by the red pencil, and so is what gives way first. Figures say the same.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.words import Words
from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import (
    Callouts,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    Text,
    bounds_of,
    drawing,
    flattened,
    outline,
    part,
    walk,
)
from sashwright.window.resolve import Placed

Axis = Literal["x", "y"]

FIGURE = 2.6
"""Height of a lite's figure [mm]."""
COLUMN = 6.0
"""From the window's edge to the names of parts [mm]."""


@dataclass(frozen=True, slots=True)
class Load:
    """A part with its share: of what it bears, or without a wind speed of what the weakest part bears."""

    on: str
    name: str
    kind: str
    share: float
    figure: str

    @property
    def way(self) -> str:
        return "sags" if self.kind == "stiffness" else "breaks"

    @property
    def says(self) -> str:
        return f"{self.name} {self.figure}, {self.way}"

    @property
    def short(self) -> str:
        """Without the article and, but for meeting rails, the sash, which its place tells."""
        name = self.name.partition(" of the ")[0].partition(" on the ")[0].split(" ", 1)[-1]
        owner = self.on.partition(".")[0] if self.on.endswith("meeting_rail") else ""
        return f"{owner} {name} {self.figure}, {self.way}".strip()


def loads_of(answer: WindowAnswer, system: units.System) -> list[Load]:
    """Each part once, by what gives way first in it; the most used first."""
    rows = answer.values.get("utilisation", ())
    weakest = min((row["capacity_pa"] for row in rows), default=1.0)
    found: dict[str, Load] = {}
    for row in rows:
        used = row["utilisation"]
        share = weakest / row["capacity_pa"] if used is None else used
        figure = Words(system).pressure(row["capacity_pa"]) if used is None else percent(used)
        load = Load(row["on"], row["name"], row["kind"], share, figure)
        if load.on not in found or load.share > found[load.on].share:
            found[load.on] = load
    return sorted(found.values(), key=lambda each: -each.share)


def percent(share: float) -> str:
    """A share in whole percent; what is next to nothing says so."""
    return "< 1 %" if 0 < share < 0.005 else f"{100 * share:.0f} %"


def load_plot(placed: Placed, answer: WindowAnswer, system: units.System = "us") -> Drawing:
    """The window from outside with each part as far filled as the design wind uses it.

    Parameters
    ----------
    answer
        The grade chapter's answer for the window. Without a design wind speed parts are filled in
        proportion to the one that gives way first, and figures tell the pressure that each bears.
    """
    loads = loads_of(answer, system)
    wind = answer.values["wind"]
    base = elevation(placed, "outside", system, dimensions=False)
    shapes = dict(_shapes(base.items))
    drawn = [each for each in loads if each.on in shapes]
    governs = next((each for each in loads if each.on == wind["governs"]), None)
    known = wind["utilisation"] is not None
    ringed = {each.on for each in drawn if each.share > 1.0 and known}
    # The part that gives way first, and its equals beside it.
    ringed |= {
        each.on
        for each in drawn
        if governs and each.name == governs.name and math.isclose(each.share, governs.share)
    }
    items: list[Item] = [*base.items]
    for load in reversed(drawn):
        items.append(_gauge(load, shapes[load.on], shapes, ringed=load.on in ringed))
    items += _figures(drawn, shapes)
    items.append(_names(drawn, shapes, base.bounds.right))
    twin = placed.left is not None or placed.right is not None
    items += _beside(loads, base.bounds.left, base.bounds.bottom, lower=twin)
    title = f"Window {answer.number}, what the {'design wind uses' if known else 'parts bear'}"
    return drawing(title, _words(loads, governs, known=known), items, 0.1)


def _words(loads: Sequence[Load], governs: Load | None, *, known: bool) -> str:
    first = f"First to give way: {governs.says}. " if governs else ""
    once = {each.name: each for each in reversed(loads)}
    rest = "; ".join(each.says for each in sorted(once.values(), key=lambda each: -each.share))
    of = "Share of what each part bears" if known else "Pressure that each part bears"
    return f"{first}{of}: {rest}."


# --- shapes ---------------------------------------------------------------------------------------


def _shapes(items: Iterable[Item]) -> Iterator[tuple[str, tuple[Polygon, ...]]]:
    """Outlines of each part by its name on the drawing."""
    for item in walk(items):
        if not isinstance(item, Group):
            continue
        name = dict(item.data).get("part", "")
        pieces = tuple(piece for piece in item.items if isinstance(piece, Polygon))
        if ".lite." in name:
            pieces = tuple(piece for piece in pieces if "glass" in piece.pen)
        if name and pieces:
            yield name, pieces


def _gauge(
    load: Load,
    pieces: Sequence[Polygon],
    shapes: Mapping[str, tuple[Polygon, ...]],
    *,
    ringed: bool,
) -> Group:
    """The part filled up to its share, and ringed."""
    glass = load.kind == "glass"
    items: list[Item] = []
    for piece in pieces:
        points = _own_half(load.on, flattened(piece.points), shapes)
        axis: Axis = "y" if glass or _upright(points) else "x"
        filled = below(points, axis, _level(points, axis, min(load.share, 1.0)))
        if len(filled) > 2:
            broad = glass or load.on.startswith("frame.")
            items.append(
                Polygon(outline(filled), "void" if broad else "metal", "metal" if broad else None)
            )
            if broad and load.share < 1.0:
                items.append(_surface(filled))
        if ringed:
            pen = "pencil-bold" if load.share > 1.0 else "pencil"
            items.append(Polygon(outline(points), pen))
    return part(load.on, load.says, items)


def _own_half(
    on: str, points: list[Point], shapes: Mapping[str, tuple[Polygon, ...]]
) -> list[Point]:
    """Meeting rails lie behind each other: the upper shows in the upper half of the one in front."""
    if not on.endswith("meeting_rail"):
        return points
    front = shapes.get("upper.meeting_rail")
    if front is None:
        return points
    shape = flattened(front[0].points)
    middle = (min(y for _, y in shape) + max(y for _, y in shape)) / 2
    if on.startswith("lower"):
        return below(shape, "y", middle)
    return [(x, max(y, middle)) for x, y in shape]


def _upright(points: Sequence[Point]) -> bool:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(ys) - min(ys) >= max(xs) - min(xs)


def _level(points: Sequence[Point], axis: Axis, share: float) -> float:
    along = [point[axis == "y"] for point in points]
    return min(along) + share * (max(along) - min(along))


def _surface(filled: Sequence[Point]) -> Line:
    """The upper edge of what is filled."""
    top = max(y for _, y in filled)
    ends = [x for x, y in filled if y > top - 1e-9]
    return Line((min(ends), top), (max(ends), top), "axis")


def below(points: Sequence[Point], axis: Axis, level: float) -> list[Point]:
    """The part of an outline whose ``axis`` is at most ``level``."""
    at = int(axis == "y")
    kept: list[Point] = []
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        if a[at] <= level:
            kept.append(a)
        if (a[at] - level) * (b[at] - level) < 0:
            share = (level - a[at]) / (b[at] - a[at])
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


# --- lettering ------------------------------------------------------------------------------------


def _figures(loads: Sequence[Load], shapes: Mapping[str, tuple[Polygon, ...]]) -> Iterator[Item]:
    """Every lite's own figure, where it has room."""
    for load in loads:
        if load.kind == "glass":
            left, bottom, right, top = bounds_of(shapes[load.on])
            at = ((left + right) / 2, (bottom + top) / 2)
            pen = "pencil-note halo" if load.share > 1.0 else "figure halo"
            shift = (0.0, -FIGURE / 3)
            yield Text(at, load.figure, pen, FIGURE, shift=shift, room=right - left)


def _names(
    loads: Sequence[Load], shapes: Mapping[str, tuple[Polygon, ...]], edge: float
) -> Callouts:
    """Wooden parts by name, each once by the one most used; leaders run clear of the lites' figures."""
    once: dict[str, tuple[Point, str]] = {}
    for load in loads:
        if load.kind == "glass" or load.name in once:
            continue
        # Of cross bars, drawn as one part, the one farthest to the right is nearest to its name.
        pieces = max(shapes[load.on], key=lambda piece: bounds_of((piece,))[2])
        points = _own_half(load.on, flattened(pieces.points), shapes)
        left, bottom, right, top = bounds_of((Polygon(outline(points), ""),))
        if _upright(points):
            at = ((left + right) / 2, bottom + (top - bottom) * 0.83)
        else:
            at = (left + (right - left) * 0.94, (bottom + top) / 2)
        once[load.name] = (at, load.short)
    return Callouts("right", edge, COLUMN, tuple(once.values()))


def _beside(loads: Sequence[Load], left: float, foot: float, *, lower: bool) -> Iterator[Item]:
    """What hangs before the window and is not drawn; ``lower`` clears the name of a window beside."""
    storm = next((each for each in loads if each.on.startswith("storm.")), None)
    if storm is not None:
        pen = "pencil-note" if storm.share > 1.0 else "note"
        shift = (0.0, -8.8 if lower else -4.4)
        text = f"Storm sash, not drawn: {storm.short}"
        yield Text((left, foot), text, pen, FIGURE, "start", shift=shift)
