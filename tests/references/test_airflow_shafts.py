"""Houses of many rooms over each other, against the closed forms of smoke control for stairs and shafts.

Sources: ASHRAE Handbook of HVAC Applications, fire and smoke control; NFPA 92; J. H. Klote and J. A. Milke,
*Principles of Smoke Management* (2002); J. H. Klote, *A General Routine for Analysis of Stack Effect*, NISTIR
4588 (1991). Formulas and the numbers of their examples are from memory: none of them could be read.

A: pressure of a shaft over outdoors, 3460 (1/To - 1/Ts) (h - hn) Pa at 101.3 kPa; their example of 60 m.
B: paths side by side add, paths behind each other Ae^-2 = sum of A^-2; their examples of 0.02 and 0.2 m2.
C: a shaft behind the rooms of each floor, dp(shaft to room) = dp(shaft to outdoors) / (1 + (Asr/Aro)^2).
D: neutral plane of a shaft open alike all the way up, hn/H = 1 / (1 + (Ts/To)^(1/3)); with a vent besides.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from sashwright.physics.network import Hole, Link, Network, Solution, Zone, solve
from sashwright.physics.openings import orifice_flow, series_area

KELVIN = 273.15
WARM, COLD = 21.0, -18.0
"""Of the example: 70 and 0 °F."""
EXACT = 2e-4
"""The same physics; constants of air and gravity differ in the fourth figure."""


def density(celsius: float) -> float:
    return 101325 / (287.055 * (celsius + KELVIN))


def constant(height: float) -> float:
    """Formula A's pressure over ``height`` between the example's temperatures [Pa]."""
    return 3460 * (1 / (COLD + KELVIN) - 1 / (WARM + KELVIN)) * height


def over_outdoors(found: Solution, zone: int, level: float, height: float) -> float:
    """Pressure of a warm zone over outdoors at a height [Pa]."""
    lift = 9.81 * (density(COLD) - density(WARM))
    return float(found.pressures[0, zone]) + lift * (height - level)


def solved(zones: list[Zone], links: list[Link]) -> tuple[Network, Solution]:
    network = Network(zones, ["out"], links)
    return network, solve(network, temperatures=WARM, outdoor_temperature=COLD)


# --- A: the 60 m of the example -------------------------------------------------------


def test_the_example_of_a_building_of_sixty_metres() -> None:
    """Neutral plane halfway up, 21 °C within, -18 °C outdoors: 55 Pa (0.22 in of water) at most."""
    openings = [Hole(start="out", end="shaft", area=0.1, height=h) for h in (0.0, 60.0)]
    _, found = solved([Zone(name="shaft")], list(openings))
    bottom, top = (over_outdoors(found, 0, 0.0, height) for height in (0.0, 60.0))
    assert top - bottom == pytest.approx(constant(60.0), rel=2e-3)
    assert (top - bottom) / 2 == pytest.approx(55.0, abs=1.1)
    # Equal areas, the same mass: the neutral plane lies below the middle by the densities.
    assert -bottom / top == pytest.approx(density(WARM) / density(COLD), rel=1e-3)


# --- B: effective areas ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("areas", "effective"),
    [((0.02, 0.02), 0.014), ((0.02, 0.2), 0.0199), ((0.1, 0.1, 0.1), 0.0577)],
)
def test_paths_behind_each_other(areas: tuple[float, ...], effective: float) -> None:
    """A zone between every two of them; what is printed has two or three figures."""
    assert series_area(areas) == pytest.approx(effective, rel=0.011)
    names = [f"z{at}" for at in range(len(areas) - 1)]
    ends = ["high", *names, "low"]
    links: list[Link] = [
        Hole(start=a, end=b, area=area, height=0.0)
        for a, b, area in zip(ends[:-1], ends[1:], areas, strict=True)
    ]
    network = Network([Zone(name=name) for name in names], ["high", "low"], links)
    found = solve(network, temperatures=20.0, outdoor_temperature=20.0, wind_pressure=[25.0, 0.0])
    flow = orifice_flow(effective, 25.0, density=density(20.0))
    assert found.forth[0] == pytest.approx([float(flow)] * len(areas), rel=0.011)


def test_a_tree_of_paths() -> None:
    """A stair that leaks by a wall, and by two doors into a lobby with two ways out: areas 0.02 beside
    (0.05 + 0.05) behind (0.03 + 0.04), 0.0773 m2 by the rules."""
    lobby = series_area([0.05 + 0.05, 0.03 + 0.04])
    effective = 0.02 + float(lobby)
    assert effective == pytest.approx(0.07735, abs=5e-6)
    ways = [("stair", "out", 0.02), ("stair", "lobby", 0.05), ("stair", "lobby", 0.05),
            ("lobby", "out", 0.03), ("lobby", "out", 0.04)]  # fmt: skip
    supply = Hole(start="fan", end="stair", area=0.5, height=0.0)
    links: list[Link] = [supply, *(Hole(start=a, end=b, area=s, height=0.0) for a, b, s in ways)]
    network = Network([Zone(name="stair"), Zone(name="lobby")], ["fan", "out"], links)
    found = solve(network, temperatures=20.0, outdoor_temperature=20.0, wind_pressure=[50.0, 0.0])
    stair = float(found.pressures[0, 0])
    flow = orifice_flow(effective, stair, density=density(20.0))
    assert found.forth[0, 0] == pytest.approx(float(flow), rel=EXACT)
    assert found.pressures[0, 1] / stair == pytest.approx(0.1**2 / (0.1**2 + 0.07**2), rel=EXACT)


# --- C: a shaft and the rooms of ten floors ---------------------------------------------

FLOORS, RISE = 10, 3.5
INNER, OUTER = 0.02, 0.03
"""Of each floor: between shaft and room, room and outdoors [m2]."""


def ten_floors() -> tuple[Network, Solution]:
    zones = [Zone(name="shaft"), *(Zone(name=f"r{n}", level=RISE * n) for n in range(FLOORS))]
    links: list[Link] = []
    for n in range(FLOORS):
        height = RISE * n + 1.75
        links.append(Hole(start="shaft", end=f"r{n}", area=INNER, height=height))
        links.append(Hole(start=f"r{n}", end="out", area=OUTER, height=height))
    return solved(zones, links)


def test_shaft_and_rooms_share_the_pressure_by_the_squares_of_their_areas() -> None:
    network, found = ten_floors()
    up = 0
    for n in range(FLOORS):
        height = RISE * n + 1.75
        whole = over_outdoors(found, 0, 0.0, height)
        room = over_outdoors(found, n + 1, RISE * n, height)
        # Below the neutral plane cold air comes through the outer way, heavier than what the formula has.
        heavier = 1.0 if whole > 0 else density(WARM) / density(COLD)
        assert (whole - room) / whole == pytest.approx(
            1 / (1 + (INNER / OUTER) ** 2 * heavier), rel=EXACT
        )
        up += whole > 0
        flow = found.forth[0, 2 * n] - found.back[0, 2 * n]
        assert flow == pytest.approx(found.forth[0, 2 * n + 1] - found.back[0, 2 * n + 1], rel=1e-6)
    assert up == FLOORS / 2
    assert network.zones[0].name == "shaft"


def test_the_whole_shaft_is_one_of_effective_areas() -> None:
    """Ten floors of two areas behind each other, against the shaft alone with the effective one: what leaves
    by the upper half, exactly; what comes in by the lower half but for the densities."""
    _, found = ten_floors()
    effective = float(series_area([INNER, OUTER]))
    out = 0.0
    for n in range(FLOORS):
        whole = over_outdoors(found, 0, 0.0, RISE * n + 1.75)
        if whole > 0:
            out += float(orifice_flow(effective, whole, density=density(WARM)))
    leaving = sum(float(found.forth[0, 2 * n + 1]) for n in range(FLOORS))
    assert leaving == pytest.approx(out, rel=EXACT)


# --- D: where the neutral plane lies ----------------------------------------------------

HIGH, MANY = 40.0, 200
LEAK = 0.01
"""Open area of the shaft by its height [m2/m]."""


def slotted(*more: Link) -> Solution:
    """A shaft open alike all the way up, as many small holes."""
    step = HIGH / MANY
    slots = [
        Hole(start="out", end="shaft", area=LEAK * step, height=step * (at + 0.5))
        for at in range(MANY)
    ]
    return solved([Zone(name="shaft")], [*slots, *more])[1]


def neutral(found: Solution) -> float:
    return -float(found.pressures[0, 0]) / (9.81 * (density(COLD) - density(WARM)))


def test_neutral_plane_of_a_shaft_open_all_the_way_up() -> None:
    found = slotted()
    formula = HIGH / (1 + ((WARM + KELVIN) / (COLD + KELVIN)) ** (1 / 3))
    assert neutral(found) == pytest.approx(formula, rel=1e-3)
    # What comes in below it, 2/3 C A' hn^1.5 sqrt(2 rho g drho).
    push = 9.81 * (density(COLD) - density(WARM))
    flow = 2 / 3 * 0.6 * LEAK * formula**1.5 * math.sqrt(2 * density(COLD) * push)
    assert float(found.forth[0].sum()) == pytest.approx(flow, rel=2e-3)


@pytest.mark.parametrize(("vent", "height"), [(0.2, 39.0), (0.2, 1.0), (1.5, 39.0)])
def test_neutral_plane_of_a_shaft_with_a_vent(vent: float, height: float) -> None:
    """The vent draws the plane towards itself: 2/3 A' hn^1.5 and 2/3 A' (H - hn)^1.5 with the vent's
    A sqrt(h - hn) on its side, each times the root of the density of what passes."""
    found = slotted(Hole(start="out", end="shaft", area=vent, height=height))

    def gained(level: float) -> float:
        into = 2 / 3 * LEAK * level**1.5
        out = 2 / 3 * LEAK * (HIGH - level) ** 1.5
        own = vent * math.sqrt(abs(height - level))
        into, out = (into, out + own) if height > level else (into + own, out)
        return float(into * np.sqrt(density(COLD)) - out * np.sqrt(density(WARM)))

    plane = brentq(gained, 1e-9, HIGH - 1e-9)
    assert neutral(found) == pytest.approx(plane, abs=0.02)
    assert abs(plane - height) < abs(neutral(slotted()) - height)
