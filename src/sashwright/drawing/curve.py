"""Effort through the travel of a sash, as a plot.

Up is the hand's push up, down its push down. Between the two curves lies the band of pushes that do not
move the sash; where it takes in no push at all, the sash stays where it is put.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.axes import round_step
from sashwright.drawing.model import (
    Arc,
    Drawing,
    Group,
    Item,
    Line,
    Polygon,
    Polyline,
    Text,
    drawing,
    outline,
)
from sashwright.drawing.weights import hanging_of
from sashwright.units import INCH, POUND_FORCE
from sashwright.window.layout import Which

WIDTH, HEIGHT = 0.084, 0.048
"""Of the field between the axes, on paper at full size [m]."""


def effort_plot(
    hang: WindowAnswer | Mapping[str, Any], which: Which, system: units.System = "us"
) -> Drawing:
    """Force to raise and to lower a sash against how far it is open.

    Parameters
    ----------
    hang
        The hang chapter's answer, or its values for this sash.
    """
    values = hanging_of(hang, which) if isinstance(hang, WindowAnswer) else hang
    plot = _plot_of(values, which, system)
    title = f"Effort, {which} sash"
    if plot is None:
        note = Text((0.0, 0.0), f"{which} sash: no effort to show")
        return drawing(title, "Nothing is known of the effort.", (note,), 1.0)
    return drawing(title, plot.words(), plot.items(), 1.0)


def _plot_of(values: Mapping[str, Any] | None, which: Which, system: units.System) -> _Plot | None:
    curve = (values or {}).get("effort_curve") or {}
    lift = [float(at) / 1000 for at in curve.get("lift_mm") or ()]
    if len(lift) < 2 or lift[-1] <= lift[0]:
        return None
    per = POUND_FORCE if system == "us" else 1.0
    up = tuple(float(force) / per for force in curve["raise_n"])
    down = tuple(-float(force) / per for force in curve["lower_n"])
    return _Plot(which, system, tuple(lift), up, down)


@dataclass(frozen=True)
class _Plot:
    which: Which
    system: units.System
    lift: Sequence[float]
    up: Sequence[float]
    down: Sequence[float]
    """Push that just lowers it, below zero when downward; in pounds or newtons like ``up``."""

    # --- scales ---

    @property
    def unit(self) -> str:
        return "lb" if self.system == "us" else "N"

    @property
    def step(self) -> float:
        span = max(*self.up, 0.0) - min(*self.down, 0.0)
        return round_step(max(span, 1e-6) / 4)

    @property
    def range(self) -> tuple[float, float]:
        low = min(*self.down, *self.up, 0.0)
        high = max(*self.up, *self.down, 0.0)
        step = self.step
        # Room for the curves' names beyond them.
        room = 0.12 * (high - low) / step
        return math.floor(low / step - room) * step, math.ceil(high / step + room) * step

    def x(self, lift: float) -> float:
        return (lift - self.lift[0]) / (self.lift[-1] - self.lift[0]) * WIDTH

    def y(self, force: float) -> float:
        low, high = self.range
        return (force - low) / (high - low) * HEIGHT

    def line(self, forces: Sequence[float]) -> list[tuple[float, float]]:
        return [(self.x(at), self.y(force)) for at, force in zip(self.lift, forces, strict=True)]

    @property
    def stays(self) -> bool:
        return min(self.up) > 0 > max(self.down)

    # --- what is drawn ---

    def items(self) -> Iterator[Item]:
        band = [*self.line(self.up), *reversed(self.line(self.down))]
        yield Group(
            (Polygon(outline(band), "band"),), "pushes that leave the sash where it is", "",
            "stays",
        )  # fmt: skip
        yield Group(tuple(self._axes()), classes="axes", hidden=True)
        raising = "raise" if self.which == "lower" else "raise again"
        yield Polyline(outline(self.line(self.up)), "curve")
        yield Polyline(outline(self.line(self.down)), "curve")
        yield from self._amiss()
        yield self._name(self.up, f"to {raising}", above=True)
        lowering = "lower again" if self.which == "lower" else "lower"
        yield self._name(self.down, f"to {lowering}", above=False)
        yield from self._stays_words()
        yield self._marker()

    def _creeping(self) -> Iterator[list[tuple[float, float]]]:
        """Runs of either curve beyond zero: there the sash moves by itself."""
        for forces, sign in ((self.up, 1.0), (self.down, -1.0)):
            run: list[tuple[float, float]] = []
            for point, force in zip(self.line(forces), forces, strict=True):
                if force * sign <= 0:
                    run.append(point)
                elif run:
                    yield run
                    run = []
            if run:
                yield run

    def _amiss(self) -> Iterator[Item]:
        """In red, where the sash creeps by itself: the curve, and how hard it pulls."""
        zero = self.y(0.0)
        for run in self._creeping():
            if len(run) > 1:
                area = [(run[0][0], zero), *run, (run[-1][0], zero)]
                yield Polygon(outline(area), "amiss")
                yield Polyline(outline(run), "pencil-bold")

    def _axes(self) -> Iterator[Item]:
        low, high = self.range
        step = self.step
        for index in range(round(low / step), round(high / step) + 1):
            force = index * step
            y = self.y(force)
            yield Line((0.0, y), (WIDTH, y), "axis" if index == 0 else "grid")
            # The same push either way: its direction is told by the side of the line.
            text = f"{abs(force):g}"
            yield Text((0.0, y), text, "figure", 2.2, "end", shift=(-1.4, -0.8))
        yield Line((0.0, 0.0), (0.0, HEIGHT), "axis")
        travel = self.lift[-1] - self.lift[0]
        for lift in _lift_marks(travel, self.system):
            x = self.x(lift + self.lift[0])
            yield Line((x, 0.0), (x, -0.0012), "axis")
            text = units.format_length(lift, self.system, marks=self.system == "us")
            yield Text((x, 0.0), text, "figure", 2.2, shift=(0.0, -4.0))
        yield Line((0.0, 0.0), (WIDTH, 0.0), "grid")
        way = "raised" if self.which == "lower" else "lowered"
        length = "" if self.system == "us" else ", mm"
        yield Text((WIDTH / 2, 0.0), f"{way} by{length}", size=2.2, shift=(0.0, -7.6))
        yield Text((0.0, HEIGHT), f"push, {self.unit}", size=2.2, anchor="start", shift=(-6.0, 2.2))

    def _name(self, forces: Sequence[float], words: str, *, above: bool) -> Text:
        """On the curve's outer side, near its open end."""
        index = (3 * len(forces)) // 4
        at = (self.x(self.lift[index]), self.y(forces[index]))
        return Text(at, words, "note halo", size=2.4, shift=(0.0, 1.6 if above else -3.4))

    def _stays_words(self) -> Iterator[Text]:
        middle = len(self.lift) // 3
        low, high = self.down[middle], self.up[middle]
        at = (self.x(self.lift[middle]), self.y((low + high) / 2))
        tall = (self.y(high) - self.y(low)) * 1000
        if self.stays and tall > 5:
            yield Text(at, "stays put", "note", 2.4, shift=(0.0, -0.8))
        elif not self.stays:
            yield Text(at, "creeps by itself", "pencil-note", 2.4, shift=(0.0, -0.8))

    def _marker(self) -> Group:
        """Where the sash is now: a page moves it right by the share of the travel."""
        up, down = (self.x(self.lift[0]), self.y(self.up[0])), (0.0, self.y(self.down[0]))
        return Group(
            (
                Line((0.0, 0.0), (0.0, HEIGHT), "pencil"),
                Arc((up[0], HEIGHT), 0.0011, "pencil pencil-fill"),
                Arc((down[0], 0.0), 0.0011, "pencil pencil-fill"),
            ),
            "the sash now",
            data=(
                ("marker", self.which),
                ("width-mm", f"{WIDTH * 1000:g}"),
                ("travel-mm", f"{(self.lift[-1] - self.lift[0]) * 1000:g}"),
            ),
        )

    def words(self) -> str:
        def force(value: float) -> str:
            return f"{value:.1f} {self.unit}"

        travel = units.format_length(self.lift[-1] - self.lift[0], self.system)
        stays = "stays where it is put" if self.stays else "does not stay everywhere by itself"
        return (
            f"Over {travel} of travel the {self.which} sash needs {force(min(self.up))} to "
            f"{force(max(self.up))} to raise and {force(-max(self.down))} to "
            f"{force(-min(self.down))} to lower; it {stays}."
        )


def _lift_marks(travel: float, system: units.System) -> list[float]:
    """Round lengths along the travel [m], about every fifth of it."""
    unit = INCH if system == "us" else 0.001
    steps = (1, 2, 3, 6, 12, 24, 48) if system == "us" else (20, 50, 100, 200, 500, 1000)
    step = next((s for s in steps if s * unit * 7 >= travel), steps[-1]) * unit
    return [index * step for index in range(math.floor(travel / step + 1e-9) + 1)]
