"""What is said of a photograph: what it shows, what was drawn on it, and what was measured on it."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from sashwright.window.names import PartName, Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Length

Fraction = Annotated[float, Field(ge=0, le=1)]
"""Of the picture's width from the left, or of its height from the top."""
Spot = tuple[Fraction, Fraction]
"""A point of the picture."""


class Mark(Model):
    """Something drawn on a photograph."""

    whole: ClassVar[bool] = True

    kind: Literal["arrow", "ring", "line", "words"]
    points: Annotated[tuple[Spot, ...], Field(min_length=1, max_length=200)]
    text: Text = ""


class Measure(Model):
    """What was marked on a photograph to measure by, and what came of it."""

    whole: ClassVar[bool] = True

    kind: Literal["length", "spacing", "angle"] = "length"
    corners: Annotated[tuple[Spot, ...], Field(max_length=4)] = ()
    """Of a rectangle of known size, going round; none where the picture was taken square to a section."""
    width: Annotated[float, Length(0.5, 2400)] | None = None
    """Of that rectangle, from its first corner to its second."""
    height: Annotated[float, Length(0.5, 2400)] | None = None
    """From its second corner to its third."""
    unsure: Annotated[float, Length(0, 12)] = 0.0
    """Standard error of both."""
    straight: Annotated[
        tuple[Annotated[tuple[Spot, ...], Field(min_length=3, max_length=50)], ...],
        Field(max_length=20),
    ] = ()
    """Edges known to be straight, to tell how far the lens bends them."""
    points: Annotated[tuple[Spot, ...], Field(max_length=50)] = ()
    """What is measured: the ends of a length, marks along a line, or the ends of two lines."""
    says: Text = ""
    """The result in words."""
    used_as: Text = ""
    """The field of the window that took its value, by its path; empty where none did."""
    used: Text = ""
    """The value that the field took."""


class PhotoNote(Model):
    """What is said of a photograph."""

    window: int | None = None
    """The row of the window it shows, which stays when the window is renumbered; else the house."""
    component: PartName | None = None
    note: Text = ""
    marks: Annotated[tuple[Mark, ...], Field(max_length=200)] = ()
    measures: Annotated[tuple[Measure, ...], Field(max_length=50)] = ()
