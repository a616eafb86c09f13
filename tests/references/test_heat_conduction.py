"""Conduction through sections against the validation cases of standards and exact solutions.

ISO 10211:2017 annex C (2007: annex A), cases 1 and 2: 0.1 K and 0.1 W/m allowed. ISO 10077-2:2012 annex D,
example D.4, a wooden frame with an insulation panel: geometry from a public finite-element test, the
published result from memory.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sashwright.physics.conduction import Boundary, Conduction, solve
from sashwright.physics.section_mesh import Point, Region


def mm(*points: Point) -> tuple[Point, ...]:
    return tuple((x / 1000, y / 1000) for x, y in points)


def block(left: float, right: float, low: float, high: float) -> tuple[Point, ...]:
    return mm((left, low), (right, low), (right, high), (left, high))


# --- case 1: half a square column ---------------------------------------------------

CASE_1 = (
    (9.7, 13.4, 14.7, 15.1),
    (5.3, 8.6, 10.3, 10.8),
    (3.2, 5.6, 7.0, 7.5),
    (2.0, 3.6, 4.7, 5.0),
    (1.3, 2.3, 3.0, 3.2),
    (0.7, 1.4, 1.8, 1.9),
    (0.3, 0.6, 0.8, 0.9),
)
HELD = 1e-5
"""Film of a surface held at its temperature; over the quarter of a metre between nodes nothing."""


def column() -> Conduction:
    nodes = [(i / 4, 2 - j / 4) for j in range(1, 8) for i in range(1, 5)]
    return solve(
        [Region(((0, 0), (1, 0), (1, 2), (0, 2)), 1.0)],
        [Boundary(((0, 2), (1, 2)), 20, HELD), Boundary(((0, 2), (0, 0), (1, 0)), 0, HELD)],
        nodes,
    )


def series(x: float, y: float) -> float:
    """The exact solution on the whole square of side 2, 20 degrees on top."""
    odd = range(1, 200, 2)
    terms = (
        # sinh by exponentials, which do not overflow.
        math.sin(n * math.pi * x / 2)
        / n
        * math.exp(n * math.pi * (y / 2 - 1))
        * (1 - math.exp(-n * math.pi * y))
        / (1 - math.exp(-2 * n * math.pi))
        for n in odd
    )
    return 80 / math.pi * sum(terms)


def test_case_1() -> None:
    ours = np.reshape(column().temperatures, (7, 4))
    assert ours == pytest.approx(np.array(CASE_1), abs=0.1)
    exact = [[series(i / 4, 2 - j / 4) for i in range(1, 5)] for j in range(1, 8)]
    assert np.array(exact) == pytest.approx(np.array(CASE_1), abs=0.0501)
    # The edge jumps from 0 to 20 degrees in one corner; the flow there has no bound.
    assert ours == pytest.approx(np.array(exact), abs=0.01)


# --- case 2: metal through insulation -----------------------------------------------

CASE_2 = [
    Region(block(0, 500, 0, 47.5), 0.029),
    Region(block(0, 500, 41.5, 47.5), 1.15),
    Region(block(0, 15, 36.5, 41.5), 0.12),
    Region(block(0, 500, 0, 1.5), 230),
    Region(block(0, 1.5, 1.5, 36.5), 230),
    Region(block(0, 15, 35, 36.5), 230),
]
COLD = Boundary(mm((0, 47.5), (500, 47.5)), 0, 0.06)
WARM = Boundary(mm((0, 0), (500, 0)), 20, 0.11)
POINTS = mm(
    (0, 47.5),
    (500, 47.5),
    (0, 41.5),
    (15, 41.5),
    (500, 41.5),
    (0, 36.5),
    (15, 36.5),
    (0, 0),
    (500, 0),
)


def test_case_2() -> None:
    ours = solve(CASE_2, [COLD, WARM], POINTS)
    published = [7.1, 0.8, 7.9, 6.3, 0.8, 16.4, 16.3, 16.8, 18.3]
    assert ours.temperatures == pytest.approx(published, abs=0.1)
    assert ours.flows[1] == pytest.approx(9.5, abs=0.1)
    # Converged results of others: 9.490 W/m, and to two decimals.
    assert ours.flows[1] == pytest.approx(9.490, rel=0.001)
    converged = [7.06, 0.76, 7.90, 6.27, 0.83, 16.41, 16.33, 16.77, 18.33]
    assert ours.temperatures == pytest.approx(converged, abs=0.015)


def test_the_rule_of_one_percent() -> None:
    """What is let go at 1 % is within 1 % of the finest."""
    rough = solve(CASE_2, [COLD, WARM], tolerance=0.01)
    assert rough.flows[1] == pytest.approx(9.490, rel=0.01)
    assert rough.change <= 0.01


# --- D.4: a wooden frame ------------------------------------------------------------


def cavity(depth: float, width: float) -> float:
    """Conductivity that stands for a closed cavity in a frame, ISO 10077-2:2012, 6.3, at 10 °C."""
    ratio = depth / width
    radiation = 2.11 * (1 + math.sqrt(1 + ratio**2) - ratio)
    return depth * (max(0.025 / depth, 1.57) + radiation)


def test_frame() -> None:
    wood, rubber = 0.13, 0.25
    outer = mm((0, 5), (0, 71), (42, 71), (42, 20), (63, 20), (63, 5))
    sash = mm(
        *((68, 5), (68, 23), (48, 23), (48, 74), (26, 74), (26, 88)),
        *((110, 88), (110, 54), (90, 54), (90, 20), (110, 20), (110, 5)),
    )
    gaskets = ((26, 42, 71, 74), (48, 63, 20, 23), (95, 110, 51, 54), (95, 110, 20, 23))
    section = [
        Region(outer, wood),
        Region(sash, wood),
        *(Region(block(*one), rubber) for one in gaskets),
        Region(block(95, 300, 23, 51), 0.035),
        Region(block(42, 48, 20, 74), cavity(0.054, 0.006)),
        Region(block(90, 95, 20, 54), cavity(0.034, 0.005)),
        # Open to outdoors by a slit: twice as much.
        Region(block(63, 68, 5, 23), 2 * cavity(0.018, 0.005)),
    ]
    inside = [
        # In corners faces see each other: 0.20 rather than 0.13.
        Boundary(mm((0, 71), (9, 71)), 20, 0.13),
        Boundary(mm((9, 71), (26, 71), (26, 88)), 20, 0.20),
        Boundary(mm((26, 88), (110, 88), (110, 81)), 20, 0.13),
        Boundary(mm((110, 81), (110, 51), (140, 51)), 20, 0.20),
        Boundary(mm((140, 51), (300, 51)), 20, 0.13),
    ]
    outdoors = Boundary(mm((0, 5), (110, 5), (110, 23), (300, 23)), 0, 0.04)
    conductance = -solve(section, [outdoors, *inside]).flows[0] / 20
    panel = 1 / (0.028 / 0.035 + 0.17)
    # Published 0.346 W/(m K) and 1.36 W/(m2 K), from memory; half a unit of the last digit and 0.1 %.
    assert conductance == pytest.approx(0.346, abs=0.0009)
    assert (conductance - 0.190 * panel) / 0.110 == pytest.approx(1.36, abs=0.009)


# --- exact solutions ----------------------------------------------------------------


@pytest.mark.parametrize("degrees", [0, 30, 77])
def test_layers_at_any_slant(degrees: float) -> None:
    """A wall of three layers: resistances in row, however it stands."""
    turn = math.radians(degrees)

    def turned(*points: Point) -> tuple[Point, ...]:
        c, s = math.cos(turn), math.sin(turn)
        return tuple((c * x - s * y, s * x + c * y) for x, y in points)

    ends, conductivities = (0.0, 0.02, 0.07, 0.09), (0.13, 0.029, 1.0)
    layers = [
        Region(turned((0, low), (0.2, low), (0.2, high), (0, high)), conductivity)
        for low, high, conductivity in zip(ends, ends[1:], conductivities, strict=False)
    ]
    ours = solve(
        layers,
        [
            Boundary(turned((0, 0), (0.2, 0)), -5, 0.04),
            Boundary(turned((0, 0.09), (0.2, 0.09)), 20, 0.13),
        ],
        turned((0.2, 0.09)),
    )
    resistance = 0.04 + 0.02 / 0.13 + 0.05 / 0.029 + 0.02 + 0.13
    assert ours.flows[1] == pytest.approx(0.2 * 25 / resistance, rel=1e-6)
    assert ours.temperatures[0] == pytest.approx(20 - 0.13 * 25 / resistance, abs=1e-5)


def test_a_pipe() -> None:
    """Through a ring of radii 20 and 50 mm: 2 pi lambda dT / ln(r2/r1), a quarter of it."""
    arc = np.linspace(0, np.pi / 2, 61)
    inner = [(0.02 * math.cos(a), 0.02 * math.sin(a)) for a in arc]
    outer = [(0.05 * math.cos(a), 0.05 * math.sin(a)) for a in arc]
    ours = solve(
        [Region((*inner, *outer[::-1]), 0.2)],
        [Boundary(tuple(inner), 60, 1e-7), Boundary(tuple(outer), 10, 1e-7)],
    )
    exact = math.pi / 2 * 0.2 * 50 / math.log(2.5)
    # Sixty chords for an arc.
    assert ours.flows[0] == pytest.approx(exact, rel=0.001)
