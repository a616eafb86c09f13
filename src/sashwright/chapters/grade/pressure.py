"""What the site asks of a window: wind pressure by its place on its wall, American or European."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import cast

from sashwright.physics import wind
from sashwright.window.heights import STOREY, eaves_of
from sashwright.window.site import Site
from sashwright.window.spec import House, Wall, Window

MILE_AN_HOUR = 0.44704

PLACEHOLDER = {
    "ASCE 7-22": 115 * MILE_AN_HOUR,
    "ASCE 7-16": 115 * MILE_AN_HOUR,
    "EN 1991-1-4": 26.0,
}
"""A usual speed far from coasts and mountains [m/s], to try things out with until the building department
names the real one; from memory, and never used by itself."""

ROOF_RISE = STOREY / 2
"""From the eaves to the roof's mean height where no slope is known [m]; judgement: a roof as high as a
storey."""

UNKNOWN_EXPOSURE: wind.Exposure = "C"
UNKNOWN_TERRAIN: wind.Terrain = "II"
"""Open country, where nobody said what lies upwind: on the safe side of suburbs and woods, not of water."""

ACROSS = math.cos(math.radians(45.0))
"""Walls that look more than 45 degrees away from each other's line bound the house across it."""


@dataclass(frozen=True, slots=True)
class Ground:
    """The house in the wind: what all its windows share. Heights and lengths [m]."""

    site: Site
    eaves: float
    roof_height: float
    roof_known: bool
    least_side: float | None
    walls: dict[str, Wall]

    @property
    def american(self) -> bool:
        return self.site.standard.startswith("ASCE")

    @property
    def edition(self) -> wind.Edition:
        return "7-16" if self.site.standard == "ASCE 7-16" else "7-22"

    @property
    def exposure(self) -> wind.Exposure:
        return self.site.exposure or UNKNOWN_EXPOSURE

    @property
    def terrain(self) -> wind.Terrain:
        return self.site.terrain or UNKNOWN_TERRAIN

    @property
    def ridge(self) -> float:
        """The roof's mean height lies half way between eaves and ridge."""
        return max(self.roof_height, 2 * self.roof_height - self.eaves)

    @property
    def topography(self) -> float:
        """K_zt, from the hill where one is given; at the roof's mean height."""
        hill = self.site.hill
        if hill is None or not self.american:
            return self.site.topography
        return float(
            wind.topographic_factor(
                hill.kind,
                self.exposure,
                rise=hill.rise,
                half_length=hill.half_length,
                distance=hill.distance,
                height=self.roof_height,
                downwind=hill.downwind,
            )
        )


def ground_of(house: House) -> Ground:
    """The house's own part of the question: heights from the survey, or by storeys."""
    site, eaves = house.site, eaves_of(house)
    lengths = [wall.length for wall in house.walls.values()]
    known = [length for length in lengths if length is not None]
    least = site.least_side or (min(known) if known and len(known) == len(lengths) else None)
    rise = ROOF_RISE
    if site.roof_slope is not None and least is not None:
        rise = math.tan(math.radians(site.roof_slope)) * least / 4
    height = site.roof_height or eaves + rise
    return Ground(site, eaves, height, site.roof_height is not None, least, dict(house.walls))


@dataclass(frozen=True, slots=True)
class Pressure:
    """Design pressure on one thing in a wall [Pa], inward positive and outward negative.

    American at allowable stress level, European the characteristic value. ``strength_…`` are the same at
    strength level, or with the partial factor of 1.5.
    """

    zone: str
    area: float
    inward: float
    outward: float
    strength_inward: float
    strength_outward: float
    velocity_pressure: float
    inward_coefficient: float
    outward_coefficient: float

    @property
    def greatest(self) -> float:
        """Without a sign [Pa]."""
        return max(abs(self.inward), abs(self.outward))


PARTIAL_FACTOR = 1.5
"""On wind in Europe [-]; EN 1990, table A1.2(B), recommended."""


def pressures_on(ground: Ground, window: Window, area: float) -> tuple[Pressure, ...]:
    """Design pressure on ``area`` [m2] of a window, in every zone that it may stand in; the worst first.

    Empty without a wind speed, or for a house too high for the method.
    """
    if ground.site.wind_speed is None or (
        ground.american and ground.roof_height > wind.LOW_RISE * (1 + 1e-9)
    ):
        return ()
    of = _american if ground.american else _european
    found = [of(ground, window, area, zone) for zone in zones_of(ground, window)]
    return tuple(sorted(found, key=lambda each: -each.greatest))


# --- zones ----------------------------------------------------------------------------


def reaches_of(ground: Ground, window: Window) -> dict[str, float]:
    """How far from its corner each outer zone of a wall reaches [m]; empty where that is not known."""
    if ground.american:
        if ground.least_side is None:
            return {}
        return {"5": float(wind.edge_zone_width(ground.least_side, ground.roof_height))}
    reach = min(_across(ground, window) or 2 * ground.ridge, 2 * ground.ridge)
    return {"A": reach / 5, "B": reach}


