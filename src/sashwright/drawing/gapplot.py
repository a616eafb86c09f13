"""U at the centre of the glass against the air space before a storm, by both ways of reckoning it.

The reader's own way is the strong line. Marked are the space of a thin sealed unit, that of a storm set
far off, and in red what this window has.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat.say import BTU, CONVENTIONS, u_number
from sashwright.drawing.axes import LETTERING, Field, round_step, steps_between
from sashwright.drawing.model import (
    Anchor,
    Arc,
    Drawing,
    Group,
    Item,
    Line,
    Polyline,
    Text,
    drawing,
    outline,
)
from sashwright.drawing.paper import text_width

WIDTH, HEIGHT = 0.080, 0.050
"""Of the field between the axes, on paper at full size [m]."""
TICKS: Mapping[units.System, tuple[tuple[float, str], ...]] = {
    "us": (
        (3.175, "1/8"), (6.35, "1/4"), (12.7, "1/2"), (25.4, "1"), (50.8, "2"), (101.6, "4"),
    ),
    "metric": (
        (3, "3"), (5, "5"), (10, "10"), (20, "20"), (50, "50"), (100, "100"), (150, "150"),
    ),
}  # fmt: skip
"""Widths that the axis names [mm], and how."""
WAYS = {"na": "ISO 15099, −18 and 21 °C", "en": "EN 673"}
SAME = 3.0
"""Marks of this window nearer to each other on paper are one [mm]."""


def gap_plot(answer: WindowAnswer, system: units.System = "us") -> Drawing:
    """The curve of a window.

    Parameters
    ----------
    answer
        The heat chapter's answer for a window.
    """
    title = f"Window {answer.number}, the air space before the glass"
    curve = answer.values.get("curve")
    if not curve:
        note = Text((0.0, 0.0), "No storm sash can hang before this window.")
        return drawing(title, "No storm sash can hang before it.", (note,), 1.0)
    plot = _Plot(curve, system)
    return drawing(title, plot.words(), plot.items(), 1.0)


@dataclass(frozen=True)
class _Plot:
    curve: Mapping[str, Any]
    system: units.System

    @property
    def own(self) -> str:
        return CONVENTIONS[self.system]

    @property
    def other(self) -> str:
        return "en" if self.own == "na" else "na"

    def u(self, value: float) -> float:
        """As the axis has it."""
        return value / BTU if self.system == "us" else value

    @cached_property
    def field(self) -> Field:
        widths = self.curve["widths_mm"]
        every = [self.u(v) for way in ("en", "na") for v in self.curve[f"u_{way}_w_m2k"]]
        room = 0.10 * (max(every) - min(every))
        span = (math.log(widths[0]), math.log(widths[-1]))
        return Field(0.0, 0.0, WIDTH, HEIGHT, span, (min(every) - 3.0 * room, max(every) + room))

    # --- words ---

    def words(self) -> str:
        said = [
            f"{self._named(mark)} {self._width(mark['width_mm'])}, U "
            f"{u_number(mark[f'u_{self.own}_w_m2k'], self.system)}"
            for mark in self.curve["marks"]
        ]
        best = self._width(self.curve[f"best_{self.own}_mm"])
        return f"U of the glass and its storm: {'; '.join(said)}. From {best} on, more space gains nothing."

    def _named(self, mark: Mapping[str, Any]) -> str:
        return f"before the {mark['name']}" if "sash" in mark["name"] else "at"

    def _width(self, mm: float) -> str:
        nearest = (64 if mm < 10 else 16) if self.system == "us" else 1.0
        return units.format_length(mm / 1000, self.system, nearest)

    # --- items ---

    def items(self) -> Iterator[Item]:
        yield Group(tuple(self._scale()), classes="axes", hidden=True)
        yield Group(tuple(self._marks()), "spaces to compare", classes="marks")
        for way, pen in self._ways():
            yield Group(
                (Polyline(outline(self._course(way)), pen),), WAYS[way], classes="curve",
                data=(("convention", way),),
            )  # fmt: skip
        yield from self._window()
        yield Group(tuple(self._key()), classes="key", hidden=True)

    def _ways(self) -> tuple[tuple[str, str], ...]:
        """Both ways of reckoning with their pens, the reader's own on top."""
        return (self.other, "hidden"), (self.own, "curve")

    def _course(self, way: str) -> list[tuple[float, float]]:
        pairs = zip(self.curve["widths_mm"], self.curve[f"u_{way}_w_m2k"], strict=True)
        return [self._at(width, u) for width, u in pairs]

    def _at(self, width: float, u: float) -> tuple[float, float]:
        return self.field.at(math.log(width), self.u(u))

    def _key(self) -> Iterator[Item]:
        x, y = self.field.left, self.field.bottom - 0.0130
        for way, pen in reversed(self._ways()):
            yield Line((x, y + 0.0009), (x + 0.006, y + 0.0009), pen)
            yield Text((x, y), WAYS[way], "note", 2.4, "start", shift=(7.2, 0.0))
            x += 0.0110 + text_width(WAYS[way], 2.4) / 1000

    def _scale(self) -> Iterator[Item]:
        field = self.field
        low, high = field.y_range
        for value in steps_between(low, high, round_step((high - low) / 6)):
            y = field.y(value)
            yield Line((field.left, y), (field.right, y), "grid")
            text = f"{value:.2f}" if self.system == "us" else f"{value:.1f}"
            yield Text((field.left, y), text, "figure", LETTERING, "end", shift=(-1.4, -0.9))
        yield Line((field.left, field.bottom), (field.left, field.top), "axis")
        unit = (
            "U-factor, glass with a storm"
            if self.system == "us"
            else "U, glass with a storm, W/(m² K)"
        )
        yield Text((field.left, field.top), unit, size=LETTERING, anchor="start", shift=(-6.0, 2.4))
        yield Line((field.left, field.bottom), (field.right, field.bottom), "axis")
        for mm, name in TICKS[self.system]:
            x = field.x(math.log(mm))
            if not field.left - 1e-9 <= x <= field.right + 1e-9:
                continue
            yield Line((x, field.bottom), (x, field.bottom - 0.0010), "axis")
            yield Text((x, field.bottom), name, "figure", LETTERING, shift=(0.0, -3.9))
        words = "air space, inches" if self.system == "us" else "air space, mm"
        middle = ((field.left + field.right) / 2, field.bottom)
        yield Text(middle, words, "note", LETTERING, shift=(0.0, -7.6))

    def _marks(self) -> Iterator[Item]:
        """The two spaces that are compared, on the reader's line, where none of this window's is."""
        for mark in self.curve["marks"]:
            at = self._at(mark["width_mm"], mark[f"u_{self.own}_w_m2k"])
            if "sash" in mark["name"] or any(
                abs(at[0] - other[0]) * 1000 < SAME for _, other in self._owned
            ):
                continue
            yield Line((at[0], self.field.bottom), at, "ghost")
            yield Arc(at, 0.0007, "solid")
            text = u_number(mark[f"u_{self.own}_w_m2k"], self.system)
            yield Text(at, text, "figure halo", LETTERING, "start", shift=(0.8, 1.2))

    @cached_property
    def _owned(self) -> list[tuple[str, tuple[float, float]]]:
        """What this window has, narrowest first: in words, and where on the reader's line."""
        marks = sorted(
            (m for m in self.curve["marks"] if "sash" in m["name"]), key=lambda m: m["width_mm"]
        )
        places = [self._at(m["width_mm"], m[f"u_{self.own}_w_m2k"]) for m in marks]
        one = len(places) > 1 and (places[1][0] - places[0][0]) * 1000 < SAME
        found = []
        for mark, at in zip(marks[: 1 if one else None], places, strict=False):
            name = "both sash" if one else mark["name"].partition(" ")[0]
            u = u_number(mark[f"u_{self.own}_w_m2k"], self.system)
            found.append((f"{name} {self._width(mark['width_mm'])}: {u}", at))
        return found

    def _window(self) -> Iterator[Item]:
        """The spaces of this window, in red."""
        for index, (words, at) in enumerate(self._owned):
            foot = (at[0], self.field.bottom)
            half = text_width(words, LETTERING) / 2000
            out = at[0] + half > self.field.right
            anchor: Anchor = "end" if out else "middle"
            shift = (-0.8 if out else 0.0, 1.2 + 3.6 * index)
            yield Group(
                (Line(foot, at, "pencil"), Arc(at, 0.0010, "pencil pencil-fill"),
                 Text(foot, words, "pencil-note halo", LETTERING, anchor, shift=shift)),
                words, classes="own", data=(("marker", "own"),),
            )  # fmt: skip
