"""Leakage areas, reference pressures and units against printed equivalences and sums by hand.

Sources: ASHRAE Handbook of Fundamentals, chapter on ventilation and infiltration (effective leakage area:
4 Pa, discharge coefficient 1); CAN/CGSB-149.10 (equivalent leakage area: 10 Pa, 0.611, from memory);
AAMA/WDMA/CSA 101/I.S.2/A440 (0.30 cfm/ft2 = 1.5 L/(s m2) at 75 Pa, Canadian level A2).
"""

from __future__ import annotations

import math

import pytest

from sashwright import units
from sashwright.chapters.seal.limits import JOINT_LIMIT, RATED_LIMIT, RATED_PRESSURE
from sashwright.physics.leakage import (
    coefficient_from_area,
    convert_area,
    effective_leakage_area,
    power_law_flow,
    power_law_from_tests,
)

CFM = units.parse_flow("1 cfm")
FOOT = 0.3048
DIGITS = 1e-5
"""Sums by hand carry six figures."""


@pytest.mark.parametrize(
    ("n", "ratio"), [(0.50, 1.63666), (0.60, 1.79371), (0.65, 1.87780), (0.70, 1.96583)]
)
def test_canadian_area_over_american_area(n: float, ratio: float) -> None:
    """(10 / 4)^(n - 1/2) / 0.611. Practitioners say "about twice"; for houses of 0.65 it is 1.88."""
    area = convert_area(1e-4, n, from_pa=4.0, to_pa=10.0, to_discharge=0.611)
    assert area / 1e-4 == pytest.approx(ratio, rel=DIGITS)
    C = coefficient_from_area(1e-4, n)
    direct = effective_leakage_area(C, n, 10.0, discharge_coefficient=0.611)
    assert direct == pytest.approx(area, rel=1e-12)


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [(75, 4, 6.72126), (50, 4, 5.16406), (75, 50, 1.30155), (75, 10, 3.70501)],
)
def test_flows_at_the_usual_pressures(first: float, second: float, ratio: float) -> None:
    """By the power law with 0.65."""
    flows = [power_law_flow(1.0, 0.65, p) for p in (first, second)]
    assert flows[0] / flows[1] == pytest.approx(ratio, rel=DIGITS)


@pytest.mark.parametrize(
    ("n", "litres"),
    [
        (0.65, {4: 0.258199, 10: 0.468398, 50: 1.33336, 75: 1.73542}),
        (0.50, {4: 0.258199, 50: 0.912871, 75: 1.11803}),
    ],
)
def test_one_square_centimetre(n: float, litres: dict[int, float]) -> None:
    """1 cm2 x sqrt(2 x 4 / 1.2) at 4 Pa, the rest by the power law."""
    C = coefficient_from_area(1e-4, n)
    for pressure, expected in litres.items():
        assert power_law_flow(C, n, pressure) == pytest.approx(expected * 1e-3, rel=DIGITS)


def test_a_fan_test_of_two_points() -> None:
    """45 L/s at 50 Pa and 15.5 L/s at 10 Pa: n = ln(45 / 15.5) / ln 5."""
    C, n = power_law_from_tests(0.045, 50.0, 0.0155, 10.0)
    assert n == pytest.approx(0.662233, rel=DIGITS)
    assert pytest.approx(3.37364e-3, rel=DIGITS) == C
    assert effective_leakage_area(C, n) == pytest.approx(32.7226e-4, rel=DIGITS)


def test_the_test_pressure_is_the_head_of_25_miles_an_hour() -> None:
    head = 1.2 * (25 * 0.44704) ** 2 / 2
    # Both are rounded in the standards: 1.57 psf is 75.17 Pa, the head itself 74.94 Pa.
    assert pytest.approx(head, rel=0.004) == RATED_PRESSURE
    assert units.parse_pressure("1.57 psf") == pytest.approx(RATED_PRESSURE, rel=0.004)


def test_the_american_limit_in_both_units() -> None:
    """0.30 cfm/ft2 is printed as 1.5 L/(s m2), and as 5.5 m3/(h m2)."""
    american = 0.30 * CFM / FOOT**2
    # 1.524, which the standard's SI edition rounds down.
    assert pytest.approx(american, rel=0.02) == RATED_LIMIT
    assert american > RATED_LIMIT
    assert american * 3600 == pytest.approx(5.5, abs=0.05)


def test_the_older_limit_by_the_foot_of_joint() -> None:
    """UFGS 08550: 0.34 cfm/ft. On 36 by 60 in, with 19 ft of joint, it comes to 0.431 cfm/ft2."""
    per_area = JOINT_LIMIT * 19.0 * FOOT / (15.0 * FOOT**2)
    assert per_area / (CFM / FOOT**2) == pytest.approx(0.431, abs=0.0005)


def test_the_american_limit_as_a_leakage_area() -> None:
    """1.5240 L/(s m2) at 75 Pa, n = 0.65: 0.87817 cm2/m2, 0.012646 in2/ft2."""
    C = 0.0015240 / 75**0.65
    area = effective_leakage_area(C, 0.65)
    assert area == pytest.approx(0.87817e-4, rel=DIGITS)
    assert area * 1e4 * 0.0144 == pytest.approx(0.012646, rel=5e-5)  # to the digits shown


def test_millimetres_of_water() -> None:
    """Older European figures are by 1 mm of water: 9.80665 Pa."""
    C = 3 / 3600 / 9.80665**0.65
    assert power_law_flow(C, 0.65, 75.0) / CFM * FOOT == pytest.approx(2.02, abs=0.005)
    assert math.isclose(power_law_flow(C, 0.65, 9.80665), 3 / 3600)
