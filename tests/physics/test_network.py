"""Airflow networks: air is kept, laws of sign and size hold, and there is always an answer."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import root

from benchmarks.airflow_balance import Balance
from sashwright.physics.compiled import substance
from sashwright.physics.network import (
    Crack,
    Hole,
    Network,
    Opening,
    Zone,
    solve,
    solve_hour,
)
from sashwright.physics.network.balance import BALANCED, Links
from sashwright.physics.network.elimination import eliminate
from sashwright.physics.network.hour import MOST_ROUNDS
from sashwright.physics.openings import stack_flow, two_way_flow
from tests.physics.networks import nasty, nasty_hours, usual, usual_hours

KEPT = 1e-6
"""Share of what passes a room that may get lost."""
seeds = st.integers(0, 2**32 - 1)


def passes(found: Any, network: Network) -> tuple[Any, Any]:
    """What enters and leaves each room, (hours, rooms)."""
    between, rooms = found.exchange(network), len(network.zones)
    return between.sum(axis=1)[:, :rooms], between.sum(axis=2)[:, :rooms]


# --- always an answer -----------------------------------------------------------------


def test_it_always_converges() -> None:
    """Thousands of hours of networks that no house has."""
    rng = np.random.default_rng(11)
    for _ in range(400):
        network = nasty(rng)
        found = solve(network, **nasty_hours(rng, network, 10))
        assert found.rounds.max() < 40
        into, out = passes(found, network)
        # Links up to a thousand square metres leave some 1e-10 kg/s to the digits of the pressures.
        assert np.all(np.abs(into - out) <= KEPT * (into + out) / 2 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(seeds, st.integers(1, 15))
def test_no_room_of_a_house_gains_or_loses_air(seed: int, rooms: int) -> None:
    rng = np.random.default_rng(seed)
    network = usual(rng, rooms)
    found = solve(network, **usual_hours(rng, network, 20))
    assert found.rounds.max() < MOST_ROUNDS
    into, out = passes(found, network)
    assert np.all(np.abs(into - out) <= 2 * BALANCED * np.maximum(into, 1e-3))
    assert np.all(found.forth >= 0)
    assert np.all(found.back >= 0)


def test_against_a_general_root_finder() -> None:
    """Hundreds of random houses; the balance is written once more in the tests' own way."""
    rng = np.random.default_rng(3)
    solved = 0
    for _ in range(300):
        network = usual(rng, int(rng.integers(1, 13)))
        hours = usual_hours(rng, network, 1)
        found = solve(network, **hours)
        balance = Balance(network, hours, 0)
        net = (found.forth - found.back)[0]
        scale = max((found.forth + found.back).max(), 1e-4)
        assert balance.flows(found.pressures[0]) == pytest.approx(net, abs=1e-9 * scale, rel=1e-9)
        theirs = root(balance.gains, np.zeros(len(network.zones)), method="hybr", tol=1e-13)
        # It gives up on some; what it solved must be ours.
        if np.abs(theirs.fun).max() > 1e-10 * scale:
            continue
        solved += 1
        assert balance.flows(theirs.x) == pytest.approx(net, abs=1e-6 * scale)
        assert found.pressures[0] == pytest.approx(theirs.x, abs=1e-6, rel=1e-6)
    assert solved > 200


def test_laminar_flow_near_zero_hardly_matters() -> None:
    """Solved without it, a usual house's flows are the same within a thousandth of the largest."""
    rng = np.random.default_rng(5)
    solved = 0
    for _ in range(60):
        network = usual(rng, 6)
        hours = usual_hours(rng, network, 1)
        found = solve(network, **hours)
        net = found.forth[0] - found.back[0]
        balance = Balance(network, hours, 0)
        balance.small = np.full_like(balance.small, 1e-12)
        bare = root(balance.gains, found.pressures[0], method="hybr", tol=1e-13)
        if np.abs(bare.fun).max() > 1e-8:
            continue
        solved += 1
        assert balance.flows(bare.x) == pytest.approx(net, abs=1e-3 * np.abs(net).max())
    assert solved > 30


def test_a_year_starts_each_hour_from_the_one_before() -> None:
    """Which changes nothing about the answer."""
    rng = np.random.default_rng(8)
    network = usual(rng, 6)
    hours = usual_hours(rng, network, 50)
    found = solve(network, **hours)
    for hour in (0, 17, 49):
        alone = solve(network, **{name: values[[hour]] for name, values in hours.items()})
        assert alone.forth[0] == pytest.approx(found.forth[hour], rel=1e-6, abs=1e-8)


# --- laws -----------------------------------------------------------------------------