def zones_of(ground: Ground, window: Window) -> tuple[str, ...]:
    """Zones of its wall that the window may stand in: one where its place is known, else several."""
    near, reaches = _edge_distance(ground, window), reaches_of(ground, window)
    if ground.american:
        reach, left = reaches.get("5"), _left_distance(window)
        if reach is not None and left is not None and left < reach:
            return ("5",)
        if reach is None or near is None:
            return ("4", "5")
        return ("5",) if near < reach else ("4",)
    if near is None:
        return ("A", "B", "C")
    return next(((zone,) for zone, reach in reaches.items() if near < reach), ("C",))


def _left_distance(window: Window) -> float | None:
    """From the left corner of the wall to the window's nearer edge [m]."""
    return None if window.along is None else window.along - window.width / 2


def _edge_distance(ground: Ground, window: Window) -> float | None:
    """From the nearer corner of the wall to the window's nearer edge [m]."""
    wall, left = ground.walls.get(window.wall), _left_distance(window)
    if wall is None or wall.length is None or left is None:
        return None
    return max(min(left, wall.length - left - window.width), 0.0)


def _across(ground: Ground, window: Window) -> float | None:
    """Length of the house square to the window's wall, by its longest wall that way [m]."""
    own = ground.walls.get(window.wall)
    if own is None:
        return None
    others = [
        wall.length
        for wall in ground.walls.values()
        if wall.length is not None and abs(math.cos(math.radians(wall.faces - own.faces))) < ACROSS
    ]
    return max(others, default=None)


# --- the two ways ---------------------------------------------------------------------


def _american(ground: Ground, window: Window, area: float, zone: str) -> Pressure:
    site = ground.site
    facing = wind.Site(
        wind_speed=site.wind_speed or 0.0,
        exposure=ground.exposure,
        roof_height=ground.roof_height,
        edition=ground.edition,
        elevation=site.elevation,
        topography=ground.topography,
    )
    asked: list[wind.Level] = ["ASD", "LRFD"]
    allowable, strength = (
        wind.low_rise_wall_pressure(
            site=facing,
            area=area,
            zone=4 if zone == "4" else 5,
            enclosure=site.enclosure,
            level=level,
            roof_slope=site.roof_slope,
        )
        for level in asked
    )
    return Pressure(
        zone,
        area,
        float(allowable.inward),
        float(allowable.outward),
        float(strength.inward),
        float(strength.outward),
        float(strength.velocity_pressure),
        float(strength.inward_coefficient),
        float(strength.outward_coefficient),
    )


def _european(ground: Ground, window: Window, area: float, zone: str) -> Pressure:
    """The wall before the wind pushes in; beside the wind and behind it, it pulls."""
    own, site = ground.walls.get(window.wall), ground.site
    across = _across(ground, window) or ground.least_side or ground.ridge
    along = (own.length if own is not None else None) or ground.least_side or ground.ridge
    peak = float(
        wind.peak_velocity_pressure_en(
            basic_velocity=site.wind_speed or 0.0,
            terrain=ground.terrain,
            height=ground.ridge,
            orography=ground.topography,
        )
    )

    def coefficient(where: wind.WallZone, depth: float) -> float:
        # The table ends at five times as high as deep.
        deep = max(depth, ground.ridge / 5)
        return float(
            wind.wall_coefficient_en(zone=where, height=ground.ridge, depth=deep, area=area)
        )

    push = coefficient("D", across)
    pull = min(coefficient(cast("wind.WallZone", zone), along), coefficient("E", across))
    inward, outward = wind.wall_pressure_en(peak, push)[0], wind.wall_pressure_en(peak, pull)[1]
    return Pressure(
        zone,
        area,
        float(inward),
        float(outward),
        PARTIAL_FACTOR * float(inward),
        PARTIAL_FACTOR * float(outward),
        peak,
        push,
        pull,
    )


def worst_of(found: tuple[Pressure, ...]) -> Pressure | None:
    """Inward and outward each at its worst of the zones that the window may stand in."""
    if not found:
        return None
    first = found[0]
    return replace(
        first,
        inward=max(each.inward for each in found),
        outward=min(each.outward for each in found),
        strength_inward=max(each.strength_inward for each in found),
        strength_outward=min(each.strength_outward for each in found),
    )


def unknowns_of(ground: Ground) -> Iterator[str]:
    """What was taken for granted, in words, for a finding."""
    if ground.american and ground.site.exposure is None:
        yield f"exposure {UNKNOWN_EXPOSURE}, open country"
    if not ground.american and ground.site.terrain is None:
        yield f"terrain {UNKNOWN_TERRAIN}, fields"
    if not ground.roof_known:
        yield "the height of the roof from that of the eaves"
