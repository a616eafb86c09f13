"""A section with its lines of equal warmth, and the red line at which the room's air gives off water.

Where the heavy red line comes out on the room's side, that face is wet; where it stays within the glass, the
wood or the space behind a storm, the room's side is dry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat.pictured import Pictured
from sashwright.drawing.axes import LETTERING, steps_between, wrapped
from sashwright.drawing.broken import break_line
from sashwright.drawing.contours import contour
from sashwright.drawing.model import (
    Drawing,
    Group,
    Item,
    Point,
    Polygon,
    Polyline,
    Text,
    drawing,
    outline,
)
from sashwright.drawing.paper import text_width
from sashwright.physics.psychrometrics import dew_point, saturation_pressure

Array = NDArray[np.float64]

GLASS_SHOWN = 0.070
"""Of the glass, from its sight line [m]; the edge band of the rating is 63.5 mm."""
BAR_SHOWN = 0.045
SLENDER = 0.05
"""The same beside a bar, which is one by its width [m]."""
BREADTH = 78.0
"""Most that a section takes on paper [mm], figures not counted; so wide a phone still shows it."""
LARGEST = 0.5
"""Scale beyond which small sections are not blown up."""
HUMIDITY = 0.40
"""Of the room's air where no year is known [-]; common practice for a heated house."""
STEPS = {"us": 5.0, "metric": 2.0}
"""Between lines, in the reader's degrees."""
FIGURE = 2.3
"""Height of a line's figure [mm]."""
EDGE = 4.4
"""From a figure to the foot and the top of the picture, where glass is broken off [mm]."""
NEAR = 1.05
"""From a figure to the next line, where figures are legible at all [mm]."""
PIECES = {
    "wood": "wood small",
    "glass": "glass small",
    "panel": "glass small",
    "putty": "putty small",
    "metal": "metal small",
    "bronze": "metal small",
    "spacer": "metal small",
}


@dataclass(frozen=True, slots=True)
class State:
    """Warmth on both sides [°C], and the humidity of the room's air [-], said where it comes from."""

    outdoor: float
    room: float
    humidity: float
    because: str = ""

    @property
    def dew_point(self) -> float:
        """At which the room's air gives off water [°C]."""
        return float(dew_point(self.humidity * saturation_pressure(self.room)))

    def at(self, factor: float) -> float:
        """Warmth where the temperature factor is so much [°C]."""
        return self.outdoor + factor * (self.room - self.outdoor)


def state_of(answer: WindowAnswer, humidity: float | None = None) -> State:
    """The coldest weather of a heat answer, and the room's air in it.

    Parameters
    ----------
    answer
        The heat chapter's answer for a window, with values.
    humidity
        Of the room's air [-]; otherwise the mean of its winter, or without weather ``HUMIDITY``.
    """
    seen = answer.values["weathers"][0]
    year = (answer.values.get("condensation") or {}).get("year")
    because = "as asked for"
    if humidity is None and year:
        humidity, because = year["indoor_humidity_winter"], "the room’s mean in winter"
    elif humidity is None:
        humidity, because = HUMIDITY, "by choice"
    return State(seen["outdoor_c"], seen["room_c"], humidity, because)


def isotherms(section: Pictured, state: State, system: units.System = "us") -> Drawing:
    """One section through a window with its isotherms.

    Parameters
    ----------
    section
        See ``chapters.heat.pictured``.
    state
        The weather and the room. Flow through a section grows with the difference, so that factors of
        one weather hold in all.
    """
    plot = _Plot(section, state, system)
    flow = section.flow
    title = f"Lines of equal warmth: {flow.title}"
    return drawing(title, " ".join(plot.words()), plot.items(), plot.scale)


def degrees(celsius: float, system: units.System) -> str:
    return units.format_temperature(celsius, system)


def _shown(celsius: float | Array, system: units.System) -> float | Array:
    return celsius * 1.8 + 32 if system == "us" else celsius


