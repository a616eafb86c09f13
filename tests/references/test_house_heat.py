"""The heat of a house against closed solutions, and against published results of a standard method of test.

The building of ANSI/ASHRAE Standard 140-2020 needs the typical year of Denver International Airport
(TMY3, station 725650). It is not ours to give on: name the folder that holds it in
``SASHWRIGHT_WEATHER_DIR``.
"""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.house_heat import (
    LEVEL,
    OUTSIDE,
    Course,
    Element,
    Factors,
    Film,
    House,
    Layer,
    Room,
    air,
    coupled,
    factors,
    five_nodes,
    flows,
    ground,
    hours,
    layered,
    mass_flow,
    massless,
    simulate,
    sun_in_room,
)
from sashwright.physics.network import Hole, Network, Zone
from sashwright.physics.psychrometrics import air_density, standard_pressure
from sashwright.record.hourly import read_hourly
from tests.references.standard_building import (
    HEAVY_WALL,
    ISO,
    LIGHT_WALL,
    TEST,
    Results,
    Rules,
    building,
    case,
    results,
    through_glass,
)

DAY = 86_400.0

# --- closed solutions ---------------------------------------------------------------


def one_room(*elements: Element, capacity: float = 0.0, step: float = 3600.0) -> Factors:
    return factors([House((Room(30.0, capacity),), elements)], step)


def test_steady_loss_is_u_times_area() -> None:
    """Heat given to air and faces as the film divides it: both are equally warm, and U holds exactly."""
    wall = Element(37.0, five_nodes(0.9, 150e3, "spread"), 0, exposure=0)
    window = Element(5.0, massless(0.2), 0, exposure=0)
    f = one_room(wall, window)
    loss = 37.0 * wall.u + 5.0 * window.u
    # Two films of one kind: the faces' temperatures differ, the shares of air and radiation do not.
    still = np.full(2000, -5.0)
    power = 25.0 * loss
    share = LEVEL.convection / LEVEL.total
    during = hours(f, still, still[:, None], convective=share * power, radiant=(1 - share) * power)
    course = simulate(f, during, flows(f, 2000))
    assert course.air[-1, 0] + 5.0 == pytest.approx(25.0, rel=1e-10)
    assert course.outward[-1].sum() == pytest.approx(power, rel=1e-10)
    np.testing.assert_allclose(
        course.outward[-1], 25.0 * np.array([37.0 * wall.u, 5.0 * window.u]), rtol=1e-10
    )


def test_steady_loss_when_only_the_air_is_heated() -> None:
    """Walls that see only themselves are warmed by convection alone: 1/h_c + R + 1/h_e."""
    wall = Element(40.0, layered(HEAVY_WALL), 0, exposure=0)
    f = one_room(wall)
    still = np.zeros(2000)
    course = simulate(f, hours(f, still, still[:, None], heat_to=20.0), flows(f, 2000, 0.01))
    resistance = 1 / LEVEL.convection + wall.chain.resistance + 1 / OUTSIDE.total
    expected = 20.0 * (40.0 / resistance + 0.01 * AIR_HEAT)
    assert course.power[-1, 0] == pytest.approx(expected, rel=1e-10)
    assert course.air[-1, 0] == pytest.approx(20.0, abs=1e-12)


@pytest.mark.parametrize(("step", "within"), [(3600.0, 0.45), (36.0, 0.005)])
def test_step_of_one_capacity(step: float, within: float) -> None:
    """20 K cut off at once: exp(-t/tau), tau = C/(UA), and exactly (1 + dt/tau)^-n of the implicit step."""
    wall = Element(20.0, massless(0.5), 0, exposure=0)
    f = one_room(wall, capacity=2e6, step=step)
    conductance = 20.0 / (1 / LEVEL.convection + 0.5 + 1 / OUTSIDE.total)
    tau = (2e6 + 30.0 * 1.2 * AIR_HEAT) / conductance
    count = round(2 * DAY / step)
    still = np.zeros(count)
    course = simulate(f, hours(f, still, still[:, None]), flows(f, count), warm_up=0)
    steps = np.arange(1, count + 1)
    np.testing.assert_allclose(course.air[:, 0], 20 * (1 + step / tau) ** -steps, rtol=1e-9)
    off = course.air[:, 0] - 20 * np.exp(-steps * step / tau)
    assert np.abs(off).max() < within
    assert 20 < tau / 3600 < 30