def tower(windows: float = 1.0) -> Network:
    return Network(
        [Zone(name="room")],
        ["front", "back"],
        [
            Opening(start="front", end="room", width=0.8 * windows, bottom=0.9, top=1.6, grows="up"),
            Opening(start="back", end="room", width=0.8, bottom=5.0, top=5.7, grows="down"),
            Crack(start="front", end="room", coefficient=1e-3, height=3.0),
        ],
    )  # fmt: skip


def test_warmer_inside_turns_the_stack_round() -> None:
    found = solve(tower(), temperatures=[[25.0], [5.0]], outdoor_temperature=15.0)
    net = found.forth - found.back
    assert net[0, 0] > 0 > net[0, 1]
    assert net[1, 0] < 0 < net[1, 1]


def test_nothing_moves_without_wind_and_warmth() -> None:
    found = solve(tower(), temperatures=20.0, outdoor_temperature=20.0)
    assert np.abs(found.forth + found.back).max() < 1e-12


@settings(max_examples=50, deadline=None)
@given(seeds, st.floats(0, 1), st.floats(0, 1))
def test_opening_more_never_lowers_the_air_change_of_one_room(
    seed: int, less: float, more: float
) -> None:
    """Of openings at one height each, through which air goes one way."""
    rng = np.random.default_rng(seed)
    less, more = sorted((less, more))
    count = int(rng.integers(2, 6))
    links = [
        Hole(start=f"f{at}", end="room", area=float(rng.uniform(0.01, 1)), height=rng.uniform(0, 8))
        for at in range(count)
    ]
    network = Network([Zone(name="room")], [f"f{at}" for at in range(count)], links)
    fraction = np.ones((2, count))
    fraction[:, 0] = less, more
    found = solve(
        network,
        temperatures=rng.uniform(10, 30),
        outdoor_temperature=rng.uniform(-10, 35),
        wind_pressure=rng.normal(0, 3, count),
        fraction=fraction,
    )
    fresh = found.fresh_air(network)[:, 0]
    assert fresh[1] >= fresh[0] * (1 - 1e-8) - 1e-10


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_larger_in_proportion(seed: int) -> None:
    """All links twice as large: the same pressures, twice the flow."""
    rng = np.random.default_rng(seed)
    network = usual(rng, 5)
    hours = usual_hours(rng, network, 3)
    twice = dataclasses.replace(network, links=[_twice(link) for link in network.links])
    one, two = solve(network, **hours), solve(twice, **hours)
    assert two.pressures == pytest.approx(one.pressures, abs=1e-7)
    assert two.forth == pytest.approx(2 * one.forth, rel=1e-5, abs=1e-7)


def _twice(link: Any) -> Any:
    name = {Crack: "coefficient", Opening: "width", Hole: "area"}[type(link)]
    return dataclasses.replace(link, **{name: 2 * getattr(link, name)})


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_the_order_of_rooms_and_the_direction_of_links_mean_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    network = usual(rng, 7)
    hours = usual_hours(rng, network, 3)
    order = rng.permutation(7)
    turned = Network(
        [network.zones[at] for at in order],
        network.faces,
        [dataclasses.replace(link, start=link.end, end=link.start) for link in network.links],
    )
    one = solve(network, **hours)
    two = solve(turned, **hours | {"temperatures": hours["temperatures"][:, order]})
    assert two.pressures == pytest.approx(one.pressures[:, order], abs=1e-7)
    assert two.back == pytest.approx(one.forth, rel=1e-5, abs=1e-7)


def test_the_ground_of_all_heights_means_nothing() -> None:
    """A house on a hill: every height 100 m more, each room's level too."""
    rng = np.random.default_rng(2)
    network = usual(rng, 5)
    hours = usual_hours(rng, network, 4)
    higher = Network(
        [dataclasses.replace(zone, level=zone.level + 100) for zone in network.zones],
        network.faces,
        [_higher(link, 100.0) for link in network.links],
    )
    one, two = solve(network, **hours), solve(higher, **hours)
    assert two.forth == pytest.approx(one.forth, rel=1e-6, abs=1e-8)


def _higher(link: Any, by: float) -> Any:
    names = ("bottom", "top") if isinstance(link, Opening) else ("height",)
    return dataclasses.replace(link, **{name: getattr(link, name) + by for name in names})


