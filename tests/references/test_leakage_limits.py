"""Limits of new windows, as printed: the American limit by area, the European classes.

EN 12207:2016, tables 1 and 2: reference flows at 100 Pa of 50, 27, 9, 3 m3/(h m2) and 12.5, 6.75, 2.25,
0.75 m3/(h m), up to 150, 300, 600, 600 Pa; the limits grow with pressure to the power 2/3.
"""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.seal.limits import CLASSES, RATED_LIMIT, STEPS, air_class

HOUR = 3600.0


@pytest.mark.parametrize(
    ("number", "pressure", "flow"),
    # Worked by hand: 27 x 0.5^(2/3), 9 x 3^(2/3), 3 x 6^(2/3) m3/(h m2).
    [(2, 50, 17.01), (3, 300, 18.72), (4, 600, 9.91)],
)
def test_limits_at_other_pressures(number: int, pressure: float, flow: float) -> None:
    each = CLASSES[number - 1]
    assert each.number == number
    assert each.by_area * HOUR * (pressure / 100) ** (2 / 3) == pytest.approx(flow, abs=0.005)


def test_four_metres_of_joint_to_a_square_metre() -> None:
    """Both bases of every class are the same flow for 4 m of joint to 1 m2."""
    for each in CLASSES:
        assert each.by_area == pytest.approx(4 * each.by_joint, rel=1e-12)


def flows(at_100: float, exponent: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Of 1 m2 with a power law [m3/s]."""
    return np.asarray(at_100 / HOUR * (STEPS / 100) ** exponent)


@pytest.mark.parametrize(("at_100", "best"), [(50.1, None), (49, 1), (26, 2), (8.8, 3), (2.9, 4)])
def test_class_by_area(at_100: float, best: int | None) -> None:
    # With the limits' own exponent only the flow at 100 Pa counts.
    assert air_class(flows(at_100, 2 / 3), 1.0, 4.0)["by_area"] == best


def test_a_flatter_curve_is_held_back_at_low_pressure() -> None:
    """An orifice of 27 m3/h at 100 Pa passes 19.1 at 50 Pa, where class 2 allows 17.0."""
    assert air_class(flows(26.9, 2 / 3), 1.0, 4.0)["by_area"] == 2
    assert air_class(flows(26.9, 0.5), 1.0, 4.0)["by_area"] == 1


@pytest.mark.parametrize(
    ("joint", "by_joint", "overall"),
    [
        (4.0, 2, 2),  # the same
        (14.0, 3, 3),  # neighbours: the better
        (40.0, 4, 3),  # two apart: the one between
        (1.8, None, None),  # no class by joint: none
    ],
)
def test_the_two_bases_together(joint: float, by_joint: int | None, overall: int | None) -> None:
    """1 m2 of 25 m3/h at 100 Pa: class 2 by area; joints of other lengths."""
    classes = air_class(flows(25.0, 2 / 3), 1.0, joint)
    assert classes == {"by_area": 2, "by_joint": by_joint, "overall": overall}


def test_too_far_apart_is_not_classed() -> None:
    classes = air_class(flows(45.0, 2 / 3), 1.0, 70.0)
    assert classes == {"by_area": 1, "by_joint": 4, "overall": None}


def test_the_american_limit_lies_within_class_3() -> None:
    """0.30 cfm/ft2 at 75 Pa is 6.65 m3/(h m2) at 100 Pa: inside class 3, outside class 4."""
    at_100 = 1.524e-3 * HOUR * (100 / 75) ** (2 / 3)
    assert at_100 == pytest.approx(6.65, abs=0.005)
    assert at_100 > RATED_LIMIT * HOUR * (100 / 75) ** (2 / 3)
    assert air_class(flows(at_100, 2 / 3), 1.0, 4.0)["by_area"] == 3
