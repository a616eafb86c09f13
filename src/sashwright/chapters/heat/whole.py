"""The whole window: glass, its edge and the wood round it put together, by both conventions.

European: ISO 10077-1, sum(A_g U_g) + A_f U_f + sum(l psi) over the area. North American: ISO 15099 and
NFRC 100, centre, edge and frame by their areas. Both leave the air that leaks through to itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from sashwright.chapters.heat.builds import Build, Choices, storm_place
from sashwright.chapters.heat.flows import Convention, SectionFlow, StormPlace
from sashwright.chapters.heat.geometry import (
    SIDES,
    Geometry,
    frame_area,
    geometry_of,
    seen_through,
    window_area,
)
from sashwright.chapters.heat.glass import Stack, centre, gaps_en, sun_and_light, u_en
from sashwright.chapters.heat.known import sections_of
from sashwright.chapters.heat.say import BTU
from sashwright.physics.glazing import NFRC_SUMMER
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

ISO_10077_1 = "ISO 10077-1: (sum Ag Ug + sum Af Uf + sum l psi) / (Ag + Af)"
NFRC_100 = "NFRC 100 and ISO 15099: (Ucg Acg + Ueg Aeg + Uf Af) / A"

SECTION_HEIGHT = 1.0
"""Of the glass in the sections [m], as in the handbook's tables; windows of all heights share them."""
UNIT_PSI = 0.08
"""Of a low-emissivity unit with an aluminium spacer in a wood frame [W/(m K)]; ISO 10077-1:2006, annex E,
from memory (0.06 in the edition of 2000)."""
NEW_U: dict[Convention, float] = {"en": 1.4, "na": 0.30 * BTU}
"""Of a new window that just meets the code [W/(m2 K)]: replacement windows by Approved Document L (England,
2021); IECC 2021, table R402.1.2, climate zones 5 to 8, U-factor 0.30. Both from memory."""
NEW_CODE: dict[Convention, str] = {
    "en": "U of 1.4 by Approved Document L (England, 2021), from memory",
    "na": "U-factor of 0.30 by IECC 2021, climate zones 5 to 8, from memory",
}
NEW_WIDTH = 0.110
"""Of sash and frame of a new wood window, each side [m]: 30 % of the window of ISO 10077-1's tables."""
HANDBOOK_EDGES = (
    (1.42, 2.38), (1.70, 2.61), (1.82, 2.73), (1.99, 2.84), (2.56, 3.24), (2.73, 3.35), (3.12, 3.63),
    (5.91, 5.91),
)  # fmt: skip
"""Centre and edge of glass with an aluminium spacer [W/(m2 K)]; ASHRAE Fundamentals 2001 to 2009,
fenestration, table of U-factors, IDs 27, 25, 21, 17, 7, 5, 4 and 1; the edges from memory."""

SUMMER_RADIATION = 5.0
"""Of the outer face in summer [W/(m2 K)]: 4 sigma T^3 at 32 °C with an emissivity of 0.8."""
FRAME_ABSORPTANCE = 0.5
"""Of painted wood for the sun [-]; usual for frames of no known colour, from memory."""


@dataclass(frozen=True, slots=True)
class Part:
    """What goes into one convention's sum, and what comes out [W/(m2 K)], [m2], [W/K]."""

    u: float
    area: float
    glass: float
    """Flow through the glass, in the North American convention its centre only [W/K]."""
    edge: float
    """Added by the edges (European), or through the band of edge (North American) [W/K]."""
    frame: float
    frame_u: float
    frame_area: float

    @property
    def loss(self) -> float:
        return self.u * self.area


Pairs = Sequence[tuple[float, float]]


def put_together(glass: Pairs, edges: Pairs, frame: Pairs, area: float) -> Part:
    """A window from its parts: each an area [m2] with its U [W/(m2 K)], over the whole ``area``.

    European edges are lengths [m] with their psi [W/(m K)]; they take no area of their own.
    """
    through, round_it, wood = (sum(a * u for a, u in pairs) for pairs in (glass, edges, frame))
    wide = sum(a for a, _ in frame)
    loss = through + round_it + wood
    return Part(loss / area, area, through, round_it, wood, wood / wide if wide else 0.0, wide)


