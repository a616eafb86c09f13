"""What the specification says of a window's place in the room: who sleeps, walks or bathes beside it.

Nothing said means not known; the grade chapter asks where the sizes make it matter. Distances are level,
from the nearest edge of the glass, and 0 where the glass stands over the thing itself.
"""

from __future__ import annotations

from typing import Annotated

from sashwright.window.partial import Model
from sashwright.window.quantities import Length

Away = Annotated[float, Length(0, 600)]


class Use(Model):
    """What is beside the window. Give a long distance, such as 50', where there is none of the kind."""

    bedroom: bool | None = None
    """Whether someone sleeps in the room; also a finished basement, which needs a way out as well."""
    walking_surface: Away | None = None
    """To the nearest floor, porch or path that people walk on, on either side of the glass."""
    stair: Away | None = None
    """To the nearest tread, ramp or landing of a stair; the sill's height is then from that tread."""
    stair_foot: Away | None = None
    """To the nosing of a stair's lowest tread."""
    water: Away | None = None
    """To the water's edge of a bath, shower, hot tub or pool that it looks on."""
    door: Away | None = None
    """To the edge of a door, shut, beside it in its plane or round the corner on its hinge side."""
    over_way: bool | None = None
    """Whether people pass or enter below it."""
    safety_glass: bool | None = None
    """Whether its panes carry the mark of safety glass, or a safety film tested on such a pane."""
    stop_lets_go: bool | None = None
    """Whether a stop that shortens the lower sash's travel lets go by hand, from the room."""
    bar: bool | None = None
    """Whether a bar fixed before the glass, 34 to 38 in above the floor, would hold a person off it."""
