"""Air through openings and rooms against handbooks, independent quadrature and networks made by hand.

A. ASHRAE Handbook of Fundamentals 1997, p. 25.13, equations 37 and 38: stack, and one opening with air both
   ways. IS 3362-1977: wind and stack in metres and minutes. Both as quoted in public texts.
B. API RP 500: neutral level of two unequal openings, as quoted in a public text.
C. BS 5925:1991 and W. de Gids and H. Phaff (1982), EN 16798-7, P. R. Warren: single-sided and cross
   ventilation; from memory.
D. MIL-HDBK-1011/2 (1990): windows for a month's ventilation, a worked example.
E. Quadrature of Bernoulli over the height of an opening, by scipy; densities of an ideal gas.
F. C. T. Kemp, M. S. Davies Wykes, R. K. Bhagat and P. F. Linden, "Fluid mechanics of sash windows",
   *Flow* (2022): three regimes by the place of the neutral level. Only the abstract was read; the check is
   sums by hand with densities alike but for the weight.
G. Networks of orifices with an answer on paper: series, parallel, a bridge, a branch without flow, two
   rooms one over the other. No published multizone benchmark could be read.
H. Swami and Chandra, FSEC-CR-163-86 (1987); ASCE 7's order of suction on lee walls (from memory).
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from sashwright.physics.network import (
    Crack,
    Hole,
    Network,
    Opening,
    Solution,
    Zone,
    solve,
    wall_coefficient,
    wall_pressures,
)
from sashwright.physics.openings import (
    cross_flow,
    mixing_discharge,
    neutral_level,
    orifice_flow,
    sash_window_flow,
    series_area,
    single_sided_flow,
    stack_flow,
    two_way_flow,
    wind_flow,
)

FOOT = 0.3048
CFM = 4.719474432e-4
MPH = 0.44704
G = 9.81
KELVIN = 273.15
DIGITS = 1e-5
"""Sums by hand carry six figures."""
GAS = 1e-4
"""The gas constant of dry air is 287.042 or 287.055 by source; and six figures."""
CLOSED_FORM = 1e-3
"""The least that a closed form must be good for; quadrature itself is good to 1e-9."""
CALM_21 = 101325 / (287.042 * 1.2) - KELVIN
"""Where air has 1.2 kg/m3 [°C]."""


def density(celsius: float) -> float:
    return 101325 / (287.055 * (celsius + KELVIN))


def quadrature(
    width: float, bottom: float, top: float, start: float, end: float, pressure: float, Cd: float
) -> tuple[float, float]:
    """Flow forth and back by brute force; the pressure difference is that at height zero."""
    rho, other = density(start), density(end)
    rate = G * (other - rho)
    neutral = -pressure / rate if rate else math.inf
    cuts = sorted({bottom, min(max(neutral, bottom), top), top})

    def side(sign: int, weight: float) -> float:
        def speed(z: float) -> float:
            return math.sqrt(max(sign * (pressure + rate * z), 0.0))

        total = 0.0
        for low, high in itertools.pairwise(cuts):
            total += quad(speed, low, high, epsabs=1e-12, epsrel=1e-9, limit=200)[0]
        return Cd * width * math.sqrt(2 * weight) * total

    return side(1, rho), side(-1, other)


# --- A: stack -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lower", "upper", "height", "Ti", "To", "Cd", "level", "q_in", "q_out", "mass"),
    [
        (0.3, 0.3, 3.0, 25.0, 15.0, 0.60, 1.474416, 0.177302, 0.183456, 0.217194),
        (0.2, 0.4, 4.5, 27.0, 10.0, 0.65, 3.557285, 0.258468, 0.273987, 0.322213),
    ],
)
def test_stack_by_hand(  # noqa: PLR0917
    lower: float, upper: float, height: float, Ti: float, To: float, Cd: float,
    level: float, q_in: float, q_out: float, mass: float,
) -> None:  # fmt: skip
    found = stack_flow(
        lower,
        upper,
        height,
        indoor_temperature=Ti,
        outdoor_temperature=To,
        discharge_coefficient=Cd,
    )
    assert found.neutral_level == pytest.approx(level, rel=DIGITS)
    assert found.inflow == pytest.approx(q_in, rel=DIGITS)
    assert found.outflow == pytest.approx(q_out, rel=DIGITS)
    assert found.mass_flow == pytest.approx(mass, rel=GAS)


def test_the_handbooks_equation_from_the_neutral_level() -> None:
    """Q = Cd A sqrt(2 g h (Ti - To) / Ti) at the lower opening, with the air that leaves, equation 37. Its
    linear density is half the difference of temperatures off."""
    Ti, To = 25.0, 15.0
    found = stack_flow(0.3, 0.3, 3.0, indoor_temperature=Ti, outdoor_temperature=To)
    handbook = 0.6 * 0.3 * math.sqrt(2 * G * 1.5 * (Ti - To) / (Ti + KELVIN))
    assert found.outflow == pytest.approx(handbook, rel=(Ti - To) / (Ti + KELVIN))
    assert found.inflow < handbook < found.outflow
    # In the limit of small differences it is the equation itself.
    close = stack_flow(0.3, 0.3, 3.0, indoor_temperature=Ti, outdoor_temperature=Ti - 1e-3)
    handbook = 0.6 * 0.3 * math.sqrt(2 * G * 1.5 * 1e-3 / (Ti + KELVIN))
    assert close.outflow == pytest.approx(handbook, rel=DIGITS)


def test_stack_of_the_indian_standard() -> None:
    """IS 3362 has 7.0 A sqrt(h Δt) in cubic metres a minute: a discharge of 0.645 at 300 K."""
    area, height, warmth = 1.2, 2.5, 4.0
    standard = 7.0 * area * math.sqrt(height * warmth) / 60
    # Inlet and outlet of that area each; the height of the standard is between them.
    found = stack_flow(
        area,
        area,
        height,
        indoor_temperature=27.0,
        outdoor_temperature=23.0,
        discharge_coefficient=0.645,
    )
    assert (found.inflow + found.outflow) / 2 == pytest.approx(standard, rel=0.005)


def test_neutral_level_of_unequal_openings() -> None:
    """B: 6 and 9 ft2, 12 ft apart, 540 and 520 °R."""
    warm, cold = 540 / 1.8 - KELVIN, 520 / 1.8 - KELVIN
    level = neutral_level(6.0, 9.0, 12 * FOOT, indoor_temperature=warm, outdoor_temperature=cold)
    assert level / FOOT == pytest.approx(8.210526, rel=DIGITS)
    found = stack_flow(
        6 * FOOT**2, 9 * FOOT**2, 12 * FOOT, indoor_temperature=warm, outdoor_temperature=cold
    )
    assert found.neutral_level == pytest.approx(level, rel=1e-12)


@pytest.mark.parametrize(("ratio", "percent"), [(1.25, 10.432), (2.0, 26.491), (5.0, 38.675)])
def test_the_handbooks_figure_of_unequal_openings(ratio: float, percent: float) -> None:
    """Over the flow of two equal ones; the figure tops out near 40 %."""
    warm = {"indoor_temperature": 20.0, "outdoor_temperature": 19.99}
    gain = (
        stack_flow(0.3, 0.3 * ratio, 2.0, **warm).mass_flow
        / stack_flow(0.3, 0.3, 2.0, **warm).mass_flow
    )
    assert (gain - 1) * 100 == pytest.approx(percent, rel=1e-3)


def test_wind_with_warmth_and_against_it() -> None:
    """Lower sash raised to windward and upper sash lowered to leeward, and the wrong way round; densities
    of the sums by hand are alike but for the weight."""
    areas, room = (0.25, 0.25, 1.2), {"indoor_temperature": 26.0, "outdoor_temperature": 21.0}
    push = 0.5 * 1.2 * 0.9 * 2.0**2
    for wind, flow in ((push, 0.211960), (-push, -0.189929), (0.0, 0.066536)):
        found = stack_flow(*areas, **room, wind_difference=wind)
        volume = math.copysign((found.inflow + found.outflow) / 2, found.mass_flow)
        assert volume == pytest.approx(flow, rel=0.01)
    # Equal heads that help each other: 41 % more than either.
    weight = G * 1.2 * (density(21.0) - density(26.0))
    alone = stack_flow(*areas, **room).mass_flow
    both = stack_flow(*areas, **room, wind_difference=weight).mass_flow
    assert both / alone == pytest.approx(math.sqrt(2), rel=GAS)


# --- C, D: wind, one opening ----------------------------------------------------------


def test_wind_through_inlets() -> None:
    """The handbook's formula, its inch-pound form of 88 Cv A U, and the Indian standard's 0.6 A V."""
    assert wind_flow(1.0, 3.0) == pytest.approx(1.65, rel=DIGITS)
    flow = wind_flow(10 * FOOT**2, 8 * MPH)
    assert flow / CFM == pytest.approx(88 * 0.55 * 10 * 8, rel=DIGITS)
    assert wind_flow(1.5, 2.5, effectiveness=0.6) == pytest.approx(2.25, rel=DIGITS)


def test_cross_ventilation_of_the_british_standard() -> None:
    flow = cross_flow(0.8, 0.6, 3.0, coefficient_difference=0.8)
    assert flow == pytest.approx(0.785665, rel=DIGITS)


def test_openings_of_the_military_handbook() -> None:
    """D: 18.5 ft2 wanted from an inlet of 39.10 ft2 need an outlet of 21 ft2, and A = 1.56 CFM/(W √PD) has a
    discharge of 1/1.56."""
    assert series_area([39.10, 21.0]) == pytest.approx(18.5, rel=0.001)
    speed = 8 * 0.67 * 101.2  # feet a minute
    area = 1.56 * 5000 / (speed * math.sqrt(0.8))
    assert area == pytest.approx(16.0770, rel=DIGITS)
    ours = cross_flow(
        math.sqrt(2) * area * FOOT**2,
        math.sqrt(2) * area * FOOT**2,
        speed * FOOT / 60,
        coefficient_difference=0.8,
        discharge_coefficient=1 / 1.56,
    )
    assert ours / CFM == pytest.approx(5000, rel=DIGITS)


@pytest.mark.parametrize(
    ("method", "area", "height", "warmth", "wind", "flow"),
    [
        ("de Gids and Phaff", 1.0, 1.2, 8.0, 2.5, 0.111636),
        ("de Gids and Phaff", 0.5, 1.5, 3.0, 0.0, 0.0401170),
        ("de Gids and Phaff", 0.54, 0.6, 10.0, 4.0, 0.0585346),
        ("EN 16798-7", 1.0, 1.2, 8.0, 2.5, 0.0916515),
        ("EN 16798-7", 0.54, 0.6, 10.0, 4.0, 0.0391267),
        ("Warren", 0.9, 1.2, 8.0, 0.0, 0.101164),
        ("Warren", 1.0, 1.2, 0.0, 3.0, 0.0750),
    ],
)
def test_one_window_on_one_side(
    method: str, area: float, height: float, warmth: float, wind: float, flow: float
) -> None:
    found = single_sided_flow(
        area,
        height,
        wind_speed=wind,
        indoor_temperature=25.0,
        outdoor_temperature=25.0 - warmth,
        method=method,  # type: ignore[arg-type]
    )
    assert found == pytest.approx(flow, rel=DIGITS)


# --- A, E: tall openings --------------------------------------------------------------


@pytest.mark.parametrize("pressure", [-3.0, -0.3, -0.05, 0.0, 0.01, 0.2, 5.0])
@pytest.mark.parametrize(
    ("start", "end"),
    [(25.0, 15.0), (15.0, 25.0), (20.0, 20.0), (21.0, 20.9), (-20.0, 20.0), (20.0, 20.0 + 1e-9)],
)
def test_doors_and_sashes_by_quadrature(start: float, end: float, pressure: float) -> None:
    for width, bottom, top in ((0.9, 0.0, 2.0), (0.8, 3.9, 4.3), (0.7, 0.0, 1e-3)):
        wanted = quadrature(width, bottom, top, start, end, pressure, 0.62)
        found = two_way_flow(
            width,
            bottom,
            top,
            start_temperature=start,
            end_temperature=end,
            pressure_difference=pressure,
            discharge_coefficient=0.62,
        )
        assert (found.forth, found.back) == pytest.approx(wanted, rel=GAS, abs=1e-9)


@pytest.mark.parametrize(
    ("width", "height", "Ti", "To", "Cd", "share", "q_in", "q_out", "mass"),
    [
        (0.9, 1.2, 25.0, 15.0, 0.60, 0.497157, 0.134570, 0.139240, 0.164847),
        (0.8, 2.0, 20.0, 0.0, 0.65, 0.494112, 0.394016, 0.422866, 0.509172),
    ],
)
def test_one_tall_opening_of_a_closed_room(
    width: float, height: float, Ti: float, To: float, Cd: float,
    share: float, q_in: float, q_out: float, mass: float,
) -> None:  # fmt: skip
    """Neutral at H/(1 + (ρo/ρi)^(1/3)); Brown and Solvason's formula but for the linear density."""
    found = sash_window_flow(
        width,
        height,
        height,
        0.0,
        indoor_temperature=Ti,
        outdoor_temperature=To,
        discharge_coefficient=Cd,
    )
    assert found.neutral_level / height == pytest.approx(share, rel=DIGITS)
    assert (found.inflow, found.outflow) == pytest.approx((q_in, q_out), rel=DIGITS)
    assert found.mass_flow == pytest.approx(mass, rel=GAS)
    linear = Cd / 3 * width * height**1.5 * math.sqrt(G * (Ti - To) / (Ti + KELVIN))
    assert found.inflow < linear < found.outflow


