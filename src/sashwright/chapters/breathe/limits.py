"""How far each sash may stand open in each part of the day: travel, children, the ground, rain, noise."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.breathe.noise import WHY, Noise
from sashwright.chapters.breathe.seasons import PARTS, PartName
from sashwright.chapters.building import Building, Glazed
from sashwright.chapters.grade.safety_codes import FALL, Code
from sashwright.chapters.grade.safety_fall import falls
from sashwright.units import INCH
from sashwright.window.layout import Which

SIDES: tuple[Which, Which] = ("upper", "lower")
SECURE = 4 * INCH
"""How far a sash within reach from outside may stand open at night [m]; common practice: no body passes."""
REACH = 2.4
"""Lower edge of an opening over the ground up to which it is within reach [m]; judgement."""
WET = 4 * INCH
"""How far an unsheltered sash on the weather side may stand open at night, when nobody sees the rain [m];
judgement."""


FALL_OUT = "a child could fall out"


@dataclass(frozen=True, slots=True)
class Limit:
    """How far a sash may go [m], and what holds it there; ``why`` is empty for its travel."""

    most: float
    why: str = ""
    both: bool = False
    """Whether it is what upper and lower sash may stand open together."""


@dataclass(frozen=True)
class Limits:
    """Of all windows of a house; ``quiet`` as if it were quiet outside."""

    building: Building
    quiet: bool = False

    @property
    def code(self) -> Code:
        """Whose rule for falls counts."""
        return "IRC" if self.building.house.units == "us" else "England"

    @cached_property
    def all(self) -> Mapping[tuple[str, Which, PartName], Limit]:
        """By window, sash and part of the day."""
        return {
            (glazed.number, which, part): self._limit(glazed, which, part)
            for glazed in self.building.windows
            for which in SIDES
            for part in PARTS
        }

    @cached_property
    def noise(self) -> Mapping[str, float]:
        """How far upper and lower sash may stand open together at night [m], where noise counts."""
        return {} if self.quiet else Noise(self.building).gaps

    def together(self, number: str, part: PartName, *, limited: bool) -> float:
        """How far upper and lower sash of a window may stand open together [m].

        The shorter travel: beyond it the sash cross and shut each other's gap. ``limited`` says whether noise
        counts.
        """
        span = min(self.travel(number, which) for which in SIDES)
        if limited and part == "night":
            span = min(span, self.noise.get(number, span))
        return span

    def travel(self, number: str, which: Which) -> float:
        """What the sash can move; nothing where a storm hangs all year [m]."""
        opens = self.building.opens[number]
        if not opens.can_open:
            return 0.0
        return opens.upper_travel if which == "upper" else opens.lower_travel

    def _limit(self, glazed: Glazed, which: Which, part: PartName) -> Limit:
        travel = self.travel(glazed.number, which)
        found = Limit(travel)
        ball = FALL[self.code].ball
        if travel > ball and self._falls(glazed, which):
            found = Limit(ball, FALL_OUT)
        if part == "night":
            if found.most > SECURE and self._within_reach(glazed, which):
                found = Limit(SECURE, "it is within reach from the ground")
            if found.most > WET and self._wet(glazed, which):
                found = Limit(WET, "rain drives against this wall")
            gap = self.noise.get(glazed.number, travel)
            if found.most > gap:
                found = Limit(gap, WHY[Noise(self.building).word(glazed)], both=True)
        return found

    def _falls(self, glazed: Glazed, which: Which) -> bool:
        """Whether the building code asks for a guard, and no bar is there."""
        if glazed.placed.window.use.bar:
            return False
        return any(each.which == which and each.due for each in falls(glazed.placed, self.code))

    def _within_reach(self, glazed: Glazed, which: Which) -> bool:
        sill = self.building.air_side.sill(glazed)
        edge = sill if which == "lower" else sill + glazed.placed.layout.lower.top
        return edge < REACH

    def _wet(self, glazed: Glazed, which: Which) -> bool:
        """On the weather side; the eaves shelter the upper sash of the top storey."""
        wall = self.building.house.walls[glazed.placed.window.wall]
        if wall.weather != "driving rain":
            return False
        heated = [zone.storey for zone in self.building.zones if zone.heated]
        return not (which == "upper" and glazed.placed.window.storey >= max(heated, default=1))
