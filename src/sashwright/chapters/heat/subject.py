"""One window as the heat chapter sees it: its states, each with heat, air, sun and comfort."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sashwright.chapters.heat.builds import Build, Key
from sashwright.chapters.heat.comfort import Comfort, comfort_of
from sashwright.chapters.heat.curve import FOUR_INCHES, Curve, curve_of, widened
from sashwright.chapters.heat.flows import Convention
from sashwright.chapters.heat.geometry import SIDES
from sashwright.chapters.heat.glass import Centre, Stack, centre
from sashwright.chapters.heat.leak import Air, Pressure, air_of
from sashwright.chapters.heat.whole import Part, Whole, covered
from sashwright.chapters.seal.window import Sealed
from sashwright.knowledge.tables import Covering
from sashwright.physics.glazing import NFRC_WINTER, Conditions
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

RATING_COLD = -18.0
FREEZING = 0.0
"""Outdoors, where no weather is known [°C]: the North American rating's winter, and a usual winter day."""
DESIGN_SHARE = 0.01
"""Hours of the year that are colder than the design temperature [-]; ASHRAE, 99 % heating dry bulb."""
ROOM_FILM = 0.13
"""Surface resistance of the room's face in the sections, ISO 10077-2 [m2 K/W]."""


@dataclass(frozen=True, slots=True)
class Weathered:
    """A state of the weather that faces are looked at in."""

    name: str
    conditions: Conditions
    source: str

    @property
    def outdoor(self) -> float:
        return float(self.conditions.outdoor)

    @property
    def room(self) -> float:
        return float(self.conditions.indoor)


def weathers(
    year: HourlyYear | None, room: float, given: Sequence[Conditions] | None = None
) -> list[Weathered]:
    """The coldest state first: those given, else the design temperature of the year, and freezing."""
    if given is not None:
        named = [Weathered(f"{float(c.outdoor):g} °C", c, "as asked for") for c in given]
        return sorted(named, key=lambda each: each.outdoor)
    wind = NFRC_WINTER.outside_convection
    freezing = Weathered("a winter day", Conditions(FREEZING, room, wind), "0 °C by choice")
    if year is None:
        cold = Weathered(
            "a cold night", Conditions(RATING_COLD, room, wind), "winter of NFRC 100, -18 °C"
        )
        return [cold, freezing]
    design = float(np.quantile(year.temperature, DESIGN_SHARE))
    cold = Weathered(
        "the design temperature",
        Conditions(design, room, wind),
        f"colder in one hour of a hundred; {year.source}",
    )
    return [cold, freezing] if design < FREEZING else [cold]


@dataclass(frozen=True)
class Subject:
    """A window, its air, the pressure on it and the weathers it is looked at in."""

    whole: Whole
    sealed: Sealed
    pressure: Pressure
    weathers: Sequence[Weathered]

    @property
    def placed(self) -> Placed:
        return self.whole.placed

    @cached_property
    def builds(self) -> dict[Key, Build]:
        return self.whole.choices.builds

    @property
    def as_found(self) -> Build:
        return self.builds[self.whole.choices.as_found]

    @cached_property
    def _parts(self) -> dict[tuple[Key, Convention], Part]:
        return {}

    def part(self, key: Key, convention: Convention) -> Part:
        """U of the whole window in a state; worked out once."""
        asked = (key, convention)
        if asked not in self._parts:
            self._parts[asked] = self.whole.part(self.builds[key], convention)
        return self._parts[asked]

    @cached_property
    def airs(self) -> Mapping[Key, Air]:
        """Air through each state."""
        return {
            key: air_of(build, self.whole.choices, self.sealed, self.pressure)
            for key, build in self.builds.items()
        }

    def total(self, key: Key, convention: Convention) -> float:
        """Heat by conduction and by air [W/K]."""
        return self.part(key, convention).loss + self.airs[key].heat

    # --- coverings

    @cached_property
    def covering(self) -> Covering:
        row: Covering = self.placed.knowledge.find("covering", self.placed.family.covering)
        return row

    def covered(
        self, key: Key, convention: Convention, row: Covering
    ) -> tuple[float, float, float]:
        """U with a covering over it: likely, and by the ends of its range [W/(m2 K)]."""
        u = self.part(key, convention).u
        resistances = (row.resistance, row.resistance_low, row.resistance_high)
        likely, worst, best = (covered(u, each) for each in resistances)
        return likely, worst, best

    # --- faces

    def face(self, build: Build, weather: Weathered) -> dict[Which, Centre]:
        """The glass of both sash in a weather."""
        heights = self.whole.geometry.heights
        return {
            which: centre(build.stacks[which], heights[which], weather.conditions)
            for which in SIDES
        }

    def edge_drop(self, build: Build) -> float | None:
        """How much colder the coldest edge is than the centre, as a share of the difference [-].

        From the sections with the record's own glass. None where no sections are known.
        """
        if build.wood == "new":
            return None
        flows = self.whole.flows(self.whole.place(build), "en")
        drops = [
            1 - ROOM_FILM * max(flow.u_glass) - min(flow.factor_glass, flow.factor_frame)
            for name, flow in flows.items()
            if name in self.whole.geometry.runs
        ]
        return max(*drops, 0.0)

    def comfort(self, build: Build, weather: Weathered) -> Comfort:
        """What a person before the window feels."""
        faces = self.face(build, weather)
        glass = self.whole.geometry.glass
        mean = sum(faces[which].room_face * glass[which] for which in SIDES) / sum(glass.values())
        coldest = min(face.room_face for face in faces.values())
        drop = self.edge_drop(build)
        if drop is not None:
            coldest -= drop * (weather.room - weather.outdoor)
        heights = self.whole.geometry.heights
        tall = sum(heights.values())
        size = (self.whole.geometry.width, tall)
        return comfort_of(mean, coldest, weather.room, size, tall)

    def humidity_limit(self, build: Build, weather: Weathered) -> float:
        """Relative humidity of the room from which the centre of the glass sweats [-]."""
        face = min(each.room_face for each in self.face(build, weather).values())
        over = float(saturation_pressure(face))
        return min(over / float(saturation_pressure(weather.room)), 1.0)

    # --- the space

    @cached_property
    def curve(self) -> Curve | None:
        """U against the space before the lower sash; None where no storm can hang."""
        spaces = self.whole.choices.spaces
        if spaces is None:
            return None
        stack = self.builds["storm"].stacks["lower"]
        at = next(n for n, space in enumerate(stack.spaces) if space.kind == "storm")
        return curve_of(_plain(stack, at), at)


def _plain(stack: Stack, at: int) -> Stack:
    """The stack with a space that all windows of a family share, so that its curve is found once."""
    return widened(stack, at, FOUR_INCHES)