def test_one_opening_with_mixing() -> None:
    """A: equation 38 for 10 K, and 37 with it: the opening's upper half with its middle a quarter above."""
    assert mixing_discharge(25.0, 15.0) == pytest.approx(0.445, rel=DIGITS)
    handbook = 0.445 * 0.5 * math.sqrt(2 * G * 0.3 * 10 / 298.15)
    assert handbook == pytest.approx(0.0988605, rel=DIGITS)
    exact = sash_window_flow(
        1 / 1.2,
        1.2,
        1.2,
        0.0,
        indoor_temperature=25.0,
        outdoor_temperature=15.0,
        discharge_coefficient=mixing_discharge(25.0, 15.0),
    )
    # Its one height for a half stands for the mean of roots: 3/(2 √2) of it, 6 % more.
    assert handbook / exact.inflow == pytest.approx(3 / (2 * math.sqrt(2)), rel=0.02)


# --- F: a window open at both ends ----------------------------------------------------

WINDOWS = [
    (0.2, 0.2, 0.800000, 0.0582273),
    (0.4, 0.4, 0.800000, 0.1073976),
    (0.1, 0.3, 0.304080, 0.0388718),
    (0.05, 0.7, 0.395918, 0.0578409),
    (0.7, 0.05, 1.204082, 0.0578409),
    (0.0, 0.4, 0.200000, 0.0207669),
    (0.0, 0.8, 0.400000, 0.0587377),
]
"""Top gap, bottom gap, neutral level [m] and flow [m3/s] of a window of 0.8 by 1.6 m at 8 K, linear
density."""


