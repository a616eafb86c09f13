"""The building of ANSI/ASHRAE Standard 140-2020, cases 600 and 900: light and heavy, heated or left alone.

One room, 8 m x 6 m x 2.7 m, 12 m2 of clear double glass to the south. Layers, gains, infiltration and set
points are those of the standard as quoted in public texts; the roof and the surface coefficients are from
memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.glazing import (
    Gap,
    Pane,
    at_angle,
    diffuse,
    en673_gap_resistances,
    inward_fractions,
    plain_from_normal,
)
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.house_heat import (
    DOWNWARD,
    LEVEL,
    OUTSIDE,
    SUN_TO_AIR,
    UPWARD,
    Chain,
    Course,
    Element,
    Film,
    House,
    Layer,
    Room,
    SunThrough,
    behind_face,
    factors,
    five_nodes,
    flows,
    hours,
    layered,
    mass_flow,
    massless,
    simulate,
    sun_in_room,
    sun_through,
)
from sashwright.physics.psychrometrics import air_density, standard_pressure
from sashwright.physics.sunlight import on_plane, sky_of

Array = NDArray[np.float64]

SIDING, DECK = Layer(0.009, 0.14, 530, 900), Layer(0.019, 0.14, 530, 900)
LIGHT_WALL = (SIDING, Layer(0.066, 0.04, 12, 840), Layer(0.012, 0.16, 950, 840))
HEAVY_WALL = (SIDING, Layer(0.0615, 0.04, 10, 1400), Layer(0.100, 0.51, 1400, 1000))
ROOF = (DECK, Layer(0.1118, 0.04, 12, 840), Layer(0.010, 0.16, 950, 840))
LIGHT_FLOOR = (Layer(1.0, 0.04), Layer(0.025, 0.14, 650, 1200))
HEAVY_FLOOR = (Layer(1.0, 0.04), Layer(0.080, 1.13, 1400, 1000))

VOLUME, FLOOR, GLASS = 129.6, 48.0, 12.0
WALLS = ((0.0, 21.6), (90.0, 16.2), (180.0, 9.6), (270.0, 16.2))
AIR_CHANGES = 0.414
"""Of air as dense as at sea level."""
PANE, GAP = 0.003048, 0.012
"""Thickness of pane and gap [m]; from memory."""
CLEAR = plain_from_normal(0.834, 0.075)
"""Clear glass of 3 mm, generic."""
GROUND = 10.0


class Rules(NamedTuple):
    """What the standard of test leaves to a program, or names as typical."""

    wall: Film
    roof: Film
    floor: Film
    glass: Film
    wall_outside: Film
    roof_outside: Film
    glass_outside: Film
    sun_on_floor: bool
    """By :func:`sun_in_room`, or evenly on all faces with a tenth to the air as in ISO 52016-1."""


_BY_MEMORY = 4.63
TEST = Rules(
    Film(2.2, 5.13),
    Film(1.8, 5.13),
    Film(3.7, 5.13),
    Film(2.4, 5.13),
    Film(11.9, _BY_MEMORY),
    Film(14.4, _BY_MEMORY),
    Film(8.0, _BY_MEMORY),
    True,
)
"""Mean coefficients that Standard 140-2020 names (from memory), and an empty room with sun on its floor."""
ISO = Rules(LEVEL, UPWARD, DOWNWARD, LEVEL, OUTSIDE, OUTSIDE, OUTSIDE, False)
"""Everything as ISO 52016-1 has it by default."""


@dataclass(frozen=True)
class Results:
    """In the units of the published tables."""

    heating_mwh: float
    cooling_mwh: float
    peak_heating_kw: float
    peak_cooling_kw: float
    minimum: float
    maximum: float
    mean: float


def case(
    year: HourlyYear,
    *,
    heavy: bool,
    free: bool,
    rules: Rules = TEST,
    five: bool = False,
) -> Course:
    """A year of the building; ``five``: with the five nodes of ISO 52016-1 instead of its layers."""
    sky = sky_of(year)
    house, glass_resistance = building(year, heavy, rules, five)
    f = factors([house])
    sun = sun_through(GLASS, on_plane(sky, 180.0), through_glass(rules, glass_resistance))
    to_air, on_floor, on_faces = _sun_shares(rules)
    during = hours(
        f,
        year.temperature,
        _behind(year, rules),
        convective=(80.0 + to_air * sun)[:, None],
        radiant=(120.0 + on_faces * sun)[:, None],
        sun=(on_floor * sun)[:, None],
        **({} if free else {"heat_to": 20.0, "cool_to": 27.0}),
    )
    fresh = mass_flow(AIR_CHANGES, VOLUME, 1.2)
    return simulate(f, during, flows(f, len(year.temperature), fresh))


def results(course: Course) -> Results:
    return Results(
        course.heating.sum() / 1e6,
        course.cooling.sum() / 1e6,
        course.heating.max() / 1e3,
        course.cooling.max() / 1e3,
        course.air.min(),
        course.air.max(),
        course.air.mean(),
    )


def building(year: HourlyYear, heavy: bool, rules: Rules, five: bool) -> tuple[House, float]:
    """The house, and the resistance of its glass from face to face."""
    wall = layered(HEAVY_WALL if heavy else LIGHT_WALL)
    floor = layered(HEAVY_FLOOR if heavy else LIGHT_FLOOR)
    roof = layered(ROOF)
    if five:
        wall = five_nodes(wall.resistance, wall.capacity, "inside" if heavy else "both")
        floor = five_nodes(floor.resistance, floor.capacity, "inside")
        roof = five_nodes(roof.resistance, roof.capacity, "both")
    (gap,) = en673_gap_resistances([Pane(PANE), Pane(PANE)], [Gap(GAP)])
    glass = 2 * PANE / 1.0 + float(gap)
    under = Film(1e4, 1e4)

    def part(area: float, chain: Chain, exposure: int, films: tuple[Film, Film]) -> Element:
        return Element(area, chain, 0, exposure=exposure, inside=films[0], outside=films[1])

    elements = [
        part(area, wall, at, (rules.wall, rules.wall_outside)) for at, (_, area) in enumerate(WALLS)
    ]
    elements += [
        part(FLOOR, roof, 4, (rules.roof, rules.roof_outside)),
        part(GLASS, massless(glass), 6, (rules.glass, rules.glass_outside)),
        Element(
            FLOOR,
            floor,
            0,
            exposure=5,
            inside=rules.floor,
            outside=under,
            sun_inside=rules.sun_on_floor,
        ),
    ]
    density = air_density(20.0, 0.0, standard_pressure(year.elevation))
    return House((Room(VOLUME),), tuple(elements), density), glass


def through_glass(rules: Rules, resistance: float) -> SunThrough:
    """Gain over the cosine of the angle of incidence, by our own optics."""
    angles = np.radians(np.arange(90.0, -1.0, -1.0))
    cosines = np.cos(angles)
    cosines[0] = 0.0
    panes = [CLEAR, CLEAR]
    row = [
        1 / rules.glass_outside.total,
        PANE,
        resistance - 2 * PANE,
        PANE,
        1 / rules.glass.total,
    ]
    inward = inward_fractions(np.array(row))
    beam, even = at_angle(panes, angles), diffuse(panes)
    return SunThrough(
        cosines,
        beam.transmittance + inward @ beam.absorptances,
        float(even.transmittance + inward @ even.absorptances),
    )


def _sun_shares(rules: Rules) -> tuple[float, float, float]:
    """To the air, on the floor, on all faces."""
    if not rules.sun_on_floor:
        return SUN_TO_AIR, 0.0, 1 - SUN_TO_AIR
    faces = 2 * FLOOR + 2 * (8.0 + 6.0) * 2.7
    shares = sun_in_room(GLASS, faces)
    return 0.0, shares.floor, shares.faces


def _behind(year: HourlyYear, rules: Rules) -> Array:
    """Walls, roof, ground, glass."""
    sky, air = sky_of(year), year.temperature
    walls = [
        behind_face(air, on_plane(sky, facing).total, film=rules.wall_outside)
        for facing, _ in WALLS
    ]
    roof = behind_face(air, on_plane(sky, 0.0, 0.0).total, sky=1.0, film=rules.roof_outside)
    glass = behind_face(air, film=rules.glass_outside)
    return np.stack([*walls, roof, np.full_like(air, GROUND), glass], axis=1)
