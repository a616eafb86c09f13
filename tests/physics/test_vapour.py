"""Vapour between two panes: closed forms, a mass balance that closes, water that is kept until it dries."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics.constants import STANDARD_PRESSURE
from sashwright.physics.psychrometrics import humidity_ratio, saturation_pressure
from sashwright.physics.vapour import (
    FREEZING,
    HOUR,
    Moisture,
    face_pressure,
    face_ratio,
    face_temperature,
    hold,
    humidity_at_start,
    mixed_ratio,
    space_moisture,
    wetting_temperature,
)
from sashwright.physics.vapour_air import Openings, space_exchange

ROOM, OUT = 0.0055, 0.0012


def moisture(
    warm: float, cold: float, saturated: float, hours: int = 5, film: float = 1.0
) -> Moisture:
    one = np.ones((hours, 1))
    return space_moisture(
        ROOM * one, OUT * one, saturated * one, warm * one, cold * one, film=film, most=1.0
    )


# --- mixing ---------------------------------------------------------------------------


def test_a_tight_prime_leaves_outdoor_air_and_a_tight_storm_room_air() -> None:
    assert mixed_ratio(ROOM, OUT, 0.0, 2e-4) == OUT
    assert mixed_ratio(ROOM, OUT, 2e-4, 0.0) == ROOM
    assert mixed_ratio(ROOM, OUT, 1e-4, 1e-4) == pytest.approx((ROOM + OUT) / 2, rel=1e-15)
    assert mixed_ratio(ROOM, OUT, 0.0, 0.0) == OUT


def test_dry_space_has_the_mixture() -> None:
    got = moisture(1e-4, 3e-4, saturated=0.02)
    np.testing.assert_allclose(got.ratio, OUT + 0.25 * (ROOM - OUT), rtol=1e-14)
    assert not got.held.any()


def test_a_face_that_takes_all_leaves_saturated_air() -> None:
    got = moisture(3e-4, 1e-4, saturated=0.002, film=1e6)
    np.testing.assert_allclose(got.ratio, 0.002, rtol=1e-9)
    settles = 3e-4 * (ROOM - 0.002) + 1e-4 * (OUT - 0.002)
    np.testing.assert_allclose(got.rate, settles, rtol=1e-9)


@settings(deadline=None, max_examples=60)
@given(seed=st.integers(0, 10_000), film=st.floats(1e-5, 1.0), most=st.floats(1e-4, 0.3))
def test_mass_balance_closes(seed: int, film: float, most: float) -> None:
    rng = np.random.default_rng(seed)
    shape = (200, 3)
    room, out = rng.uniform(0.003, 0.012, shape), rng.uniform(0.0005, 0.008, shape)
    face = rng.uniform(0.0005, 0.012, shape)
    warm, cold = 10 ** rng.uniform(-6, -2.5, shape), 10 ** rng.uniform(-6, -2.5, shape)
    got = space_moisture(room, out, face, warm, cold, film=film, most=most)
    left = warm * (room - got.ratio) + cold * (out - got.ratio) - got.rate
    scale = warm * room + cold * out
    assert np.abs(left / scale).max() < 1e-9
    # What settled in the year is held at its end or ran off; a year that repeats ends as it began.
    assert got.rate.sum(axis=0) * HOUR == pytest.approx(got.ran_off.sum(axis=0), rel=1e-7, abs=1e-9)
    assert (got.held >= 0).all()
    assert (got.held <= most).all()
    # Air is never damper than the dampest and never drier than the driest of what it meets.
    assert (got.ratio <= np.maximum(np.maximum(room, out), face) + 1e-12).all()
    assert (got.ratio >= np.minimum(np.minimum(room, out), face) - 1e-12).all()


def test_water_dries_before_the_air_does() -> None:
    """Two wet hours, then dry ones: 0.4 kg settle, 0.15 kg an hour dry off."""
    gain = np.array([[0.2], [0.2], [-0.15], [-0.15], [-0.15], [-0.15]])
    before, after, ran = hold(gain, 1.0)
    np.testing.assert_allclose(after[:, 0], [0.2, 0.4, 0.25, 0.1, 0.0, 0.0], atol=1e-12)
    np.testing.assert_allclose(before[:, 0], [0.0, 0.2, 0.4, 0.25, 0.1, 0.0], atol=1e-12)
    assert not ran.any()


def test_glass_holds_so_much_and_a_year_repeats() -> None:
    _, after, ran = hold(np.array([0.3, -0.1]), 0.25)
    np.testing.assert_allclose(after, [0.25, 0.15])
    # The second year starts with 0.15 on the glass, so that it runs more than in the first.
    np.testing.assert_allclose(ran, [0.2, 0.0])
    _, once, _ = hold(np.array([0.3, -0.1]), 0.25, repeats=False)
    np.testing.assert_allclose(once, [0.25, 0.15])


def test_drier_rooms_and_more_outdoor_air_never_leave_more_water() -> None:
    rng = np.random.default_rng(3)
    room, out = rng.uniform(0.004, 0.008, (500, 1)), rng.uniform(0.001, 0.004, (500, 1))
    face = rng.uniform(0.001, 0.006, (500, 1))
    warm, cold = np.full((500, 1), 2e-4), np.full((500, 1), 2e-4)
    base = space_moisture(room, out, face, warm, cold, film=0.003, most=0.1).held
    drier = space_moisture(0.8 * room, out, face, warm, cold, film=0.003, most=0.1).held
    assert (drier <= base + 1e-12).all()
    assert base.max() > 0


# --- faces ----------------------------------------------------------------------------


def test_faces_freeze() -> None:
    assert face_pressure(-10.0) == pytest.approx(saturation_pressure(-10.0, "ice"))
    assert face_pressure(10.0) == pytest.approx(saturation_pressure(10.0))
    # The two curves meet where water, ice and vapour do.
    assert float(face_pressure(FREEZING - 1e-9)) == pytest.approx(
        float(face_pressure(FREEZING)), rel=1e-4
    )
    assert face_ratio(5.0, STANDARD_PRESSURE) == pytest.approx(
        humidity_ratio(saturation_pressure(5.0), STANDARD_PRESSURE)
    )


@given(st.floats(-40, 35))
def test_wetting_temperature_is_the_inverse(face: float) -> None:
    assert float(wetting_temperature(face_pressure(face))) == pytest.approx(face, abs=1e-3)


def test_humidity_at_start() -> None:
    assert humidity_at_start(20.0, 20.0) == 1.0
    assert humidity_at_start(25.0, 20.0) == 1.0
    assert humidity_at_start(face_temperature(0.5, 0.0, 20.0), 20.0) == pytest.approx(
        saturation_pressure(10.0) / saturation_pressure(20.0)
    )


# --- air ------------------------------------------------------------------------------


def openings(*rows: tuple[float, float, float]) -> Openings:
    C, n, z = (np.array(column) for column in zip(*rows, strict=True))
    return Openings(C[:, None], n, z)


def test_closed_sides() -> None:
    """Nothing through the prime: outdoor air alone, by the draught of the warm space."""
    shut, storm = openings((0.0, 0.65, 0.0)), openings((1e-4, 0.5, 0.0), (1e-4, 0.5, 2.0))
    room, out = space_exchange(shut, storm, 3.0, (20.0, 5.0, -5.0))
    assert room == 0
    # Equal openings share the draught of a column of 2 m, half a side: closed form.
    draught = 1.2 * 9.81 * 2.0 * 10.0 / 273.15
    assert out[0] == pytest.approx(1e-4 * (draught / 2) ** 0.5, rel=1e-6)
    room, out = space_exchange(storm, shut, 3.0, (20.0, 5.0, -5.0))
    assert out == 0
    assert room[0] > 0


def test_pressure_alone_is_the_series_law() -> None:
    prime, storm = openings((0.30, 0.65, 0.0)), openings((0.15, 0.65, 0.0))
    room, out = space_exchange(prime, storm, 7.0, (10.0, 10.0, 10.0))
    both = (0.30 ** (-1 / 0.65) + 0.15 ** (-1 / 0.65)) ** -0.65
    assert room[0] == pytest.approx(both * 7**0.65, rel=1e-6)
    assert out == 0
    room, out = space_exchange(prime, storm, -7.0, (10.0, 10.0, 10.0))
    assert out[0] == pytest.approx(both * 7**0.65, rel=1e-6)
    assert room == 0


def test_nothing_drives_nothing() -> None:
    prime, storm = openings((0.3, 0.65, 0.0)), openings((0.15, 0.65, 0.0))
    assert not np.any(space_exchange(prime, storm, 0.0, (10.0, 10.0, 10.0)))