@pytest.mark.parametrize(("top", "bottom", "level", "flow"), WINDOWS)
def test_window_open_at_top_and_bottom(
    top: float, bottom: float, level: float, flow: float
) -> None:
    """At 8 mK the exact densities are the linear ones; the flow goes with the root of the difference."""
    small = sash_window_flow(
        0.8, 1.6, bottom, top, indoor_temperature=25.0, outdoor_temperature=25.0 - 8e-3
    )
    assert small.neutral_level == pytest.approx(level, rel=1e-4)
    assert small.inflow * math.sqrt(1000) == pytest.approx(flow, rel=1e-4)
    exact = sash_window_flow(
        0.8, 1.6, bottom, top, indoor_temperature=25.0, outdoor_temperature=17.0
    )
    # The linear density is off by up to half the share that the difference has of the temperature.
    mean = (exact.inflow + exact.outflow) / 2
    assert mean == pytest.approx(flow, rel=8.0 / (25.0 + KELVIN) / 2)
    assert exact.mass_flow == pytest.approx(by_quadrature(bottom, top), rel=GAS)


def by_quadrature(bottom: float, top: float) -> float:
    """Of the same window, 25 °C against 17, with the neutral level from a general root finder."""

    def flows(room: float) -> tuple[float, float]:
        gaps = [(0.0, bottom), (1.6 - top, 1.6)]
        both = [quadrature(0.8, *gap, 25.0, 17.0, room, 0.6) for gap in gaps if gap[0] < gap[1]]
        return sum(out for out, _ in both), sum(into for _, into in both)

    drop = G * (density(17.0) - density(25.0)) * 1.6
    room = brentq(lambda p: flows(p)[0] - flows(p)[1], -drop, 0.0, xtol=1e-12)
    return flows(room)[0]