def test_a_sash_opens_as_its_kind_does() -> None:
    """Half of a raised sash is the lower half, of a lowered one the upper, of a door half its width."""
    base = {"start": "room", "end": "out", "width": 1.0, "bottom": 1.0, "top": 2.0}
    halves = {
        "up": base | {"top": 1.5},
        "down": base | {"bottom": 1.5},
        "across": base | {"width": 0.5},
    }
    other = Hole(start="room", end="out", area=0.2, height=0.0)
    weather = {"temperatures": 24.0, "outdoor_temperature": 10.0}
    for grows, half in halves.items():
        ajar, whole = (
            Network([Zone(name="room")], ["out"], [Opening(**of, grows=grows), other])  # type: ignore[arg-type]
            for of in (base, half)
        )
        one = solve(ajar, **weather, fraction=[0.5, 1.0])
        two = solve(whole, **weather)
        assert one.forth == pytest.approx(two.forth, rel=1e-9)
        assert one.back == pytest.approx(two.back, rel=1e-9)


# --- what has no way out --------------------------------------------------------------


def test_rooms_without_a_way_out_keep_their_air() -> None:
    """Two rooms with a door between them, all else shut: air goes round in the door and nowhere else."""
    network = Network(
        [Zone(name="a"), Zone(name="b"), Zone(name="c")],
        ["out"],
        [
            Opening(start="a", end="b", width=0.8, bottom=0.0, top=2.0),
            Hole(start="b", end="out", area=0.1, height=1.0),
        ],
    )
    found = solve(
        network, temperatures=[24.0, 18.0, 20.0], outdoor_temperature=5.0, fraction=[1.0, 0.0]
    )
    forth, back = found.forth[0], found.back[0]
    assert forth[0] == pytest.approx(back[0], rel=1e-9)
    assert forth[0] > 0.1
    assert forth[1] == back[1] == 0
    # The room without any link stays where it was.
    assert found.pressures[0, 2] == 0


def test_a_network_of_nothing() -> None:
    found = solve(Network([], ["out"], []), temperatures=np.zeros((3, 0)), outdoor_temperature=5.0)
    assert found.pressures.shape == (3, 0)
    assert np.all(found.residual == 0)


# --- the closed forms -----------------------------------------------------------------


@settings(max_examples=50, deadline=None)
@given(
    st.floats(0.01, 2.0),
    st.floats(0.01, 2.0),
    st.floats(0.5, 9.0),
    st.floats(-20, 35),
    st.floats(-20, 35),
    st.floats(-10, 10),
)
def test_two_openings_in_closed_form(
    lower: float, upper: float, height: float, Ti: float, To: float, wind: float
) -> None:
    network = Network(
        [Zone(name="room")],
        ["low", "high"],
        [
            Hole(start="low", end="room", area=lower, height=0.0),
            Hole(start="room", end="high", area=upper, height=height),
        ],
    )
    found = solve(network, temperatures=Ti, outdoor_temperature=To, wind_pressure=[wind, 0.0])
    wanted = stack_flow(
        lower,
        upper,
        height,
        indoor_temperature=Ti,
        outdoor_temperature=To,
        wind_difference=wind,
    )
    net = (found.forth - found.back)[0]
    # All that laminar flow near zero takes of the pressure is under 1e-5 Pa at each.
    drive = (float(wanted.mass_flow) / 0.6) ** 2 / 2.2 * (lower**-2 + upper**-2)
    assume(drive > 0.01)
    assert net == pytest.approx([wanted.mass_flow] * 2, rel=1e-5 / drive + 1e-8)


@settings(max_examples=50, deadline=None)
@given(st.floats(0, 30), st.floats(0, 30), st.floats(-5, 5), st.floats(0, 3), st.floats(0, 2.5))
def test_a_tall_opening_in_closed_form(
    start: float, end: float, pressure: float, bottom: float, tall: float
) -> None:
    """At given pressures; the solver has rooms of one big hole each."""
    network = Network(
        [Zone(name="a", level=bottom)],
        ["out"],
        [
            Opening(start="a", end="out", width=0.8, bottom=bottom, top=bottom + tall),
            Hole(start="a", end="out", area=0.5, height=0.0),
        ],
    )
    found = solve(network, temperatures=start, outdoor_temperature=end, wind_pressure=[pressure])
    wanted = two_way_flow(
        0.8,
        bottom,
        bottom + tall,
        start_temperature=start,
        end_temperature=end,
        pressure_difference=found.pressures[0, 0] - pressure,
        level=bottom,
    )
    # Laminar flow near zero: at most a third of the root of 1e-5 Pa, over the whole height.
    least = 0.6 * np.sqrt(2 * 1.3) * 0.8 * tall * np.sqrt(1e-5) / 3
    assert found.forth[0, 0] == pytest.approx(wanted.forth, abs=least)
    assert found.back[0, 0] == pytest.approx(wanted.back, abs=least)
    if abs(start - end) * tall > 5:
        assert found.forth[0, 0] == pytest.approx(wanted.forth, rel=1e-3, abs=1e-6)
        assert found.back[0, 0] == pytest.approx(wanted.back, rel=1e-3, abs=1e-6)


