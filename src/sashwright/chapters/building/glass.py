"""Windows of a house in every state they can have: what they conduct, what sun they let in by the hour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building.envelope import pane
from sashwright.chapters.heat.builds import Build, Key
from sashwright.chapters.heat.geometry import SIDES, seen_through
from sashwright.chapters.heat.glass import Stack
from sashwright.chapters.heat.whole import Whole
from sashwright.chapters.seal.window import Sealed
from sashwright.knowledge.tables import CoveringKind
from sashwright.physics.glazing import (
    NFRC_SUMMER,
    at_angle,
    detailed_balance,
    diffuse,
    inward_fractions,
)
from sashwright.physics.house_heat.elements import Chain
from sashwright.physics.house_heat.outside import SunThrough, sun_through
from sashwright.physics.sunlight import OnPlane
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed

Array = NDArray[np.float64]

SCREEN_CUTS = 0.46
"""Of the sun that an insect screen outside all the window keeps off [-]: Brunger, Dubrous and Harrison,
*ASHRAE Transactions* 105 (1999), for cloth of some 66 % openness; from memory."""
SCREEN_OPENNESS = 0.66
REFLECTS: Mapping[CoveringKind, float] = {
    "none": 0.0,
    "shutter": 0.6,
    "curtain": 0.45,
    "blind": 0.6,
    "shade": 0.55,
}
"""Of the sun, by what is drawn over the window inside, in a light colour [-]; judgement."""
COVERING_AIR = 30.0
"""G2 of EN 13363-1, device on the room side [W/(m2 K)]; from memory."""


@dataclass(frozen=True, slots=True)
class WindowState:
    """How a window stands: what hangs before it, whether a screen does, whether its covering is shut."""

    build: Key = "prime"
    screen: bool = False
    covered: bool = False


@dataclass(frozen=True)
class Glazed:
    """One window in the house: its zone, where it faces [degrees], and all its states."""

    number: str
    zone: str
    faces: float
    whole: Whole
    sealed: Sealed
    _gains: dict[WindowState, Array] = field(default_factory=dict, compare=False, repr=False)

    @property
    def placed(self) -> Placed:
        return self.whole.placed

    @property
    def area(self) -> float:
        """With its frame [m2]."""
        return self.whole.area

    @property
    def builds(self) -> Mapping[Key, Build]:
        return self.whole.choices.builds

    @property
    def winter(self) -> Key:
        """With the storm or panel that the record says hangs in winter."""
        return self.whole.choices.as_found

    @property
    def summer(self) -> Key:
        """With what stays on all year."""
        storm = self.placed.family.storm
        if self.whole.choices.has_panel:
            return (
                "storm-and-inside" if storm == "all year" and self.winter != "inside" else "inside"
            )
        return "storm" if storm == "all year" and self.whole.choices.has_storm else "prime"

    @property
    def covering(self) -> tuple[CoveringKind, float]:
        """What can be shut over it, and its resistance [m2 K/W]."""
        row = self.placed.knowledge.find("covering", self.placed.family.covering)
        return row.kind, row.resistance

    def u(self, state: WindowState) -> float:
        """Of the whole window by the European convention, without its covering [W/(m2 K)]."""
        return self.whole.part(self.builds[state.build], "en").u

    def chain(self, state: WindowState) -> Chain:
        """From face to face."""
        return pane(self.u(state), self.covering[1] if state.covered else 0.0)

    def glass(self, build: Key) -> dict[str, float]:
        """Glass of each sash that the sun sees [m2]."""
        return _glass(self.whole, self.builds[build])

    def sun(self, state: WindowState, on: OnPlane) -> Array:
        """What the sun gives to the room through it, in each hour (8760,) [W]."""
        if state not in self._gains:
            self._gains[state] = self._sun(state, on)
        return self._gains[state]

    def _sun(self, state: WindowState, on: OnPlane) -> Array:
        build, gain = self.builds[state.build], np.zeros_like(on.beam)
        for which, area in self.glass(state.build).items():
            kept = 1 - SCREEN_CUTS * self.screened(which) if state.screen else 1.0
            height = self.whole.geometry.heights[which]  # type: ignore[index]
            through = gain_by_angle(build.stacks[which], round(height, 2))  # type: ignore[index]
            if state.covered:
                through = behind_covering(through, self.u(state), REFLECTS[self.covering[0]])
            gain += sun_through(kept * area, on, through)
        return gain

    def screened(self, which: str) -> float:
        """How much of the usual cut a screen makes before a sash: 0 for none [-]."""
        screen = self.placed.family.screen
        if screen.kind == "none" or (screen.kind == "half" and which == "upper"):
            return 0.0
        openness = self.placed.knowledge.find("mesh", screen.mesh).openness
        return float((1 - openness) / (1 - SCREEN_OPENNESS))


def _glass(whole: Whole, build: Build) -> dict[str, float]:
    geometry = whole.geometry
    if build.wood == "new":
        wide, high = whole.new_glass()
        return dict.fromkeys(SIDES, wide * high / 2)
    share = 1.0
    if build.wood in ("exterior", "both"):
        try:
            share = seen_through(whole.placed) / geometry.glass_area
        except LayoutError:
            share = 1.0
    return {which: share * geometry.glass[which] for which in SIDES}


@lru_cache(maxsize=1024)
def gain_by_angle(stack: Stack, height: float) -> SunThrough:
    """Total gain g of a stack over the angle of the sun, and for diffuse, as its panes stand in summer.

    What passes, and of what each pane takes up the share that goes inward by the resistances of the
    rating's summer (NFRC 200, ISO 15099).
    """
    angles = np.radians(np.arange(90.0, -1.0, -2.0))
    cosines = np.cos(angles)
    cosines[0] = 0.0
    panes = [layer.solar for layer in stack.layers]
    found = detailed_balance(stack.panes, stack.gaps, NFRC_SUMMER, height=height)
    inward = inward_fractions(np.asarray(found.resistances, dtype=np.float64))
    beam, even = at_angle(panes, angles), diffuse(panes)
    gains = beam.transmittance + inward @ beam.absorptances
    gains[0] = 0.0
    return SunThrough(cosines, gains, float(even.transmittance + inward @ even.absorptances))


def behind_covering(glass: SunThrough, u: float, reflects: float) -> SunThrough:
    r"""With something light-tight drawn over it on the room side; EN 13363-1 (from memory).

    .. math:: g_t = g \left(1 - g \rho - (1 - \rho) \frac{G}{G_2}\right), \quad
        G = \left(\frac1U + \frac1{G_2}\right)^{-1}
    """
    conductance = 1 / (1 / u + 1 / COVERING_AIR)

    def total(g: Array) -> Array:
        kept: Array = g * np.maximum(
            1 - g * reflects - (1 - reflects) * conductance / COVERING_AIR, 0.0
        )
        return kept

    return SunThrough(glass.cosines, total(glass.gains), float(total(np.array([glass.diffuse]))[0]))