def test_half_the_window_open_as_two_gaps_or_one() -> None:
    """2 √2 − 1 times as much through two gaps."""
    room = {"indoor_temperature": 20.0, "outdoor_temperature": 20.0 - 1e-4}
    two = sash_window_flow(0.8, 1.6, 0.4, 0.4, **room).mass_flow
    one = sash_window_flow(0.8, 1.6, 0.8, 0.0, **room).mass_flow
    assert two / one == pytest.approx(2 * math.sqrt(2) - 1, rel=1e-6)


# --- G: networks ----------------------------------------------------------------------


def still(
    rooms: int, links: list[Crack | Hole | Opening], winds: dict[str, float]
) -> tuple[Solution, list[str]]:
    """Rooms a, b, c ... at one temperature with outdoors, air of 1.2 kg/m3."""
    names = "abcdef"[:rooms]
    network = Network([Zone(name=name) for name in names], list(winds), links)
    found = solve(
        network,
        temperatures=CALM_21,
        outdoor_temperature=CALM_21,
        wind_pressure=list(winds.values()),
    )
    return found, list(names)


def hole(start: str, end: str, area: float) -> Hole:
    return Hole(start=start, end=end, area=area, height=0.0)


@pytest.mark.parametrize(
    ("first", "second", "total", "mass", "middle"),
    [(0.5, 0.5, 4.0, 0.657267, 2.0), (0.6, 0.3, 4.0, 0.498831, 3.2)],
)
def test_two_in_series(
    first: float, second: float, total: float, mass: float, middle: float
) -> None:
    found, _ = still(1, [hole("w", "a", first), hole("a", "l", second)], {"w": total, "l": 0.0})
    assert found.forth[0] == pytest.approx([mass, mass], rel=DIGITS)
    assert found.pressures[0] == pytest.approx([middle], rel=DIGITS)
    assert orifice_flow(series_area([first, second]), total) == pytest.approx(mass, rel=DIGITS)