def transfer(layers: tuple[Layer, ...], inner: float, outer: float) -> np.ndarray:
    """Heat transfer matrix of ISO 13786 for a day's wave, from the room's air outward."""
    omega = 2 * np.pi / DAY
    matrix = np.array([[1, -1 / inner], [0, 1]], dtype=complex)
    for layer in reversed(layers):
        depth = np.sqrt(2 * layer.conductivity / (omega * layer.density * layer.specific_heat))
        x = (1 + 1j) * layer.thickness / depth
        k = layer.conductivity * (1 + 1j) / depth
        inside = [[np.cosh(x), -np.sinh(x) / k], [-k * np.sinh(x), np.cosh(x)]]
        matrix = np.array(inside) @ matrix
    whole: np.ndarray = np.array([[1, -1 / outer], [0, 1]]) @ matrix
    return whole


def amplitude(values: np.ndarray, step: float) -> complex:
    """Of the day's wave in the last day of a course."""
    count = round(DAY / step)
    turn = 2 * np.pi * np.arange(1, count + 1) / count
    found: complex = 2 * np.mean(values[-count:] * np.exp(-1j * turn))
    return found


@pytest.mark.parametrize(
    ("layers", "step", "within"),
    [
        (LIGHT_WALL, 3600.0, 0.06),
        (LIGHT_WALL, 60.0, 0.015),
        (HEAVY_WALL, 3600.0, 0.16),
        (HEAVY_WALL, 60.0, 0.015),
    ],
)
def test_periodic_flow_through_a_wall(
    layers: tuple[Layer, ...], step: float, within: float
) -> None:
    """Outdoors swings by 10 K through the day, the room is held: flow by the closed matrix of ISO 13786:2017.

    Hourly implicit steps damp and delay the wave; with a minute what is left comes from the nodes.
    """
    f = one_room(Element(10.0, layered(layers), 0, exposure=0), step=step)
    count = round(12 * DAY / step)
    swing = 10 * np.cos(2 * np.pi * np.arange(1, count + 1) * step / DAY)
    during = hours(f, swing, swing[:, None], heat_to=0.0, cool_to=0.0)
    course = simulate(f, during, flows(f, count), start=0.0, warm_up=0)
    matrix = transfer(layers, LEVEL.convection, OUTSIDE.total)
    # With the room's swing 0, theta_e = Z12 q_i, and heat must be given where it flows outward.
    theirs = 10.0 / matrix[0, 1] * 10.0
    ours = amplitude(course.power[:, 0], step)
    assert abs(ours - theirs) / abs(theirs) < within


@pytest.mark.parametrize("layers", [LIGHT_WALL, HEAVY_WALL], ids=["light", "heavy"])
@pytest.mark.parametrize(("step", "within"), [(3600.0, 0.15), (300.0, 0.015)])
def test_periodic_flow_into_a_wall(layers: tuple[Layer, ...], step: float, within: float) -> None:
    """The room swings by 5 K, outdoors rests: the admittance of ISO 13786:2017, with the air's."""
    f = one_room(Element(10.0, layered(layers), 0, exposure=0), step=step)
    count = round(12 * DAY / step)
    swing = 5 * np.cos(2 * np.pi * np.arange(1, count + 1) * step / DAY)
    still = np.zeros(count)
    during = hours(f, still, still[:, None], heat_to=swing[:, None], cool_to=swing[:, None])
    course = simulate(f, during, flows(f, count), start=0.0, warm_up=0)
    matrix = transfer(layers, LEVEL.convection, OUTSIDE.total)
    air_ = 2j * np.pi / DAY * 30.0 * 1.2 * AIR_HEAT
    theirs = 5.0 * (-matrix[0, 0] / matrix[0, 1] * 10.0 + air_)
    ours = amplitude(course.power[:, 0], step)
    assert abs(ours - theirs) / abs(theirs) < within