# --- the kernel -----------------------------------------------------------------------


def test_elimination_solves_what_numpy_does() -> None:
    rng = np.random.default_rng(1)
    for size in (1, 2, 7, 30):
        between = rng.random((size, size)) * (rng.random((size, size)) < 0.5)
        between = np.triu(between, 1) + np.triu(between, 1).T
        ground, flow = rng.random(size), rng.normal(size=size)
        matrix = np.diag(between.sum(axis=1) + ground) - between
        wanted = np.linalg.solve(matrix, flow)
        eliminate(between.copy(), ground.copy(), flow)
        assert flow == pytest.approx(wanted, rel=1e-10)


def test_elimination_keeps_its_digits_behind_a_tiny_crack() -> None:
    """Two rooms with a conductance of 1e10 between them, and 1e-10 from one to outdoors: 1e20 apart, where an
    ordinary elimination has nothing left."""
    between, ground = np.array([[0.0, 1e10], [1e10, 0.0]]), np.array([1e-10, 0.0])
    flow = np.array([0.0, 1e-10])
    eliminate(between, ground, flow)
    assert flow == pytest.approx([1.0, 1.0], rel=1e-12)


def test_one_hour_for_other_compiled_code() -> None:
    """Plain arrays in, plain arrays changed, and a start from a near answer takes fewer rounds."""
    rng = np.random.default_rng(4)
    network = usual(rng, 9)
    links = network.arrays()
    assert isinstance(links, Links)
    density = 1.2 + 0.03 * rng.normal(size=9)
    wind, fraction = rng.normal(0, 3, 4), np.ones(len(network.links))
    pressure, forth, back = np.zeros(9), np.zeros(len(fraction)), np.zeros(len(fraction))
    arrays = (density, 1.25, wind, fraction, pressure, forth, back)
    first, left = solve_hour(links, network.levels(), *arrays)
    before = pressure.copy()
    again, _ = solve_hour(links, network.levels(), *arrays)
    assert left < 1e-8
    assert first > again == 0
    assert pressure == pytest.approx(before, abs=1e-12)


def test_code_that_is_kept_is_known_by_all_that_went_into_it() -> None:
    """A function's digest changes with a function that it calls, in another module."""
    whole = substance(solve_hour.py_func)  # type: ignore[attr-defined]
    assert whole == substance(solve_hour.py_func)  # type: ignore[attr-defined]
    named: dict[str, Any] = solve_hour.py_func.__globals__  # type: ignore[attr-defined]
    inner = named["eliminate"]
    try:
        named["eliminate"] = named["flows"]
        assert substance(solve_hour.py_func) != whole  # type: ignore[attr-defined]
    finally:
        named["eliminate"] = inner


# --- what cannot be -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("links", "sentence"),
    [
        ([Hole(start="a", end="x", area=1.0, height=0.0)], "link 0: found 'x', expected one of a, out"),
        ([Hole(start="a", end="a", area=1.0, height=0.0)], "from 'a' to itself"),
        ([Hole(start="a", end="out", area=-1.0, height=0.0)], "found an area of -1"),
        ([Crack(start="a", end="out", coefficient=1.0, exponent=0.4)], "an exponent of 0.4"),
        (
            [Opening(start="a", end="out", width=1.0, bottom=2.0, top=1.0, name="W3")],
            "link 0, W3: found a top over the bottom of -1",
        ),
    ],
)  # fmt: skip
def test_a_network_that_cannot_be(links: list[Any], sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        Network([Zone(name="a")], ["out"], links)


def test_names_are_used_once() -> None:
    with pytest.raises(ValueError, match="'a' twice"):
        Network([Zone(name="a")], ["a"], [])


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"temperatures": [[20.0, 21.0]]}, r"temperatures: found shape \(1, 2\), expected \(1, 1\)"),
        ({"fraction": 1.5}, "fraction: found a value beyond 0 to 1"),
        ({"outdoor_temperature": np.nan}, "outdoor temperature: found a value that is no number"),
        ({"wind_pressure": np.zeros((3, 2)), "pressure": [1e5, 1e5]}, r"pressure: found shape \(2,\)"),
    ],
)  # fmt: skip
def test_hours_that_do_not_fit(wrong: dict[str, Any], sentence: str) -> None:
    hours = {"temperatures": 20.0, "outdoor_temperature": 10.0} | wrong
    with pytest.raises(ValueError, match=sentence):
        solve(tower(), **hours)
