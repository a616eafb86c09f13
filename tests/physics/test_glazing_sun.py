"""Sun through glazing: what must hold whatever it is built of."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from sashwright.physics.glazing import (
    NFRC_SUMMER,
    NFRC_SUN,
    CoatedPane,
    Gap,
    Pane,
    PlainPane,
    at_angle,
    detailed_balance,
    diffuse,
    hourly_gain,
    inward_fractions,
    plain_from_normal,
    solar_heat_gain,
)
from sashwright.physics.glazing.optics import AnyPane

Array = NDArray[np.float64]
FRACTIONS = st.floats(0.0, 1.0)

OPTICS = st.one_of(
    st.builds(PlainPane, st.floats(1.3, 1.8), st.floats(0, 0.6)),
    st.tuples(FRACTIONS, FRACTIONS, FRACTIONS).map(
        lambda v: CoatedPane(v[0] / 2, v[1] / 2, v[2] / 2)
    ),
)


@given(st.lists(OPTICS, min_size=1, max_size=4), st.floats(0, np.pi / 2))
def test_all_light_goes_somewhere(panes: list[PlainPane | CoatedPane], angle: float) -> None:
    for sun in (at_angle(panes, angle), diffuse(panes)):
        parts = [sun.transmittance, sun.reflectance, *sun.absorptances]
        assert sum(float(part) for part in parts) == pytest.approx(1, abs=1e-6)
        assert min(float(part) for part in parts) >= -1e-12


@given(st.lists(OPTICS, min_size=1, max_size=4))
def test_light_passes_both_ways_alike(panes: list[PlainPane | CoatedPane]) -> None:
    turned = [
        CoatedPane(p.transmittance, p.back, p.front) if isinstance(p, CoatedPane) else p
        for p in panes[::-1]
    ]
    there, back = at_angle(panes, 0.7), at_angle(turned, 0.7)
    assert float(there.transmittance) == pytest.approx(float(back.transmittance), abs=1e-12)


@given(OPTICS)
def test_nothing_passes_along_the_glass(pane: PlainPane | CoatedPane) -> None:
    assert float(at_angle([pane], np.pi / 2).transmittance) == pytest.approx(0, abs=1e-9)


def test_coated_values_at_normal_incidence() -> None:
    sun = at_angle([CoatedPane(0.6, 0.15, 0.2)], 0.0)
    values = float(sun.transmittance), float(sun.reflectance), float(sun.absorptances[0])
    assert values == pytest.approx((0.6, 0.15, 0.25), abs=1e-12)


def test_gain_is_what_passes_and_the_inward_part_of_what_stays() -> None:
    panes, gaps = [Pane(0.003), Pane(0.003, 1.0, 0.15)], [Gap(0.075)]
    sun = at_angle([plain_from_normal(0.834, 0.075), CoatedPane(0.7, 0.1, 0.1)], 0.5)
    inward = inward_fractions(detailed_balance(panes, gaps, NFRC_SUMMER).resistances)
    assert inward.shape == (2,)
    assert 0 < inward[0] < inward[1] < 1
    shortcut = float(sun.transmittance) + float(inward @ sun.absorptances)
    ours = float(solar_heat_gain(panes, gaps, NFRC_SUMMER, sun, NFRC_SUN))
    # Films and gap change as the panes warm, which the shortcut leaves out.
    assert ours == pytest.approx(shortcut, abs=0.02)
    # With little sun they do not.
    little = float(solar_heat_gain(panes, gaps, NFRC_SUMMER, sun, 0.5))
    assert little == pytest.approx(shortcut, abs=0.003)


# --- hour by hour -------------------------------------------------------------------

OLD = PlainPane(1.52, 0.09)  # drawn glass with some iron
LAMINATED = plain_from_normal(0.715, 0.070)
ACRYLIC = PlainPane(1.49, 0.02)
CLEAR = plain_from_normal(0.834, 0.075)
OUTWARD, INWARD = CoatedPane(0.70, 0.12, 0.11), CoatedPane(0.70, 0.11, 0.12)
"""A low-emissivity coating on the face towards outdoors, towards the room."""

BUILDS: list[list[AnyPane]] = [
    [OLD],
    [LAMINATED],
    [CLEAR, OLD],
    [INWARD, OLD],
    [CLEAR, OUTWARD],
    [OLD, ACRYLIC],
    [INWARD, OLD, ACRYLIC],
    [CLEAR, OLD, OUTWARD, ACRYLIC],
]


@pytest.mark.parametrize("build", BUILDS)
def test_each_hour_by_itself(build: list[AnyPane]) -> None:
    rng = np.random.default_rng(4)
    angle = rng.uniform(0, np.pi / 2, 500)
    across, even = rng.uniform(0, 900, 500), rng.uniform(0, 300, 500)
    ours = hourly_gain(build, angle, across * np.cos(angle), even)
    beam, rest = at_angle(build, angle), diffuse(build)
    passed = beam.transmittance * across * np.cos(angle) + float(rest.transmittance) * even
    taken = beam.absorptances * across * np.cos(angle) + rest.absorptances[:, None] * even
    # Of the sun across its beam, as the function says.
    assert np.abs((ours.transmitted - passed) / across).max() < 1e-5
    assert np.abs((ours.absorbed - taken) / across).max() < 1e-5
    assert ours.absorbed.shape == (len(build), 500)


@given(st.lists(OPTICS, min_size=1, max_size=4))
def test_lines_between_the_angles_of_the_table(panes: list[AnyPane]) -> None:
    angle = np.radians(np.linspace(0, 85, 2500))
    ours, beam = hourly_gain(panes, angle, 1.0, 0.0), at_angle(panes, angle)
    assert np.abs(ours.transmitted - beam.transmittance).max() < 1e-4
    assert np.abs(ours.absorbed - beam.absorptances).max() < 1e-4


@given(st.lists(OPTICS, min_size=1, max_size=4), st.floats(0, np.pi))
def test_no_more_comes_than_falls(panes: list[AnyPane], angle: float) -> None:
    ours = hourly_gain(panes, angle, np.array([0.0, 500]), np.array([0.0, 80]))
    given_off = ours.transmitted + ours.absorbed.sum(axis=0)
    assert (given_off >= 0).all()
    assert given_off[0] == 0
    assert given_off[1] <= (580 if angle < np.pi / 2 else 80) * (1 + 1e-9)


def test_walls_by_hours() -> None:
    """Any shape goes, and the sun behind the glass gives nothing."""
    angle = np.array([[0.2], [np.pi / 2], [2.5]])
    ours = hourly_gain([CLEAR, CLEAR], angle, np.array([0.0, 300.0]), 50.0)
    assert ours.transmitted.shape == (3, 2)
    assert ours.absorbed.shape == (2, 3, 2)
    even = float(diffuse([CLEAR, CLEAR]).transmittance) * 50
    assert ours.transmitted[1:] == pytest.approx(even)
    assert ours.transmitted[0, 0] == pytest.approx(even)
    assert ours.transmitted[0, 1] > even + 200


def test_from_sun_to_warm_panes() -> None:
    """What is absorbed goes into the balance; with what passes it is the gain of the standard."""
    panes, gaps = [Pane(0.003), Pane(0.003, 1.0, 0.15)], [Gap(0.075)]
    sun = hourly_gain([CLEAR, OUTWARD], 0.5, NFRC_SUN, 0.0)
    dark = detailed_balance(panes, gaps, NFRC_SUMMER)
    lit = detailed_balance(panes, gaps, NFRC_SUMMER, absorbed=list(sun.absorbed))
    gain = (sun.transmitted + dark.from_room - lit.from_room) / NFRC_SUN
    through = at_angle([CLEAR, OUTWARD], 0.5)
    standard = solar_heat_gain(panes, gaps, NFRC_SUMMER, through, NFRC_SUN)
    assert float(gain) == pytest.approx(float(standard), abs=1e-5)


def test_refused() -> None:
    with pytest.raises(ValueError, match="no panes"):
        hourly_gain([], 0.1, 1.0, 1.0)
    with pytest.raises(ValueError, match="no number"):
        hourly_gain([CLEAR], np.array([0.1, np.nan]), 1.0, 1.0)
    with pytest.raises(ValueError, match="below 0"):
        hourly_gain([CLEAR], 0.1, -1.0, 1.0)
    with pytest.raises(ValueError, match="below 0"):
        hourly_gain([CLEAR], -0.1, 1.0, 1.0)