def test_room_that_draws_its_own_air() -> None:
    """A heated room with a hole low and one high: warmth by one equation of stack and heat.

    m^2 (1/rho_o + 1/rho_i) / (2 (C_d A)^2) = g H (rho_o - rho_i), and P = (m c_p + UA) (T_i - T_o).
    """
    wall = Element(30.0, massless(1.0), 0, exposure=0)
    f = one_room(wall, capacity=1e5)
    network = Network(
        [Zone(name="room")],
        ["out"],
        [
            Hole(start="out", end="room", area=0.05, height=0.5),
            Hole(start="room", end="out", area=0.05, height=2.5),
        ],
    )
    count, power = 200, 2000.0
    still = np.full(count, 5.0)
    during = hours(f, still, still[:, None], convective=power)
    found = coupled(f, during, air(network.arrays(), [0.0], count))
    outer = air_density(5.0, 0.0, 101_325.0)
    conductance = 30.0 / (1 / LEVEL.convection + 1.0 + 1 / OUTSIDE.total)

    def flow(inside: float) -> float:
        inner = air_density(inside, 0.0, 101_325.0)
        head = 9.81 * 2.0 * (outer - inner)
        return 0.6 * 0.05 * float(np.sqrt(2 * head / (1 / outer + 1 / inner)))

    warm = brentq(lambda t: (flow(t) * AIR_HEAT + conductance) * (t - 5.0) - power, 5.001, 80.0)
    assert found.course.air[-1, 0] == pytest.approx(warm, abs=0.01)
    assert found.course.flows.fresh[-1, 0] == pytest.approx(flow(warm), rel=1e-3)
    assert found.off.max() <= 0.01


def test_ground() -> None:
    """At the surface the year's wave; at the damping depth 1/e of it, one radian later."""
    turn = 2 * np.pi * (np.arange(8760) + 1) / 8760
    surface = 9.0 - 12.0 * np.cos(turn - 0.3)
    np.testing.assert_allclose(ground(surface, 0.0), surface, atol=1e-9)
    depth = np.sqrt(2 * 6.5e-7 / (2 * np.pi / (8760 * 3600)))
    deep = 9.0 - 12.0 / np.e * np.cos(turn - 1.3)
    np.testing.assert_allclose(ground(surface, float(depth)), deep, atol=1e-9)


def test_sun_lost_through_the_window() -> None:
    """The informative fraction of Standard 140 for case 600: 0.035 of the sun is lost (from memory)."""
    shares = sun_in_room(12.0, 171.6)
    assert shares.lost == pytest.approx(0.035, abs=0.002)
    # Its floor takes 0.642, of which 0.6 at once.
    assert shares.floor + shares.faces * 48 / 171.6 == pytest.approx(0.642, abs=0.07)


def test_infiltration_at_altitude() -> None:
    """Half an air change is 0.41 of air as dense as at sea level at 1,650 m: Standard 140 takes 0.414."""
    high = air_density(20.0, 0.0, standard_pressure(1650.0))
    sea = air_density(20.0, 0.0, standard_pressure(0.0))
    flow = mass_flow(0.5, 129.6, high)
    assert flow == pytest.approx(mass_flow(0.414, 129.6, sea), rel=0.015)


# --- the standard's building --------------------------------------------------------


@pytest.fixture(scope="module")
def denver() -> HourlyYear:
    folder = os.environ.get("SASHWRIGHT_WEATHER_DIR")
    if not folder:
        pytest.skip(
            "SASHWRIGHT_WEATHER_DIR is not set: it names the folder with the TMY3 year of Denver (725650)"
        )
    for path in sorted(Path(folder).iterdir()):
        if path.suffix.lower() in (".tmy3", ".csv"):
            with path.open(encoding="latin-1") as file:
                if file.readline().startswith("725650"):
                    return read_hourly(path)
    pytest.skip("SASHWRIGHT_WEATHER_DIR holds no TMY3 year of Denver (725650)")


@cache
def _ran(heavy: bool, free: bool, rules: Rules, five: bool, year: HourlyYear) -> Results:
    return results(case(year, heavy=heavy, free=free, rules=rules, five=five))


def ran(year: HourlyYear, name: str, rules: Rules = TEST, five: bool = False) -> Results:
    return _ran(name.startswith("900"), name.endswith("FF"), rules, five, year)


RANGES = {
    ("600", "heating_mwh"): (3.993, 4.504),
    ("600", "cooling_mwh"): (5.432, 6.162),
    ("600", "peak_heating_kw"): (3.020, 3.359),
    ("600", "peak_cooling_kw"): (5.422, 6.481),
    ("900", "heating_mwh"): (1.379, 1.814),
    ("900", "cooling_mwh"): (2.267, 2.714),
    ("900", "peak_heating_kw"): (2.443, 2.778),
    ("900", "peak_cooling_kw"): (2.556, 3.376),
    ("600FF", "minimum"): (-13.8, -9.9),
    ("600FF", "maximum"): (62.4, 68.4),
    ("600FF", "mean"): (24.3, 26.1),
}
"""Least and greatest of the programs that took part; published with ANSI/ASHRAE Standard 140-2020."""

