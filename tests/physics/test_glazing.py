"""Glazing: what must hold whatever it is built of and whatever stands around it."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from sashwright.physics.cavity import upright_nusselt, wind_convection
from sashwright.physics.constants import KELVIN
from sashwright.physics.gases import GasName, en673_properties
from sashwright.physics.glazing import (
    ISO_WINTER,
    NFRC_SUMMER,
    NFRC_WINTER,
    CoatedPane,
    Conditions,
    Gap,
    Pane,
    PlainPane,
    at_angle,
    corrected_emissivity,
    detailed_balance,
    en673_u,
    plain_from_normal,
    solar_heat_gain,
)
from sashwright.physics.glazing.network import Around, Link, links, step

Array = NDArray[np.float64]

EMISSIVITIES = st.floats(0.02, 0.95)
PANES = st.builds(
    Pane, st.floats(0.002, 0.012), st.sampled_from([0.2, 1.0]), EMISSIVITIES, EMISSIVITIES
)
GAPS = st.builds(
    Gap, st.floats(0.004, 0.15), st.sampled_from(["air", "argon", "krypton"]), st.floats(0.5, 1.0)
)
FRACTIONS = st.floats(0.0, 1.0)


@st.composite
def stacks(draw: st.DrawFn) -> tuple[list[Pane], list[Gap]]:
    count = draw(st.integers(1, 4))
    panes = draw(st.lists(PANES, min_size=count, max_size=count))
    return panes, draw(st.lists(GAPS, min_size=count - 1, max_size=count - 1))


MANY = Conditions(
    np.linspace(-35, 15, 11)[:, None], 20.0, wind_convection(np.array([0.0, 2, 5, 15]))
)
"""Cold and mild, calm and stormy, with natural convection in the room."""


def mirrored(pane: Pane) -> Pane:
    return Pane(pane.thickness, pane.conductivity, pane.emissivity_inside, pane.emissivity_outside)


# --- more panes, wider gaps ---------------------------------------------------------


@given(stacks(), GAPS, st.floats(0.002, 0.012))
def test_another_pane_never_raises_u(
    stack: tuple[list[Pane], list[Gap]], gap: Gap, thickness: float
) -> None:
    panes, gaps = stack
    # Behind the others, with the emissivity that the room saw before.
    more = [*panes, Pane(thickness, 1.0, 0.837, panes[-1].emissivity_inside)]
    assert en673_u(more, [*gaps, gap]) < en673_u(panes, gaps)
    for weather in (ISO_WINTER, MANY):
        before = detailed_balance(panes, gaps, weather).u
        assert (detailed_balance(more, [*gaps, gap], weather).u < before).all()


@given(st.floats(0.004, 0.012), st.floats(0.0005, 0.002), EMISSIVITIES)
def test_a_wider_gap_insulates_better_while_its_air_stands_still(
    width: float, wider: float, emissivity: float
) -> None:
    panes = [Pane(0.004), Pane(0.004, 1.0, emissivity)]
    narrow, wide = [Gap(width)], [Gap(width + wider)]
    assert en673_u(panes, wide) < en673_u(panes, narrow)
    u = [float(detailed_balance(panes, gap, ISO_WINTER).u) for gap in (narrow, wide)]
    assert u[1] < u[0]


WIDTHS = np.arange(4.0, 20.1, 0.5) / 1000


@given(st.sampled_from(["air", "argon", "krypton"]), st.floats(0.5, 1.0), EMISSIVITIES)
def test_a_wider_gap_never_raises_u_short_of_the_best(
    gas: GasName, share: float, emissivity: float
) -> None:
    """U falls all the way to its least value, which lies where the gas starts to move."""
    panes = [Pane(0.004), Pane(0.004, 1.0, emissivity)]
    gaps = [[Gap(width, gas, share)] for width in WIDTHS]
    # EN 673 starts its convection where 0.035 (Gr Pr)^0.38 = 1.
    en = np.array([en673_u(panes, gap) for gap in gaps])
    filling = en673_properties(gas, share)
    moves = 0.035 ** (-1 / 0.38) * 283 * filling.viscosity * filling.conductivity
    moves /= 9.81 * 15 * filling.density**2 * filling.specific_heat
    still = float(moves) ** (1 / 3) >= WIDTHS
    assert still.sum() > 5
    assert (np.diff(en[still]) < 0).all()
    # By ISO 15099 it depends on the weather.
    us = np.stack([detailed_balance(panes, gap, MANY).u.ravel() for gap in gaps])
    for u in us.T:
        best = int(u.argmin())
        assert (np.diff(u[: best + 1]) < 0).all()
        assert WIDTHS[best] > 0.006


@given(st.floats(2, 7), st.floats(1, 1.3), st.floats(3, 150))
def test_more_difference_never_calms_the_gas(power: float, factor: float, aspect: float) -> None:
    Ra = 10**power
    before, after = upright_nusselt(Ra, aspect), upright_nusselt(Ra * factor, aspect)
    # Just above the meeting of the standard's first two forms, the second being half a percent lower.
    assert float(after) >= 0.9995 * float(before)


def test_the_cavity_has_no_steps() -> None:
    Ra = np.geomspace(1e2, 1e7, 200_001)
    for aspect in (5, 20, 100):
        Nu = upright_nusselt(Ra, aspect)
        assert np.abs(np.diff(Nu) / Nu[1:]).max() < 2e-4
        assert (Nu >= 1).all()


# --- mirrors ------------------------------------------------------------------------


@given(stacks())
def test_turned_about_with_its_surroundings(stack: tuple[list[Pane], list[Gap]]) -> None:
    panes, gaps = stack
    there = Conditions(-7.0, 21.0, 12.0, 4.0, outdoor_radiant=-15.0, indoor_radiant=19.0)
    back = Conditions(21.0, -7.0, 4.0, 12.0, outdoor_radiant=19.0, indoor_radiant=-15.0)
    one = detailed_balance(panes, gaps, there)
    other = detailed_balance([mirrored(p) for p in panes[::-1]], gaps[::-1], back)
    assert other.faces[::-1] == pytest.approx(one.faces, abs=1e-3)
    assert other.resistances[::-1] == pytest.approx(one.resistances, rel=1e-4)
    assert float(other.to_outdoors) == pytest.approx(-float(one.from_room), abs=0.01)


@st.composite
def symmetric_stacks(draw: st.DrawFn) -> tuple[list[Pane], list[Gap]]:
    panes = draw(st.lists(PANES, min_size=1, max_size=2))
    gaps = draw(st.lists(GAPS, min_size=len(panes) - 1, max_size=len(panes) - 1))
    if draw(st.booleans()):
        middle = draw(GAPS)
        return panes + [mirrored(p) for p in panes[::-1]], [*gaps, middle, *gaps[::-1]]
    plain = Pane(0.004, 1.0, 0.3, 0.3)
    gap = draw(GAPS)
    around = [mirrored(p) for p in panes[::-1]]
    return [*panes, plain, *around], [*gaps, gap, gap, *gaps[::-1]]


@given(symmetric_stacks(), st.floats(-20, 30), st.floats(0, 300))
def test_symmetric_glazing_between_equal_sides(
    stack: tuple[list[Pane], list[Gap]], air: float, sun: float
) -> None:
    """The same air on both sides, and sun that warms the panes: half of it goes either way."""
    panes, gaps = stack
    film = np.array([2.0, 8.0, 25.0])
    same = Conditions(air, air, film, film)
    balance = detailed_balance(panes, gaps, same, absorbed=[sun] * len(panes))
    assert balance.faces == pytest.approx(balance.faces[::-1], abs=1e-4)
    assert balance.resistances == pytest.approx(balance.resistances[::-1], rel=1e-4)
    assert balance.to_outdoors == pytest.approx(np.full(3, sun * len(panes) / 2), abs=1e-3)
    assert balance.from_room == pytest.approx(-balance.to_outdoors, abs=1e-3)
    turned = en673_u([mirrored(p) for p in panes[::-1]], gaps[::-1])
    assert en673_u(panes, gaps) == pytest.approx(turned, rel=1e-12)


@given(PANES, st.floats(0.004, 0.15))
def test_symmetric_glazing_has_one_temperature_in_its_middle(pane: Pane, width: float) -> None:
    same = Conditions(0.0, 20.0, 8.0, 8.0)
    faces = detailed_balance([pane, mirrored(pane)], [Gap(width)], same).faces
    # Radiation grows with temperature: the warm side is a little closer coupled.
    assert faces[0] + faces[3] == pytest.approx(20, abs=1.0)


# --- balances -----------------------------------------------------------------------


@given(
    stacks(),
    st.lists(st.floats(-45, 50), min_size=5, max_size=5),
    st.floats(-10, 45),
    st.floats(0, 25),
    st.floats(0, 600),
    st.floats(0.3, 2.5),
)
def test_any_state_settles_and_nothing_is_lost(
    stack: tuple[list[Pane], list[Gap]],
    outdoor: list[float],
    indoor: float,
    wind: float,
    sun: float,
    height: float,
) -> None:
    panes, gaps = stack
    states = np.array(outdoor)
    conditions = Conditions(states, indoor, wind_convection(wind), outdoor_radiant=states - 12)
    balance = detailed_balance(panes, gaps, conditions, height=height, absorbed=[sun] * len(panes))
    assert balance.faces.shape == (2 * len(panes), 5)
    assert balance.resistances.shape == (2 * len(panes) + 1, 5)
    gained = balance.from_room + sun * len(panes)
    assert balance.to_outdoors == pytest.approx(gained, abs=0.02)
    assert (balance.resistances > 0).all()


def test_each_state_by_itself() -> None:
    """Thousands at once give what each gives alone."""
    panes, gaps = [Pane(0.003), Pane(0.003, 1.0, 0.15)], [Gap(0.09)]
    outdoor, indoor = np.linspace(-30, 35, 14)[:, None], np.array([15.0, 20, 27])
    convection, sun = wind_convection(np.linspace(0, 12, 14))[:, None], np.array([0.0, 40, 200])
    both = detailed_balance(
        panes, gaps, Conditions(outdoor, indoor, convection), absorbed=[sun, sun / 2]
    )
    assert both.u.shape == (14, 3)
    for i in range(14):
        for j in range(3):
            state = Conditions(outdoor[i, 0], indoor[j], convection[i, 0])
            one = detailed_balance(panes, gaps, state, absorbed=[sun[j], sun[j] / 2])
            assert both.faces[:, i, j] == pytest.approx(one.faces, abs=3e-5)
            assert both.u[i, j] == pytest.approx(float(one.u), rel=1e-6)


def test_windows_of_different_heights_together() -> None:
    panes, gaps = [Pane(0.003), Pane(0.003, 1.0, 0.15)], [Gap(0.075)]
    # More states than are worked on at once.
    weather = Conditions(np.linspace(-30, 35, 5000), 21.0, 18.0)
    heights = np.array([0.4, 0.9, 1.3, 2.2])
    together = detailed_balance(panes, gaps, weather, height=heights[:, None])
    assert together.faces.shape == (4, 4, 5000)
    for k, height in enumerate(heights):
        alone = detailed_balance(panes, gaps, weather, height=float(height))
        assert together.faces[:, k] == pytest.approx(alone.faces, abs=1e-5)
        assert together.u[k] == pytest.approx(alone.u, rel=1e-5)


@given(stacks())
def test_settled_means_settled(stack: tuple[list[Pane], list[Gap]]) -> None:
    """What the links carry at the faces found adds up at each of them."""
    panes, gaps = stack
    faces = detailed_balance(panes, gaps, MANY, height=0.8, absorbed=[50.0] * len(panes)).faces
    warm = [face.ravel() + KELVIN for face in faces]
    shape = faces[0].shape

    def row(value: object) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=np.float64), shape).ravel()

    outdoor, indoor = row(MANY.outdoor) + KELVIN, row(MANY.indoor) + KELVIN
    film = row(MANY.outside_convection)
    around = Around(outdoor, indoor, outdoor, indoor, film, None, None, 0.8)
    flows = [link.outward for link in links(panes, gaps, around, warm)]
    left = np.stack([inner - outer + 25 for outer, inner in itertools.pairwise(flows)])
    # A thin pane's two faces lie 1e-5 K apart from where they should for each 0.01 W/m2.
    assert np.abs(left).max() < 0.02


def test_u_is_flow_over_difference() -> None:
    balance = detailed_balance([Pane(0.003)] * 2, [Gap(0.05)], NFRC_WINTER)
    assert float(balance.from_room) / 39 == pytest.approx(float(balance.u), rel=1e-6)


def test_equally_warm_everywhere() -> None:
    balance = detailed_balance([Pane(0.003)] * 2, [Gap(0.05)], Conditions(20.0, 20.0, 10.0))
    assert balance.faces == pytest.approx(20.0, abs=1e-9)
    assert float(balance.from_room) == pytest.approx(0, abs=1e-9)
    assert 0 < float(balance.u) < 3


@given(st.lists(st.floats(0.01, 1), min_size=2, max_size=9), st.data())
def test_a_step_against_equations(row: list[float], data: st.DataObject) -> None:
    """Links that are straight lines need one step."""
    count = len(row) - 1
    sources = data.draw(st.lists(st.floats(-50, 50), min_size=count, max_size=count))
    ease = 1 / np.array(row)
    matrix = np.diag(ease[:-1] + ease[1:]) - np.diag(ease[1:-1], 1) - np.diag(ease[1:-1], -1)
    right = np.array(sources)
    right[0] += ease[0] * 3
    right[-1] += ease[-1] * 21
    # From places all at 0 °C between ends of 3 and 21 °C.
    outward = np.zeros(count + 1)
    outward[0], outward[-1] = ease[0] * -3, ease[-1] * 21
    links = [Link(e, np.array([q]), e, e) for e, q in zip(ease, outward, strict=True)]
    ours = step(links, [np.array([s]) for s in sources])
    assert np.concatenate(ours) == pytest.approx(np.linalg.solve(matrix, right), abs=1e-8)


# --- what is refused ----------------------------------------------------------------


def test_refused() -> None:
    with pytest.raises(ValueError, match="2 panes and 0 gaps"):
        en673_u([Pane(0.003)] * 2)
    with pytest.raises(ValueError, match="more than 0"):
        Gap(0.0)
    with pytest.raises(ValueError, match="filled"):
        Gap(0.01, "argon", 0.0)
    with pytest.raises(ValueError, match="above 0"):
        Pane(-0.003)
    with pytest.raises(ValueError, match="emissivity"):
        Pane(0.003, emissivity_inside=1.2)
    with pytest.raises(ValueError, match="expected 0 to 1"):
        corrected_emissivity(1.2)
    with pytest.raises(ValueError, match="no more than 1"):
        CoatedPane(0.8, 0.1, 0.3)
    with pytest.raises(ValueError, match="index"):
        PlainPane(0.9, 0.1)
    with pytest.raises(ValueError, match="expected those of a pane"):
        plain_from_normal(0.9, 0.3)
    with pytest.raises(ValueError, match="height"):
        detailed_balance([Pane(0.003)], [], NFRC_WINTER, height=0)
    with pytest.raises(ValueError, match="absorbed"):
        detailed_balance([Pane(0.003)], [], NFRC_WINTER, absorbed=[1.0, 2.0])
    with pytest.raises(ValueError, match="no number"):
        detailed_balance([Pane(0.003)], [], Conditions(float("nan"), 20.0, 10.0))
    with pytest.raises(ValueError, match="no number"):
        detailed_balance([Pane(0.003)], [], NFRC_WINTER, absorbed=[float("inf")])
    with pytest.raises(ValueError, match="no convection"):
        detailed_balance([Pane(0.003)], [], Conditions(0.0, 20.0, 0.0))
    with pytest.raises(ValueError, match="no sun"):
        solar_heat_gain([Pane(0.003)], [], NFRC_SUMMER, at_angle([PlainPane(1.5, 0.1)], 0.0), 0.0)
