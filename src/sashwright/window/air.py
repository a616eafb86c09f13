"""What the specification says of air: the state of a window's joints, fan tests, the house's wind."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sashwright.physics.infiltration import Foundation, Shielding, Terrain
from sashwright.window.names import Key
from sashwright.window.partial import Model
from sashwright.window.quantities import Flow, Length, Volume

Pressure = Annotated[float, Field(gt=0, le=1000)]
"""Difference of pressure [Pa]."""


class Seals(Model):
    """State of each path that air takes through the shut window, as found: rows of the leakage table.

    A weatherstrip in place at a joint (``strips``) comes before the state said here.
    """

    upper_sides: Key = "joint-average"
    lower_sides: Key = "joint-average"
    head: Key = "joint-average"
    meeting_rail: Key = "joint-average"
    sill: Key = "joint-average"
    pulleys: Key = "pulley-open"
    glass: Key = "putty-sound"
    """Between the glass and its putty."""
    frame: Key = "frame-wood-open"
    """Between the frame and the wall."""
    storm: Key = "storm-wood-average"
    """How well the storm sash fits, where one hangs."""


class AirTest(Model):
    """A fan test of one window, shut, its storm sash off; it overrides the sum of the paths."""

    flow: Annotated[float, Flow(0.00001, 1)]
    pressure: Pressure = 75.0
    """[Pa]"""
    covers: Literal["sash", "opening"] = "opening"
    """The sash alone, the frame's joint to the wall taped over, or all of the opening."""


class FanTest(Model):
    """A fan test of the whole house, windows shut and storm sash off: a flow, or air changes an hour."""

    flow: Annotated[float, Flow(0.001, 50)] | None = None
    air_changes: Annotated[float, Field(gt=0, le=100)] | None = None
    """In an hour; needs the volume of the house."""
    pressure: Pressure = 50.0
    """[Pa]"""
    exponent: Annotated[float, Field(ge=0.5, le=1)] = 0.65
    """Of the power law."""

    @model_validator(mode="after")
    def _one_of_two(self) -> FanTest:
        if (self.flow is None) == (self.air_changes is None):
            found = "neither flow nor air changes" if self.flow is None else "flow and air changes"
            raise ValueError(f"found {found}, expected one of the two")
        return self


class Air(Model):
    """What the wind meets, and what fan tests of the house found."""

    volume: Annotated[float, Volume(10, 100_000)] | None = None
    """Of the heated rooms."""
    eaves: Annotated[float, Length(60, 2400)] | None = None
    """Height of the eaves above the ground; by storeys where not given."""
    storeys: Annotated[int, Field(ge=1, le=20)] | None = None
    """Where not given, the highest storey that has a window."""
    terrain: Terrain = "suburb"
    """Round the house."""
    shielding: Shielding = "heavy"
    """By trees and other houses; heavy is usual in a suburb."""
    flue: bool = False
    """An open flue, such as a fireplace without a damper."""
    foundation: Foundation = "basement or slab"
    before: FanTest | None = None
    """Before work on the windows."""
    after: FanTest | None = None
    """After it, nothing else changed."""

    @model_validator(mode="after")
    def _changes_need_volume(self) -> Air:
        tests = (test for test in (self.before, self.after) if test is not None)
        if self.volume is None and any(test.air_changes is not None for test in tests):
            raise ValueError("found air changes, expected the volume of the house with them")
        return self
