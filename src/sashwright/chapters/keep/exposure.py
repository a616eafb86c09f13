"""How much sooner sun and rain use up paint and putty on one window than on another, and what spares them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from sashwright.window.resolve import Placed
from sashwright.window.spec import Wall

HOTTEST = 200.0
"""The bearing that suffers most from the sun [degrees]: a little west of south, on the afternoon's side;
judgement, after NPS and GSA guidance that south and west weather first. North of the equator."""
SUN = 0.30
"""What the sun takes off a life there [-]; judgement. Walls that look away lose nothing."""
RAIN: Mapping[str, float] = {"sheltered": 1.3, "usual": 1.0, "driving rain": 0.75}
"""How long a life lasts by the rain that reaches the wall [-]; judgement."""
COVER: Mapping[str, float] = {"none": 1.0, "winter": 1.3, "all year": 1.6}
"""How long it lasts behind a storm sash [-]; judgement: half the year's weather, or nearly all of it."""
HIGH_STOREY = 3
HIGH = 0.9
"""From that storey up wind drives more rain at a wall [-]; judgement. Not at a sheltered one."""
LEAST, MOST = 0.5, 2.0
"""No factor goes beyond these [-]; judgement."""


@dataclass(frozen=True, slots=True)
class Exposure:
    """Factors on the life of what weathers at one window, each for itself."""

    sun: float
    rain: float
    height: float
    cover: float

    def factor(self, *, covered: bool) -> float:
        """All together; ``covered`` for what a storm sash spares."""
        whole = self.sun * self.rain * self.height * (self.cover if covered else 1.0)
        return min(max(whole, LEAST), MOST)


def exposure_of(placed: Placed, wall: Wall | None) -> Exposure:
    """The exposure of a window; of a wall that nobody described only its storm sash is known."""
    if wall is None:
        return Exposure(1.0, 1.0, 1.0, COVER[placed.family.storm])
    facing = max(math.cos(math.radians(wall.faces - HOTTEST)), 0.0)
    high = placed.window.storey >= HIGH_STOREY and wall.weather != "sheltered"
    return Exposure(
        1.0 - SUN * facing, RAIN[wall.weather], HIGH if high else 1.0, COVER[placed.family.storm]
    )
