"""Hours in which a window is wet or frosted, month by month, for each of its faces.

Three bars to the month, told apart by their hatching, their order and their names in the key: the middle
of the glass on the room's side, its edge with muntins and corners, and the inside of the storm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat.condensation_findings import LONG
from sashwright.drawing.axes import LETTERING, Field, round_step, steps_between
from sashwright.drawing.model import Drawing, Group, Hatch, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width
from sashwright.physics.hourly_year import MONTH_NAMES

WIDTH, HEIGHT = 0.084, 0.042
"""Of the field between the axes, on paper at full size [m]."""
FILLED = 0.78
"""Of a month's breadth, by its bars."""
LEAST = 90.0
"""Hours that the axis shows at least, so that a few hours look few."""


@dataclass(frozen=True, slots=True)
class Face:
    """One face of the window, its hours month by month, and how its bars look."""

    name: str
    key: str
    hours: tuple[float, ...]
    pen: str
    hatch: Hatch | None = None


def faces_of(year: Mapping[str, Any]) -> list[Face]:
    """The faces of a year of condensation, in the order of their bars."""
    parts = year["parts_wet_h"]
    edges = [hours for part, hours in parts.items() if part != "glass"]
    found = [
        Face(
            "room side: middle of the glass",
            "glass",
            tuple(parts.get("glass", (0,) * 12)),
            "paper edge",
        )
    ]
    if edges:
        worst = tuple(max(each) for each in zip(*edges, strict=True))
        found.append(Face("room side: edges, bars, corners", "edge", worst, "metal-far edge"))
    if year["storm_hung"]:
        found.append(
            Face("inside of the storm", "storm", tuple(year["storm_wet_h"]), "void edge", "metal")
        )
    return found


def wet_plot(answer: WindowAnswer) -> Drawing:
    """Wet hours of a window through the year.

    Parameters
    ----------
    answer
        The heat chapter's answer for a window.
    """
    title = f"Window {answer.number}, hours wet or frosted in each month"
    year = (answer.values.get("condensation") or {}).get("year")
    if not year:
        note = Text((0.0, 0.0), "Nothing is known of water on this window through the year.")
        return drawing(title, "Nothing is known of it.", (note,), 1.0)
    faces = faces_of(year)
    plot = _Plot(faces)
    return drawing(title, _words(faces), plot.items(), 1.0)


def _words(faces: Sequence[Face]) -> str:
    said = []
    for face in faces:
        whole = sum(face.hours)
        worst = max(range(12), key=lambda month: face.hours[month])
        more = f", most in {MONTH_NAMES[worst]}, {face.hours[worst]:.0f}" if whole else ""
        said.append(f"{face.name} {whole:.0f} hours{more}")
    return f"In a usual year: {'; '.join(said)}."


@dataclass(frozen=True)
class _Plot:
    faces: Sequence[Face]

    @cached_property
    def field(self) -> Field:
        most = max(max(face.hours) for face in self.faces)
        return Field(0.0, 0.0, WIDTH, HEIGHT, (0.0, 12.0), (0.0, max(most * 1.08, LEAST)))

    def items(self) -> Iterator[Item]:
        yield Group(tuple(self._scale()), classes="axes", hidden=True)
        for place, face in enumerate(self.faces):
            title = f"{face.name}: {', '.join(f'{hours:.0f}' for hours in face.hours)} hours"
            yield Group(
                tuple(self._bars(place, face)), title, classes="bars", data=(("face", face.key),)
            )
        yield from self._limit()
        yield Group(tuple(self._key()), classes="key", hidden=True)

    def _scale(self) -> Iterator[Item]:
        field = self.field
        most = field.y_range[1]
        for value in steps_between(0.0, most, round_step(most / 5)):
            y = field.y(value)
            yield Line((field.left, y), (field.right, y), "grid" if value else "axis")
            yield Text(
                (field.left, y), f"{value:g}", "figure", LETTERING, "end", shift=(-1.4, -0.9)
            )
        yield Line((field.left, field.bottom), (field.left, field.top), "axis")
        at = (field.left, field.top)
        yield Text(at, "hours in the month", size=LETTERING, anchor="start", shift=(-6.0, 2.4))
        for month, name in enumerate(MONTH_NAMES):
            x = field.x(month)
            yield Line((x, field.bottom), (x, field.bottom - 0.0010), "axis")
            middle = (field.x(month + 0.5), field.bottom)
            yield Text(middle, name[:1], "figure", LETTERING, shift=(0.0, -3.9))
        end = (field.right, field.bottom)
        yield Line(end, (field.right, field.bottom - 0.0010), "axis")

    def _bars(self, place: int, face: Face) -> Iterator[Item]:
        wide = FILLED / len(self.faces)
        for month, hours in enumerate(face.hours):
            if hours <= 0:
                continue
            start = month + (1 - FILLED) / 2 + place * wide
            left, right = self.field.x(start), self.field.x(start + wide)
            yield rectangle(
                left, self.field.bottom, right, self.field.y(hours), face.pen, face.hatch
            )

    def _limit(self) -> Iterator[Item]:
        """From where it is a caution."""
        y = self.field.y(LONG)
        line = Line((self.field.left, y), (self.field.right, y), "pencil")
        yield Group((line,), f"caution from {LONG:g} hours", classes="limit")

    def _key(self) -> Iterator[Item]:
        """Each face with a patch of its bars, in as many lines as they need."""
        x, drop = self.field.left, -8.8
        names = [*(face.name for face in self.faces), f"caution from {LONG:g} h"]
        for name, face in zip(names, [*self.faces, None], strict=True):
            wide = text_width(name, 2.4) / 1000 + 0.0085
            if x + wide > self.field.right + 0.002 and x > self.field.left:
                x, drop = self.field.left, drop - 3.8
            foot = self.field.bottom + drop / 1000
            if face is None:
                yield Line((x, foot + 0.0011), (x + 0.0036, foot + 0.0011), "pencil")
            else:
                yield rectangle(x, foot, x + 0.0036, foot + 0.0022, face.pen, face.hatch)
            yield Text((x, foot), name, "note", 2.4, "start", shift=(4.6, 0.2))
            x += wide