@dataclass(frozen=True)
class _Plot:
    section: Pictured
    state: State
    system: units.System

    # --- its window ---

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """What is shown [m]: x0, y0, x1, y1; the glass cut off at its distance."""
        nodes = self.section.flow.field.nodes
        (x0, y0), (x1, y1) = nodes.min(axis=0), nodes.max(axis=0)
        low, high = (y0, y1) if self.section.upright else (x0, x1)
        shown = BAR_SHOWN if self.section.flow.width < SLENDER else GLASS_SHOWN
        for sight, towards in zip(self.section.sights, self.section.towards, strict=True):
            end = sight + towards * shown
            low, high = (max(low, end), high) if towards < 0 else (low, min(high, end))
        if self.section.upright:
            return float(x0), float(low), float(x1), float(high)
        return float(low), float(y0), float(high), float(y1)

    @cached_property
    def scale(self) -> float:
        x0, _, x1, _ = self.box
        return min(LARGEST, BREADTH / 1000 / (x1 - x0))

    @property
    def k(self) -> float:
        """Paper millimetres to the metre."""
        return 1000 * self.scale

    # --- words ---

    def words(self) -> Iterator[str]:
        flow, state, system = self.section.flow, self.state, self.system
        behind = {"exterior": " behind the storm sash", "interior": " behind the inside storm"}
        yield f"{flow.title[:1].upper()}{flow.title[1:]}{behind.get(flow.storm, '')}."
        yield (
            f"Outdoors {degrees(state.outdoor, system)}, in the room {degrees(state.room, system)}. "
            f"Coldest on the room's side: the glass {degrees(self.coldest_glass, system)}, the wood "
            f"{degrees(self.coldest_wood, system)}."
        )
        yield (
            f"The room's air gives off water at {degrees(state.dew_point, system)}: "
            f"{'the edge is wet' if self.wet else 'the room’s side stays dry'}."
        )

    @property
    def coldest_glass(self) -> float:
        return self.state.at(self.section.flow.factor_glass)

    @property
    def coldest_wood(self) -> float:
        return self.state.at(self.section.flow.factor_frame)

    @property
    def wet(self) -> bool:
        return min(self.coldest_glass, self.coldest_wood) < self.state.dew_point

    # --- items ---

    def items(self) -> Iterator[Item]:
        yield Group(tuple(self._pieces()), "cut pieces", classes="pieces")
        warm = self._warm()
        names = _Names(self.k, self.box)
        dew = self._line(self.state.dew_point)
        label = f"dew {degrees(self.state.dew_point, self.system)}"
        red = list(names.on(dew, label, [p for _, lines in warm for p in lines], red=True))
        yield Group(
            tuple(self._level(value, warm, names) for value in warm), "lines of equal warmth",
            classes="isotherms",
        )  # fmt: skip
        curves = tuple(Polyline(outline(map(tuple, line)), "pencil-bold") for line in dew)
        if curves:
            yield Group((*curves, *red), label, classes="dew")
        yield Group(tuple(self._frame()), classes="axes", hidden=True)

    def _pieces(self) -> Iterator[Item]:
        for piece in self.section.pieces:
            shape = shapely.clip_by_rect(_valid(piece.points), *self.box)
            for part in shapely.get_parts(shape):
                if part.geom_type == "Polygon" and part.area > 1e-8:
                    ring = tuple(map(tuple, part.exterior.coords[:-1]))
                    yield Polygon(outline(ring), PIECES.get(piece.kind, "void small"))

    def _line(self, celsius: float) -> list[Array]:
        """The isotherm of a warmth, cut off where the picture ends, its needless points left out."""
        field = self.section.flow.field
        factor = (celsius - self.state.outdoor) / (self.state.room - self.state.outdoor)
        found = contour(field.nodes, field.triangles, field.factors, factor)
        kept = []
        for line in found:
            plain = shapely.simplify(shapely.LineString(line), 0.06 / self.k)
            for part in shapely.get_parts(shapely.clip_by_rect(plain, *self.box)):
                if part.length * self.k > 0.8:
                    kept.append(np.array(part.coords))
        return kept

    def _warm(self) -> list[tuple[float, list[Array]]]:
        """All lines: the degrees shown, and their course."""
        low, high = (_shown(each, self.system) for each in (self.state.outdoor, self.state.room))
        found = []
        for value in steps_between(float(low), float(high), STEPS[self.system]):
            celsius = (value - 32) / 1.8 if self.system == "us" else value
            lines = self._line(celsius)
            if lines:
                found.append((value, lines))
        return found

    def _level(
        self, level: tuple[float, list[Array]], every: Sequence[tuple[float, list[Array]]],
        names: _Names,
    ) -> Group:  # fmt: skip
        value, lines = level
        others = [line for other, found in every if other != value for line in found]
        figure = f"{value:g}°".replace("-", "−")
        curves = (Polyline(outline(map(tuple, line)), "axis") for line in lines)
        return Group((*curves, *names.on(lines, figure, others)), figure, classes="isotherm")

    def _frame(self) -> Iterator[Item]:
        """Where the glass is broken off, which side is which, and what the lines are."""
        x0, y0, x1, y1 = self.box
        over = 2.0 / self.k
        for towards in self.section.towards:
            if self.section.upright:
                y = y1 if towards > 0 else y0
                yield break_line((x0 - over, y), (x1 + over, y))
            else:
                x = x1 if towards > 0 else x0
                yield break_line((x, y0 - over), (x, y1 + over))
        yield from self._sides()
        yield from self._legend()

    def _sides(self) -> Iterator[Text]:
        x0, y0, x1, y1 = self.box
        said = (
            f"outdoors {degrees(self.state.outdoor, self.system)}",
            f"room {degrees(self.state.room, self.system)}",
        )
        if self.section.upright:
            for at, words, anchor in ((x0, said[0], "start"), (x1, said[1], "end")):
                yield Text((at, y1), words, "note", LETTERING, anchor, shift=(0.0, 4.6))  # type: ignore[arg-type]
            return
        for y, words, shift in ((y1, said[1], 3.2), (y0, said[0], -5.2)):
            yield Text((x0, y), words, "note", LETTERING, "start", shift=(0.0, shift))

    def _legend(self) -> Iterator[Text]:
        x0, y0, _, _ = self.box
        unit = "°F" if self.system == "us" else "°C"
        state = self.state
        said = [f"Lines of equal warmth, every {STEPS[self.system]:g} {unit}."]
        dew = (
            f"Heavy red line: dew point {degrees(state.dew_point, self.system)} of air at "
            f"{100 * state.humidity:.0f} %{', ' if state.because else ''}{state.because}."
        )
        said += wrapped(dew, 2.4, BREADTH)
        drop = -6.0 if self.section.upright else -9.6
        for index, line in enumerate(said):
            pen = "note" if index == 0 else "pencil-note"
            yield Text((x0, y0), line, pen, 2.4, "start", shift=(0.0, drop - 3.5 * index))