def test_side_by_side() -> None:
    assert orifice_flow(0.2 + 0.3, 3.0) == pytest.approx(0.804984, rel=DIGITS)
    found, _ = still(
        1,
        [hole("w", "a", 0.2), hole("w", "a", 0.3), hole("a", "l", 1e4)],
        {"w": 3.0, "l": 0.0},
    )
    assert found.forth[0].sum() / 2 == pytest.approx(0.804984, rel=DIGITS)


@pytest.mark.parametrize(
    ("areas", "winds", "pressure", "flows"),
    [
        ([0.4, 0.2], [3.78, -1.08], 2.808, [0.366564, -0.366564]),
        ([0.4, 0.3, 0.2], [3.78, -1.08, -2.70], 0.463545, [0.677102, -0.346448, -0.330654]),
    ],
)
def test_one_room_with_openings_to_several_faces(
    areas: list[float], winds: list[float], pressure: float, flows: list[float]
) -> None:
    faces = {f"f{at}": wind for at, wind in enumerate(winds)}
    links = [hole(face, "a", area) for face, area in zip(faces, areas, strict=True)]
    found, _ = still(1, list(links), faces)
    assert found.pressures[0] == pytest.approx([pressure], rel=DIGITS)
    assert (found.forth - found.back)[0] == pytest.approx(flows, rel=DIGITS)


def test_cracks_in_series() -> None:
    ends = ["w", "a", "b", "l"]
    links = [
        Crack(start=start, end=end, coefficient=C)
        for start, end, C in zip(ends[:-1], ends[1:], (0.02, 0.05, 0.01), strict=True)
    ]
    found, _ = still(2, list(links), {"w": 10.0, "l": 0.0})
    assert found.forth[0] / 1.2 == pytest.approx(0.0354293, rel=DIGITS)
    assert found.pressures[0] == pytest.approx([10 - 2.410180, 7.001201], rel=DIGITS)


