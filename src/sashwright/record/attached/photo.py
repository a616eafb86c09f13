"""What is said of a photograph: what it shows, and what was drawn on it."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from sashwright.window.names import PartName, Text
from sashwright.window.partial import Model

Fraction = Annotated[float, Field(ge=0, le=1)]
"""Of the picture's width from the left, or of its height from the top."""


class Mark(Model):
    """Something drawn on a photograph."""

    whole: ClassVar[bool] = True

    kind: Literal["arrow", "ring", "line", "words"]
    points: Annotated[tuple[tuple[Fraction, Fraction], ...], Field(min_length=1, max_length=200)]
    text: Text = ""


class PhotoNote(Model):
    """What is said of a photograph."""

    window: int | None = None
    """The row of the window it shows, which stays when the window is renumbered; else the house."""
    component: PartName | None = None
    note: Text = ""
    marks: Annotated[tuple[Mark, ...], Field(max_length=200)] = ()