MISSED = {
    ("600", "cooling_mwh"): 0.074,
    ("900", "cooling_mwh"): 0.037,
}
"""How far above its range each quantity lies that is not inside."""
MISSED_ISO = {
    ("600", "heating_mwh"): 0.112,
    ("900", "heating_mwh"): 0.329,
    ("900", "cooling_mwh"): 0.116,
    ("900", "peak_heating_kw"): 0.022,
    ("900", "peak_cooling_kw"): 0.020,
}
BAND = 0.010
"""A miss may move by so much before somebody must look [MWh, kW]."""


@pytest.mark.parametrize(
    ("rules", "missed"), [(TEST, MISSED), (ISO, MISSED_ISO)], ids=["its-own", "iso"]
)
@pytest.mark.parametrize("key", list(RANGES), ids="-".join)
def test_within_the_published_range(
    denver: HourlyYear,
    key: tuple[str, str],
    rules: Rules,
    missed: dict[tuple[str, str], float],
) -> None:
    """Of eleven ranges nine are met with the coefficients of the test, six by ISO 52016-1's own.

    Nothing is fitted. All misses are above the range.
    """
    low, high = RANGES[key]
    ours = getattr(ran(denver, key[0], rules), key[1])
    if key in missed:
        assert ours - high == pytest.approx(missed[key], abs=BAND)
    else:
        assert low <= ours <= high


def test_heavy_building_left_alone(denver: HourlyYear) -> None:
    """900FF, of which we have no published range: the light one's mean, and half its swing or less."""
    light, heavy = ran(denver, "600FF"), ran(denver, "900FF")
    assert heavy.mean == pytest.approx(light.mean, abs=0.1)
    swing = heavy.maximum - heavy.minimum
    assert swing < 0.6 * (light.maximum - light.minimum)
    assert heavy.minimum == pytest.approx(1.39, abs=0.05)
    assert heavy.maximum == pytest.approx(45.02, abs=0.05)


def test_five_nodes_instead_of_layers(denver: HourlyYear) -> None:
    """ISO 52016-1's five nodes are within 5 % of the layers, on loads of the year."""
    for name in ("600", "900"):
        layers, five = ran(denver, name), ran(denver, name, five=True)
        assert five.heating_mwh == pytest.approx(layers.heating_mwh, rel=0.05)
        assert five.cooling_mwh == pytest.approx(layers.cooling_mwh, rel=0.05)


def test_the_building_is_the_standards() -> None:
    """U and solar heat gain of its parts as the standard prints them, under its own surface coefficients."""
    old = Film(3.16, 5.13)
    wall = Element(1.0, layered(LIGHT_WALL), 0, exposure=0, inside=old, outside=Film(24.67, 4.63))
    assert wall.u == pytest.approx(0.514, abs=0.001)
    heavy = Element(1.0, layered(HEAVY_WALL), 0, exposure=0, inside=old, outside=Film(24.67, 4.63))
    assert heavy.u == pytest.approx(0.512, abs=0.001)


def test_solar_gain_of_its_glass(denver: HourlyYear) -> None:
    """About 0.77 at normal incidence; the standard's 0.769 is from memory."""
    _, resistance = building(denver, False, TEST, False)
    assert through_glass(TEST, resistance).gains[-1] == pytest.approx(0.769, abs=0.005)


def test_energy_closes_in_every_hour(denver: HourlyYear) -> None:
    """Gains and heating less losses are what is stored, to a billionth of what flows."""
    for free in (False, True):
        course = case(denver, heavy=True, free=free)
        assert closing(course, 200.0 + gains(denver)) < 1e-9


def gains(year: HourlyYear) -> np.ndarray:
    from sashwright.physics.house_heat import sun_through
    from sashwright.physics.sunlight import on_plane, sky_of

    _, resistance = building(year, True, TEST, False)
    passed = sun_through(12.0, on_plane(sky_of(year), 180.0), through_glass(TEST, resistance))
    return passed * (1 - sun_in_room(12.0, 171.6).lost)


def closing(course: Course, gained: np.ndarray) -> float:
    terms = [
        gained,
        course.power.sum(axis=1),
        -course.by_air.sum(axis=1),
        -course.outward.sum(axis=1),
        -course.stored,
    ]
    return float((np.abs(sum(terms)) / sum(np.abs(term) for term in terms)).max())
