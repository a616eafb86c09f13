"""What the specification says of the rooms: where they lie in plan, and what joins them.

Plan coordinates [m]: x along the front of the house, from its left end as seen by somebody who stands
outside before the front; y from the front towards the back.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from sashwright.window.names import Key, Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Length, inches


class Room(Model):
    """A room as a rectangle of the plan; the windows' ``room`` is its key."""

    storey: Annotated[int, Field(ge=-2, le=60)] = 1
    left: Annotated[float, Length(0, 6000)] = 0.0
    """From the left end of the front."""
    front: Annotated[float, Length(0, 6000)] = 0.0
    """From the line of the front."""
    width: Annotated[float, Length(20, 2400)]
    """Along the front."""
    depth: Annotated[float, Length(20, 2400)]
    """From front to back."""
    height: Annotated[float, Length(60, 480)] = inches(102)
    heated: bool = True
    """Left out of the heating, such as an attic: False."""
    people: Annotated[float, Field(ge=0, le=20)] = 0.0
    """Who are in it, as a mean over the day."""
    appliances: Annotated[float, Field(ge=0, le=5000)] = 0.0
    """Heat of lamps and appliances, as a mean over the day [W]."""
    use: Literal["day", "night", "passing"] = "day"
    """When somebody is in it: by day, asleep at night, or only on the way."""
    note: Text = ""

    @property
    def area(self) -> float:
        """Of the floor [m2]."""
        return self.width * self.depth

    @property
    def volume(self) -> float:
        """[m3]"""
        return self.area * self.height


class Door(Model):
    """A door between two rooms, an open archway, or the well of a stair between two storeys."""

    between: tuple[Key, Key]
    """Two of the house's rooms."""
    kind: Literal["door", "archway", "stair"] = "door"
    width: Annotated[float, Length(12, 240)] = inches(32)
    height: Annotated[float, Length(12, 180)] = inches(80)
    """Of a stair: the length of its well in plan."""
    usual: Literal["open", "shut"] = "open"
    """How it stands where no plan says otherwise."""
    may_shut: bool = True
    """Whether people can shut it; an archway or a stair cannot be."""

    @property
    def shuts(self) -> bool:
        return self.kind == "door" and self.may_shut
