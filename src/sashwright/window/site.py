"""What the specification says of the house in the wind: speed, ground, height. Nothing is ever guessed.

Which fields count goes by the standard: ``exposure``, ``roof_slope``, ``least_side``, ``enclosure``,
``elevation`` and hills by ASCE 7; ``terrain`` by EN 1991-1-4.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from sashwright.physics import wind
from sashwright.window.names import Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Angle, Length, Speed

Standard = Literal["ASCE 7-22", "ASCE 7-16", "EN 1991-1-4"]


class Hill(Model):
    """A ridge, an escarpment or a round hill that the house stands on or near, by ASCE 7, section 26.8."""

    kind: wind.Hill
    rise: Annotated[float, Length(12, 60_000)]
    """Over the ground upwind."""
    half_length: Annotated[float, Length(12, 600_000)]
    """From the crest upwind to where the ground lies half the rise lower."""
    distance: Annotated[float, Length(0, 600_000)] = 0.0
    """Of the house from the crest."""
    downwind: bool = False
    """Whether the house stands beyond the crest."""


class Site(Model):
    """The wind that the windows must stand, as the local code asks it."""

    standard: Standard = "ASCE 7-22"
    """Which edition the wind speed is of."""
    wind_speed: Annotated[float, Speed(15, 120)] | None = None
    """Design wind speed of the local code's map: a gust of three seconds in America, the basic velocity,
    a mean of ten minutes, in Europe."""
    confirmed_by: Text = ""
    """Who confirmed it, such as the building department, and when; empty while it is a placeholder."""
    exposure: wind.Exposure | None = None
    """Ground upwind: B suburbs and woods, C open country, D open water; C where not given."""
    terrain: wind.Terrain | None = None
    """European category: 0 sea, I lakes, II fields, III suburbs and woods, IV towns; II where not given."""
    roof_height: Annotated[float, Length(60, 2400)] | None = None
    """Mean height of the roof above the ground; from the eaves or the storeys where not given."""
    roof_slope: Annotated[float, Angle(0, 80)] | None = None
    """Of the roof against the level."""
    least_side: Annotated[float, Length(60, 12_000)] | None = None
    """The lesser side of the house on plan; the shortest wall where all have a length."""
    topography: Annotated[float, Field(ge=1, le=3)] = 1.0
    """Factor of the ground's shape: of the wind's pressure in America, of its speed in Europe."""
    hill: Hill | None = None
    """From which that factor is worked out instead, in America."""
    enclosure: wind.Enclosure = "enclosed"
    """Of the house, for the pressure inside."""
    elevation: Annotated[float, Length(0, 240_000)] = 0.0
    """Of the ground above the sea."""