def test_two_rooms_one_over_the_other() -> None:
    """.2 m2 low, .5 in the floor between, .2 high, each 2.7 m over the one before; the lower room lies
    below outdoor pressure over its whole height."""
    network = Network(
        [Zone(name="below"), Zone(name="above", level=2.7)],
        ["out"],
        [
            Hole(start="out", end="below", area=0.2, height=0.0),
            Hole(start="below", end="above", area=0.5, height=2.7),
            Hole(start="above", end="out", area=0.2, height=5.4),
        ],
    )
    found = solve(network, temperatures=[22.0, 25.0], outdoor_temperature=10.0)
    assert found.forth[0] == pytest.approx([0.220413] * 3, rel=GAS)
    below, above = found.pressures[0]
    assert below == pytest.approx(-1.353159, rel=GAS)
    ceiling = below + G * (density(10.0) - density(22.0)) * 2.7
    assert ceiling == pytest.approx(-0.010684, abs=GAS)
    assert ceiling - above == pytest.approx(0.225681, abs=GAS)
    neutral = -above / (G * (density(10.0) - density(25.0)))
    assert neutral == pytest.approx(0.384170, rel=1e-3)


def test_through_a_corridor() -> None:
    """A windward room and two leeward ones behind doors of 1.6 m2."""
    links = [
        hole("w", "a", 0.4),
        hole("a", "b", 1.6),
        hole("b", "c", 1.6),
        hole("b", "d", 1.6),
        hole("c", "l", 0.3),
        hole("d", "l", 0.2),
    ]
    found, _ = still(4, list(links), {"w": 3.5, "l": 0.0})
    assert found.forth[0, 0] == pytest.approx(0.530386, rel=DIGITS)
    assert found.forth[0, 4:] == pytest.approx([0.317018, 0.213368], rel=DIGITS)
    assert found.pressures[0] == pytest.approx([1.465066, 1.337882, 1.292445, 1.317299], rel=DIGITS)


def test_a_bridge() -> None:
    """Flows of so many times the root of the pressure."""
    links = [
        hole(start, end, k / (0.6 * math.sqrt(2.4)))
        for start, end, k in (
            ("w", "a", 0.4),
            ("w", "b", 0.1),
            ("a", "l", 0.1),
            ("b", "l", 0.3),
            ("a", "b", 0.2),
        )
    ]
    found, _ = still(2, list(links), {"w": 4.0, "l": 0.0})
    assert found.pressures[0] == pytest.approx([2.980658, 1.644275], rel=DIGITS)
    wanted = [0.403850, 0.153484, 0.172646, 0.384688, 0.231204]
    assert found.forth[0] == pytest.approx(wanted, rel=DIGITS)


@pytest.mark.parametrize("across", [1e-4, 0.3, 50.0])
def test_a_bridge_whose_middle_passes_nothing(across: float) -> None:
    """Where Newton's method by itself goes to and fro for ever."""
    links = [
        hole(start, end, k / (0.6 * math.sqrt(2.4)))
        for start, end, k in (
            ("w", "a", 0.1),
            ("a", "l", 0.3),
            ("w", "b", 0.05),
            ("b", "l", 0.15),
            ("a", "b", across),
        )
    ]
    found, _ = still(2, list(links), {"w": 8.0, "l": 0.0})
    assert found.pressures[0] == pytest.approx([0.8, 0.8], rel=1e-9)
    assert found.forth[0, :4] == pytest.approx([0.268328] * 2 + [0.134164] * 2, rel=DIGITS)
    assert abs(found.forth[0, 4] - found.back[0, 4]) < 1e-9


@pytest.mark.parametrize(
    ("wind", "room", "flows", "total"),
    [
        (0.0, -0.766381, [0.169825, 0.169825, -0.169825, -0.169825], 0.339649),
        (3.0, -0.0205657, [0.481854, -0.395238, 0.246035, -0.332651], 0.727889),
    ],
)
def test_one_room_in_wind_and_warmth(
    wind: float, room: float, flows: list[float], total: float
) -> None:
    """Four openings, low and high, to windward (.6) and to leeward (−.3)."""
    network = Network(
        [Zone(name="room")],
        ["w", "l"],
        [
            Hole(start=face, end="room", area=area, height=height)
            for area, height in ((0.3, 1.0), (0.2, 4.0))
            for face in ("w", "l")
        ],
    )
    head = 0.5 * density(15.0) * wind**2
    found = solve(
        network,
        temperatures=25.0,
        outdoor_temperature=15.0,
        wind_pressure=[0.6 * head, -0.3 * head],
    )
    assert found.pressures[0] == pytest.approx([room], abs=GAS)
    assert (found.forth - found.back)[0] == pytest.approx(flows, rel=2e-4)
    assert found.fresh_air(network)[0] == pytest.approx([total], rel=2e-4)


