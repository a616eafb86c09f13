"""What the specification says of the change of storm sash and screens: marks, days, rack, crew."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sashwright.window.names import Key
from sashwright.window.partial import Model
from sashwright.window.quantities import Length, Temperature, inches


class Changeover(Model):
    """How the house numbers, hangs, stores and changes its storm sash and screens."""

    marks: Literal["by storey", "running", "window number"] = "by storey"
    """Storey and place in the walk (``104``), one run through the house (``14``), or the window's own
    number. A mark given with a window always stays."""
    numerals: Literal["figures", "roman"] = "figures"
    """As they are cut or stamped; Roman ones go with one run through the house."""
    front: Key | None = None
    """The wall that the walk starts at; the first of the house where not given."""
    walk: Literal["clockwise", "counterclockwise"] = "clockwise"
    """Round the house, seen from above."""
    warm: Annotated[float, Temperature(-10, 30)] = 13.0
    """Of the mean day: below it storms may go on, above it they are off."""
    cool: Annotated[float, Temperature(-10, 30)] = 7.0
    """Of the mean day: below it storms are on, above it they may come off."""
    crew: Annotated[int, Field(ge=1, le=6)] = 2
    minutes: Annotated[float, Field(gt=0, le=240)] = 12.5
    """For one opening from the ground, one way; twice as long from a ladder."""
    rack_gap: Annotated[float, Length(0, 6)] = inches(3 / 4)
    """Between pieces that stand on edge in the rack."""

    @model_validator(mode="after")
    def _in_order(self) -> Changeover:
        if self.cool > self.warm:
            raise ValueError(
                f"found cool {self.cool:g} °C above warm {self.warm:g} °C, expected it below"
            )
        if self.numerals == "roman" and self.marks != "running":
            raise ValueError(
                f"found Roman numerals with marks {self.marks}, expected marks 'running' with them"
            )
        return self
