"""Power law, leakage areas, and paths side by side and one behind another."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sashwright.physics.leakage import (
    coefficient_from_area,
    convert_area,
    effective_leakage_area,
    parallel_flow,
    power_law_flow,
    power_law_from_tests,
    series_flow,
    stages_flow,
)

ROUNDING = 1e-12
"""Sums of a few powers in double precision."""

coefficients = st.floats(1e-6, 1e2)
exponents = st.floats(0.5, 1.0)
pressures = st.floats(1e-3, 1e4)
path = st.tuples(coefficients, exponents)
paths = st.lists(path, min_size=1, max_size=5)


def columns(rows: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return [C for C, _ in rows], [n for _, n in rows]


# --- the power law and areas ----------------------------------------------------------


def test_flow_follows_the_sign_of_the_pressure() -> None:
    flow = power_law_flow(0.3, 0.65, np.array([-4.0, 0.0, 4.0]))
    assert flow == pytest.approx([-0.3 * 4**0.65, 0.0, 0.3 * 4**0.65])
    assert isinstance(power_law_flow(0.3, 0.65, 4.0), float)


@given(path, pressures, st.floats(0.4, 1.0))
def test_an_area_gives_its_coefficient_back(
    one: tuple[float, float], reference: float, discharge: float
) -> None:
    C, n = one
    area = effective_leakage_area(C, n, reference, discharge_coefficient=discharge)
    again = coefficient_from_area(area, n, reference, discharge_coefficient=discharge)
    assert again == pytest.approx(C, rel=ROUNDING)


@given(path, pressures, pressures)
def test_converted_areas_are_of_one_crack(
    one: tuple[float, float], first: float, second: float
) -> None:
    C, n = one
    area = effective_leakage_area(C, n, first)
    assert isinstance(area, float)
    converted = convert_area(area, n, from_pa=first, to_pa=second, to_discharge=0.611)
    direct = effective_leakage_area(C, n, second, discharge_coefficient=0.611)
    assert converted == pytest.approx(direct, rel=1e-9)


@given(path, pressures, pressures)
def test_two_points_give_the_law_back(
    one: tuple[float, float], first: float, second: float
) -> None:
    C, n = one
    if abs(np.log(first / second)) < 0.1:
        second = 2 * first
    found = power_law_from_tests(C * first**n, first, C * second**n, second)
    assert found == pytest.approx((C, n), rel=1e-9)


def test_tests_that_say_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="found both tests at 50 Pa, expected two pressures"):
        power_law_from_tests(0.1, 50.0, 0.2, 50.0)
    with pytest.raises(ValueError, match="expected all above zero"):
        power_law_from_tests(0.0, 50.0, 0.2, 4.0)


# --- one behind another ---------------------------------------------------------------


@given(paths, pressures)
def test_series_never_passes_more_than_any_part_alone(
    rows: list[tuple[float, float]], pressure: float
) -> None:
    C, n = columns(rows)
    flow = series_flow(C, n, pressure)
    assert 0 < flow <= min(c * pressure**m for c, m in rows)


@given(paths, pressures)
def test_the_parts_pressures_make_up_the_whole(
    rows: list[tuple[float, float]], pressure: float
) -> None:
    C, n = columns(rows)
    flow = float(series_flow(C, n, pressure))
    assert sum((flow / c) ** (1 / m) for c, m in rows) == pytest.approx(pressure, rel=1e-11)


@given(paths, exponents, pressures)
def test_equal_exponents_have_a_closed_form(
    rows: list[tuple[float, float]], n: float, pressure: float
) -> None:
    C, _ = columns(rows)
    together = sum(c ** (-1 / n) for c in C) ** -n
    assert series_flow(C, n, pressure) == pytest.approx(together * pressure**n, rel=1e-11)


@given(path, path, pressures)
def test_a_general_root_finder_agrees(
    one: tuple[float, float], other: tuple[float, float], pressure: float
) -> None:
    def unequal(share: float) -> float:
        here = one[0] * (share * pressure) ** one[1]
        return float(here - other[0] * ((1 - share) * pressure) ** other[1])

    share = brentq(unequal, 0.0, 1.0, xtol=1e-15, rtol=8.9e-16)
    # The smaller pressure has few digits left in its share: compare by the larger one.
    larger, part = (one, share) if share > 0.5 else (other, 1 - share)
    flow = larger[0] * (part * pressure) ** larger[1]
    assert series_flow(*columns([one, other]), pressure) == pytest.approx(flow, rel=1e-9)


@given(paths, path, pressures)
def test_one_path_more_passes_less_behind_and_more_beside(
    rows: list[tuple[float, float]], more: tuple[float, float], pressure: float
) -> None:
    before, after = columns(rows), columns([*rows, more])
    assert series_flow(*after, pressure) <= series_flow(*before, pressure)
    assert parallel_flow(*after, pressure) > parallel_flow(*before, pressure)


@given(paths, st.integers(0, 4), st.floats(0.01, 0.99), pressures)
def test_tightening_any_path_never_passes_more(
    rows: list[tuple[float, float]], which: int, factor: float, pressure: float
) -> None:
    which %= len(rows)
    tight = [(c * factor, m) if i == which else (c, m) for i, (c, m) in enumerate(rows)]
    # Where another path holds all the pressure, the change drowns in the last bit.
    loose_flow = float(series_flow(*columns(rows), pressure))
    assert series_flow(*columns(tight), pressure) <= loose_flow * (1 + ROUNDING)


@given(paths, paths, pressures)
def test_stages_of_many_paths(
    first: list[tuple[float, float]], second: list[tuple[float, float]], pressure: float
) -> None:
    stages = [columns(first), columns(second)]
    flow = float(stages_flow(stages, pressure))
    alone = [float(parallel_flow(*stage, pressure)) for stage in stages]
    assert 0 < flow <= min(alone)

    def unequal(share: float) -> float:
        here = float(parallel_flow(*stages[0], share * pressure))
        return here - float(parallel_flow(*stages[1], (1 - share) * pressure))

    share = brentq(unequal, 0.0, 1.0, xtol=1e-15, rtol=8.9e-16)
    stage, part = (0, share) if share > 0.5 else (1, 1 - share)
    assert flow == pytest.approx(float(parallel_flow(*stages[stage], part * pressure)), rel=1e-9)


def test_a_closed_stage_closes_the_way() -> None:
    assert series_flow([0.3, 0.0], 0.65, 75.0) == 0.0
    assert stages_flow([([0.3, 0.1], 0.65), ([0.0, 0.0], 0.65)], 75.0) == 0.0
    # One closed path beside an open one changes nothing.
    both = stages_flow([([0.3, 0.0], 0.65), ([0.2], 0.5)], 75.0)
    assert both == pytest.approx(series_flow([0.3, 0.2], [0.65, 0.5], 75.0), rel=ROUNDING)


def test_arrays_broadcast_behind_the_paths() -> None:
    C = np.array([[0.1, 0.2, 0.3], [0.4, 0.4, 0.4]])
    p = np.array([4.0, 50.0, -75.0])
    n = np.array([0.65, 0.55])
    flow = series_flow(C, n, p)
    each = [series_flow(C[:, i], n, float(p[i])) for i in range(3)]
    assert flow == pytest.approx(each, rel=ROUNDING)
    assert np.asarray(series_flow([0.1, 0.4], n, p)).shape == (3,)
    assert isinstance(series_flow([0.1, 0.4], n, 4.0), float)
    assert series_flow([0.1, 0.4], n, 0.0) == 0.0


@pytest.mark.parametrize(
    ("C", "n", "says"),
    [
        ([0.1, -0.1], 0.65, "expected 0 or more"),
        ([0.1, float("inf")], 0.65, "expected 0 or more, finite"),
        ([0.1, float("nan")], 0.65, "expected 0 or more, finite"),
        ([0.1, 0.1], 0.4, "found an exponent of 0.4, expected 0.5 to 1"),
        ([0.1, 0.1], [0.65, 1.2], "found an exponent of 1.2"),
    ],
)
def test_paths_that_cannot_be_are_refused(
    C: list[float], n: float | list[float], says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        series_flow(C, n, 75.0)