def test_the_network_knows_a_window_as_the_closed_form_does() -> None:
    """A raised lower and a lowered upper sash of one closed room."""
    sashes = [
        Opening(start="out", end="room", width=0.8, bottom=1.0, top=1.8, grows="up"),
        Opening(start="out", end="room", width=0.8, bottom=1.8, top=2.6, grows="down"),
    ]
    network = Network([Zone(name="room")], ["out"], sashes)
    for top, bottom, *_ in WINDOWS:
        found = solve(
            network,
            temperatures=25.0,
            outdoor_temperature=17.0,
            fraction=[bottom / 0.8, top / 0.8],
        )
        wanted = sash_window_flow(
            0.8, 1.6, bottom, top, indoor_temperature=25.0, outdoor_temperature=17.0
        )
        assert found.fresh_air(network)[0] == pytest.approx([wanted.mass_flow], rel=1e-5)


# --- H: wind on walls -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("angle", "square", "long_", "short"),
    [
        (0, 0.6035, 0.6035, 0.6035),
        (30, 0.4687, 0.4798, 0.4587),
        (60, 0.1188, 0.1826, 0.0567),
        (90, -0.4427, -0.3398, -0.5171),
        (120, -0.6805, -0.6323, -0.6382),
        (150, -0.3897, -0.3695, -0.3403),
        (180, -0.3642, -0.4519, -0.2258),
    ],
)
def test_wall_coefficients_by_hand(angle: float, square: float, long_: float, short: float) -> None:
    found = [wall_coefficient(angle, ratio) for ratio in (1.0, 2.0, 0.5)]
    assert found == pytest.approx([square, long_, short], abs=6e-5)


def test_lee_walls_in_the_order_of_the_standard() -> None:
    """ASCE 7: −0.5 on the lee of a shallow plan, −0.3 and less of a deep one."""
    shallow, deep = wall_coefficient(180, 2.0), wall_coefficient(180, 0.5)
    assert shallow == pytest.approx(-0.5, abs=0.1)
    assert deep == pytest.approx(-0.25, abs=0.1)


def test_pressure_between_faces() -> None:
    """0.6035 less −0.3642 times ½ 1.2 3² square on; by shelter class 3, 0.7² of it."""
    found = wall_pressures([180, 0], 3.0, 180, shielding="none")
    assert found[0, 0] - found[0, 1] == pytest.approx((0.6035 + 0.3642) * 5.4, rel=1e-3)
    shielded = wall_pressures([180, 0], 3.0, 180, shielding="moderate")
    assert shielded == pytest.approx(found * 0.49, rel=1e-12)


def test_the_network_is_worth_a_closed_form() -> None:
    """Cross ventilation and a doorway in one house, by formulas of C and E."""
    head = 0.5 * 1.2 * 3.0**2
    network = Network(
        [Zone(name="room")],
        ["w", "l"],
        [hole("w", "room", 0.8), hole("room", "l", 0.6)],
    )
    found = solve(
        network,
        temperatures=CALM_21,
        outdoor_temperature=CALM_21,
        wind_pressure=[0.5 * head, -0.3 * head],
    )
    wanted = cross_flow(0.8, 0.6, 3.0, coefficient_difference=0.8, discharge_coefficient=0.6)
    assert found.forth[0] / 1.2 == pytest.approx([wanted] * 2, rel=CLOSED_FORM * 0.01)
    rooms = np.array([[25.0, 19.0]])
    house = Network(
        [Zone(name="a"), Zone(name="b")],
        ["out"],
        [
            Opening(start="a", end="b", width=0.8, bottom=0.0, top=2.0),
            # Held at the pressure outdoors by openings far larger than the door, at its mid-height.
            Hole(start="a", end="out", area=1e4, height=1.0),
            Hole(start="b", end="out", area=1e4, height=1.0),
        ],
    )
    door = solve(house, temperatures=rooms, outdoor_temperature=10.0)
    closed = two_way_flow(0.8, 0.0, 2.0, start_temperature=25.0, end_temperature=19.0, level=1.0)
    assert door.forth[0, 0] == pytest.approx(closed.forth, rel=CLOSED_FORM)
    assert door.back[0, 0] == pytest.approx(closed.back, rel=CLOSED_FORM)