class _Names:
    """Finds places for figures on lines, clear of each other and where lines stand far apart."""

    def __init__(self, k: float, box: tuple[float, float, float, float]) -> None:
        self._k, self._box = k, box
        self._taken: list[tuple[float, float, float]] = []

    def on(
        self, lines: Sequence[Array], text: str, others: Sequence[Array], *, red: bool = False
    ) -> Iterator[Text]:
        """The figure of a line, if there is room for one."""
        half = text_width(text, FIGURE) / 2 + 0.3
        points = self._candidates(lines, 0.0 if red else half)
        if not len(points):
            return
        apart = self._apart(points, others)
        clear = self._clear(points, half)
        good = (clear > 0) & ((apart > NEAR) | red)
        if not good.any():
            return
        score = np.where(good, 2.0 * np.minimum(apart, 3.5) + 0.35 * np.minimum(clear, 12.0), -1.0)
        x, y = points[int(score.argmax())]
        self._taken.append((x, y, half))
        at: Point = (x / self._k, y / self._k)
        pen = "pencil-note halo" if red else "figure halo"
        yield Text(at, text, pen, FIGURE, shift=(0.0, -0.36 * FIGURE))

    def _candidates(self, lines: Sequence[Array], half: float) -> Array:
        """Points along the lines on paper [mm], from which the figure stays within the picture."""
        x0, y0, x1, y1 = (self._k * edge for edge in self._box)
        found = [np.empty((0, 2))]
        for line in lines:
            course = shapely.LineString(line * self._k)
            steps = np.arange(0.6, course.length, 0.8)
            found.append(shapely.get_coordinates(shapely.line_interpolate_point(course, steps)))
        points = np.vstack(found)
        inside = (
            (points[:, 0] > x0 + half) & (points[:, 0] < x1 - half)
            & (points[:, 1] > y0 + EDGE) & (points[:, 1] < y1 - EDGE)
        )  # fmt: skip
        return points[inside]

    def _apart(self, points: Array, others: Sequence[Array]) -> Array:
        """From each point to the nearest other line [mm]."""
        if not others:
            return np.full(len(points), math.inf)
        every = shapely.multilinestrings([shapely.LineString(o * self._k) for o in others])
        found: Array = shapely.distance(shapely.points(points), every)
        return found

    def _clear(self, points: Array, half: float) -> Array:
        """Free paper between a figure there and the nearest that stands already [mm]; below 0 if none."""
        free = np.full(len(points), 99.0)
        for x, y, other in self._taken:
            across = np.abs(points[:, 0] - x) - half - other
            up = np.abs(points[:, 1] - y) - 1.5 * FIGURE
            free = np.minimum(free, np.maximum(across, up))
        return free


def _valid(points: Sequence[Point]) -> shapely.Geometry:
    shape = shapely.Polygon(points)
    return shape if shape.is_valid else shapely.make_valid(shape)
