"""Openings in closed form: what must hold whatever the numbers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sashwright.physics.openings import (
    neutral_level,
    orifice_flow,
    sash_window_flow,
    series_area,
    single_sided_flow,
    stack_flow,
    two_way_flow,
)

ROUNDING = 1e-9
areas = st.floats(0.01, 5.0)
heights = st.floats(0.1, 10.0)
celsius = st.floats(-30.0, 45.0)
pascals = st.floats(-20.0, 20.0)


@given(areas, areas, heights, celsius, celsius, pascals)
def test_both_openings_pass_the_same_air(
    lower: float, upper: float, height: float, Ti: float, To: float, wind: float
) -> None:
    """Bernoulli over each opening by itself, from the flow found, makes up the whole pressure."""
    found = stack_flow(
        lower, upper, height, indoor_temperature=Ti, outdoor_temperature=To, wind_difference=wind
    )
    rho_in, rho_out = (101325 / (287.042 * (t + 273.15)) for t in (Ti, To))
    drive = 9.81 * height * (rho_out - rho_in) + wind
    assert np.sign(found.mass_flow) == np.sign(drive)
    first, second = (rho_out, rho_in) if drive > 0 else (rho_in, rho_out)
    spent = sum(
        found.mass_flow**2 / (2 * rho * (0.6 * area) ** 2)
        for rho, area in ((first, lower), (second, upper))
    )
    assert spent == pytest.approx(abs(drive), rel=ROUNDING, abs=1e-12)
    assert found.inflow * rho_out == pytest.approx(abs(found.mass_flow))
    assert found.outflow * rho_in == pytest.approx(abs(found.mass_flow))


@given(areas, areas, heights, celsius, celsius)
def test_the_neutral_level_lies_between_and_nearer_the_larger(
    lower: float, upper: float, height: float, Ti: float, To: float
) -> None:
    assume(abs(Ti - To) > 0.1)
    room = {"indoor_temperature": Ti, "outdoor_temperature": To}
    level = neutral_level(lower, upper, height, **room)
    assert 0 <= level <= height
    assert stack_flow(lower, upper, height, **room).neutral_level == pytest.approx(level)
    if lower > 1.3 * upper:
        assert level < height / 2
    if upper > 1.3 * lower:
        assert level > height / 2


@given(areas, areas, heights, celsius, celsius)
def test_a_cooler_room_turns_the_stack_round(
    lower: float, upper: float, height: float, Ti: float, To: float
) -> None:
    """With indoors and outdoors exchanged each opening passes the air it did, the other way."""
    one = stack_flow(lower, upper, height, indoor_temperature=Ti, outdoor_temperature=To)
    other = stack_flow(lower, upper, height, indoor_temperature=To, outdoor_temperature=Ti)
    assert other.mass_flow == pytest.approx(-one.mass_flow, rel=ROUNDING)


@given(areas, areas, heights, celsius, celsius, st.floats(1.0, 3.0))
def test_more_open_passes_more(
    lower: float, upper: float, height: float, Ti: float, To: float, more: float
) -> None:
    room = {"indoor_temperature": Ti, "outdoor_temperature": To}
    one = np.abs(stack_flow(lower, upper, height, **room).mass_flow)
    two = np.abs(stack_flow(lower * more, upper, height, **room).mass_flow)
    assert np.all(two >= one * (1 - ROUNDING))


def test_a_shut_opening_passes_nothing() -> None:
    found = stack_flow(0.0, 0.5, 2.0, indoor_temperature=20.0, outdoor_temperature=0.0)
    assert found.mass_flow == 0
    assert series_area([0.0, 0.5]) == 0
    shut = sash_window_flow(0.8, 1.6, 0.0, 0.0, indoor_temperature=20.0, outdoor_temperature=0.0)
    assert shut.mass_flow == 0


@given(st.lists(areas, min_size=1, max_size=6), pascals)
def test_openings_in_a_row_share_the_pressure(sizes: list[float], pressure: float) -> None:
    flow = orifice_flow(series_area(sizes), pressure)
    spent = sum(flow**2 / (2 * 1.2 * (0.6 * size) ** 2) for size in sizes)
    assert spent == pytest.approx(abs(pressure), rel=ROUNDING, abs=1e-12)
    assert series_area(sizes) <= min(sizes) * (1 + ROUNDING)


@given(celsius, celsius, pascals, st.floats(0.0, 3.0), st.floats(0.01, 3.0), st.floats(0.1, 0.9))
def test_a_tall_opening_is_its_two_parts(
    start: float, end: float, pressure: float, bottom: float, tall: float, cut: float
) -> None:
    """Cut anywhere, and looked at from the other side."""
    sides = {"start_temperature": start, "end_temperature": end, "pressure_difference": pressure}
    whole = two_way_flow(0.8, bottom, bottom + tall, **sides)
    middle = bottom + cut * tall
    cuts = (bottom, middle), (middle, bottom + tall)
    parts = [two_way_flow(0.8, *cut_, **sides) for cut_ in cuts]
    assert sum(part.forth for part in parts) == pytest.approx(whole.forth, rel=ROUNDING, abs=1e-12)
    assert sum(part.back for part in parts) == pytest.approx(whole.back, rel=ROUNDING, abs=1e-12)
    turned = two_way_flow(
        0.8,
        bottom,
        bottom + tall,
        start_temperature=end,
        end_temperature=start,
        pressure_difference=-pressure,
    )
    assert turned.forth == pytest.approx(whole.back, rel=ROUNDING, abs=1e-12)


def test_equal_temperatures_are_the_limit_of_unequal_ones() -> None:
    """Nothing jumps as the difference goes through zero; then it is an orifice."""
    for small in (0.0, 1e-12, 1e-9, 1e-6, -1e-9):
        found = two_way_flow(
            0.9,
            0.0,
            2.0,
            start_temperature=20.0,
            end_temperature=20.0 + small,
            pressure_difference=0.3,
        )
        density = 101325 / (287.042 * 293.15)
        plain = orifice_flow(1.8, 0.3, density=density)
        assert found.forth == pytest.approx(plain, rel=1e-5)
        assert found.back == 0


@given(st.floats(0.2, 0.8), st.floats(0.4, 1.0), celsius, celsius)
def test_an_even_split_of_a_sash_window_is_best(
    total: float, width: float, Ti: float, To: float
) -> None:
    """However much is open in all, half at the top and half at the bottom passes most, but for what the
    difference of densities shifts."""
    assume(abs(Ti - To) > 0.1)
    shares = np.linspace(0, 1, 41)
    found = sash_window_flow(
        width,
        1.6,
        total * shares,
        total * (1 - shares),
        indoor_temperature=Ti,
        outdoor_temperature=To,
    )
    flows = np.asarray(found.mass_flow)
    best = float(np.max(flows))
    assert flows[20] == pytest.approx(best, rel=1e-2)
    assert flows[0] < 0.6 * best
    assert np.all(np.diff(flows[:18]) > 0)


def test_numbers_give_numbers_and_arrays_arrays() -> None:
    one = stack_flow(0.3, 0.3, 3.0, indoor_temperature=25.0, outdoor_temperature=15.0)
    assert isinstance(one.mass_flow, float)
    many = stack_flow(
        [0.3, 0.2], 0.3, [[3.0], [4.0]], indoor_temperature=25.0, outdoor_temperature=15.0
    )
    assert np.shape(many.mass_flow) == (2, 2)
    assert np.asarray(many.mass_flow)[0, 0] == one.mass_flow


def test_what_cannot_be() -> None:
    with pytest.raises(ValueError, match="together higher than the window"):
        sash_window_flow(0.8, 1.6, 1.0, 0.8, indoor_temperature=20.0, outdoor_temperature=0.0)
    with pytest.raises(ValueError, match="found the method 'guess', expected one of de Gids"):
        single_sided_flow(
            1.0,
            1.0,
            wind_speed=1.0,
            indoor_temperature=20.0,
            outdoor_temperature=0.0,
            method="guess",  # type: ignore[arg-type]
        )