@dataclass(frozen=True)
class Whole:
    """One window with all its sections, in every state that it can have."""

    placed: Placed

    @cached_property
    def choices(self) -> Choices:
        return Choices(self.placed)

    @cached_property
    def geometry(self) -> Geometry:
        return geometry_of(self.placed)

    @cached_property
    def _flows(self) -> dict[tuple[StormPlace, Convention], dict[str, SectionFlow]]:
        return {}

    def flows(self, storm: StormPlace, convention: Convention) -> dict[str, SectionFlow]:
        """Sections with the record's own storm or panel, worked out when first asked for."""
        key = (storm, convention)
        if key not in self._flows:
            interior = self.choices.interior if storm == "interior" else None
            stacks = self._section_stacks(storm)
            upper, lower = stacks["upper"], stacks["lower"]
            films = centre(upper, SECTION_HEIGHT).films, centre(lower, SECTION_HEIGHT).films
            self._flows[key] = sections_of(
                self.placed,
                storm,
                convention,
                (_gaps(upper, convention), _gaps(lower, convention)),
                films if convention == "na" else None,
                interior,
            )
        return self._flows[key]

    def _section_stacks(self, storm: StormPlace) -> Mapping[Which, Stack]:
        if storm == "exterior":
            return self.choices.behind(self.choices.storm_glass)
        return (
            self.choices.before(self.choices.panel_glass)
            if storm == "interior"
            else self.choices.prime
        )

    # --- U

    @cached_property
    def area(self) -> float:
        """Of the window, its frame as far as the sections count it [m2]."""
        return window_area(self.geometry, self.placed.layout, self.flows("none", "en"))

    def centre_u(self, build: Build, convention: Convention) -> dict[Which, float]:
        """At the centre of the glass of both sash [W/(m2 K)]."""
        heights = self.geometry.heights
        return {
            which: u_en(stack) if convention == "en" else centre(stack, heights[which]).u
            for which, stack in build.stacks.items()
        }

    def part(self, build: Build, convention: Convention) -> Part:
        """U of the whole window in one state."""
        if build.wood == "new":
            return self._new(convention)
        if build.wood == "both":
            return self._both(convention)
        if convention == "en":
            return self._en(build)
        return self._na(build)

    def place(self, build: Build) -> StormPlace:
        """Sections for a build.

        A metal storm frame takes nothing off the flow through the wood. A panel that is only thought of
        has no sections of its own: it is put before those of the prime alone.
        """
        place = storm_place(build.wood)
        metal = self.placed.family.storm_sash.kind == "combination"
        if place == "exterior" and metal:
            return "none"
        return "none" if self._thought_of(build) else place

    def _thought_of(self, build: Build) -> bool:
        return build.wood == "interior" and not self.choices.has_panel

    def _panel_resistance(self, build: Build) -> float:
        """What a panel that is only thought of adds before the wood, its space included [m2 K/W]."""
        if not self._thought_of(build):
            return 0.0
        stack = build.stacks["lower"]
        at = next(n for n, space in enumerate(stack.spaces) if space.kind == "inside")
        pane = stack.layers[-1].pane
        return 1 / gaps_en(stack)[at] + pane.thickness / pane.conductivity

    def _frame(self, build: Build, flows: Mapping[str, SectionFlow]) -> tuple[float, float]:
        """Area of the frame, and its mean U."""
        more = self._panel_resistance(build)
        geometry = self.geometry
        rows = [
            (covered(flows[name].u_frame, more), run.length * flows[name].width * run.share)
            for name, run in geometry.runs.items()
            if run.length > 0
        ]
        areas = np.array([area for _, area in rows])
        mean = float(np.average([u for u, _ in rows], weights=areas))
        return frame_area(geometry, self.placed.layout, self.flows("none", "en")), mean

    def _en(self, build: Build) -> Part:
        flows, geometry = self.flows(self.place(build), "en"), self.geometry
        centres = self.centre_u(build, "en")
        return put_together(
            [(geometry.glass[which], centres[which]) for which in SIDES],
            [
                (length, UNIT_PSI if self._new_unit(build, which) else flows[name].psi or 0.0)
                for name, run in geometry.runs.items()
                for which, length in run.edges.items()
            ],
            [self._frame(build, flows)],
            self.area,
        )

    def _na(self, build: Build) -> Part:
        flows, geometry = self.flows(self.place(build), "na"), self.geometry
        centres = self.centre_u(build, "na")
        return put_together(
            [(geometry.glass[which] - geometry.edge[which], centres[which]) for which in SIDES],
            [
                (geometry.edge[which], self._edge_u(build, which, centres[which], flows))
                for which in SIDES
            ],
            [self._frame(build, flows)],
            self.area,
        )

    def _edge_u(
        self, build: Build, which: Which, middle: float, flows: Mapping[str, SectionFlow]
    ) -> float:
        """Of the edge band of a sash: as far from the centre's as in the sections, round all its lites."""
        if self._new_unit(build, which):
            return handbook_edge(middle)
        weighed = lengths = 0.0
        for name, run in self.geometry.runs.items():
            length = run.edges.get(which, 0.0)
            if length == 0.0:
                continue
            flow = flows[name]
            at = flow.sash.index(which)
            # Behind a panel that the sections do not know, the edge differs by as much as it lets through.
            kept = min(middle / flow.u_glass[at], 1.0) if self._thought_of(build) else 1.0
            change = kept * ((flow.u_edge or flow.u_glass[at]) - _mean(flow.u_glass))
            weighed += length * change
            lengths += length
        return middle + weighed / lengths

    def _new_unit(self, build: Build, which: Which) -> bool:
        """Whether a sash carries a sealed unit that the sections do not know."""
        return build.key == "unit" and len(self.choices.prime[which].layers) == 1

    def _both(self, convention: Convention) -> Part:
        """Storm and panel: what the panel adds to the prime alone, in series behind the storm.

        The panel's space is a little less cold then, and a little less resistant: up to some 5 % of it.
        """
        builds = self.choices.builds
        alone, outside, inside = (
            self.part(builds[key], convention) for key in ("prime", "storm", "inside")
        )
        u = 1 / (1 / outside.u + 1 / inside.u - 1 / alone.u)
        share = u / outside.u
        return Part(
            u,
            self.area,
            outside.glass * share,
            outside.edge * share,
            outside.frame * share,
            outside.frame_u * share,
            outside.frame_area,
        )

    def _new(self, convention: Convention) -> Part:
        """A new window in the sash opening, whose glass and wood are not told apart.

        What the old frame has beyond the opening stays, and conducts as it does.
        """
        opening = self.geometry.opening
        _, old = self._frame(self.choices.builds["prime"], self.flows("none", convention))
        return put_together(
            [(opening, NEW_U[convention])], [], [(self.area - opening, old)], self.area
        )

    def new_glass(self) -> tuple[float, float]:
        """Width of a new window's glass, and height of both lights together [m]."""
        width = self.placed.layout.window.width
        high = self.geometry.opening / width - 3 * NEW_WIDTH
        return max(width - 2 * NEW_WIDTH, 0.05), max(high, 0.05)

    # --- sun and light

    def sun(self, build: Build) -> dict[str, float]:
        """Solar heat gain and visible transmittance of the glass and of the whole window [-]."""
        geometry = self.geometry
        area = self.area
        glass = {which: geometry.glass[which] for which in SIDES}
        if build.wood == "new":
            wide, high = self.new_glass()
            glass = dict.fromkeys(SIDES, wide * high / 2)
        elif build.wood in ("exterior", "both"):
            share = seen_through(self.placed) / geometry.glass_area
            glass = {which: share * glass[which] for which in SIDES}
        pairs = {
            which: sun_and_light(stack, geometry.heights[which])
            for which, stack in build.stacks.items()
        }
        frame = self.part(build, "en")
        outside = float(NFRC_SUMMER.outside_convection) + SUMMER_RADIATION
        through_wood = FRAME_ABSORPTANCE * frame.frame_u / outside * (area - sum(glass.values()))
        gain = sum(glass[which] * pairs[which][0] for which in SIDES)
        light = sum(glass[which] * pairs[which][1] for which in SIDES)
        whole = sum(glass.values())
        return {
            "shgc": (gain + through_wood) / area,
            "visible": light / area,
            "glass_shgc": gain / whole,
            "glass_visible": light / whole,
        }


def handbook_edge(middle: float) -> float:
    """U of the edge of glass with an aluminium spacer from that of its centre [W/(m2 K)]."""
    centres, edges = zip(*HANDBOOK_EDGES, strict=True)
    return float(np.interp(middle, centres, edges))


def covered(u: float, resistance: float) -> float:
    """U with something drawn over the window [W/(m2 K)]; as ISO 10077-1 has it for shutters."""
    return 1 / (1 / u + resistance)


def part_values(part: Part, convention: Convention) -> dict[str, Any]:
    """A part as values."""
    return {
        f"u_{convention}_w_m2k": part.u,
        f"loss_{convention}_w_k": part.loss,
        f"glass_{convention}_w_k": part.glass,
        f"edge_{convention}_w_k": part.edge,
        f"frame_{convention}_w_k": part.frame,
        f"frame_u_{convention}_w_m2k": part.frame_u,
    }


def _gaps(stack: Stack, convention: Convention) -> tuple[float, ...]:
    """Conductance of each space, as the sections want it."""
    return gaps_en(stack) if convention == "en" else centre(stack, SECTION_HEIGHT).spaces


def _mean(values: tuple[float, ...]) -> float:
    return sum(values) / len(values)
