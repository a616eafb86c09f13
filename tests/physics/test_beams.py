"""What holds for any bar, and for water at any sill."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.physics.beams import (
    allowable_bending,
    along,
    deflection_limit,
    point,
    together,
    trapezoid,
    tributary,
)
from sashwright.physics.water import held_pressure, sill_upstand, water_head

SPANS = st.floats(0.2, 2.5)


@given(span=SPANS, reach=SPANS, pressure=st.floats(100, 5000))
def test_the_four_edges_carry_the_pane(span: float, reach: float, pressure: float) -> None:
    one = trapezoid(span, *tributary(pressure, span, reach), 1.0)
    other = trapezoid(reach, *tributary(pressure, reach, span), 1.0)
    assert 4 * (one.reaction + other.reaction) == pytest.approx(pressure * span * reach)


@given(span=SPANS, share=st.floats(0, 0.5), more=st.floats(0, 0.5))
def test_rising_ends_only_relieve(span: float, share: float, more: float) -> None:
    less, more = sorted((share, more))
    full = trapezoid(span, 100.0, less * span, 50.0)
    relieved = trapezoid(span, 100.0, more * span, 50.0)
    for each in ("moment", "deflection", "reaction"):
        assert getattr(relieved, each) <= getattr(full, each) * (1 + 1e-12)


@given(span=SPANS, start=st.floats(0, 0.9), share=st.floats(0.05, 1), corner=st.floats(0.01, 0.5))
def test_a_load_on_a_stretch_is_many_small_forces(
    span: float, start: float, share: float, corner: float
) -> None:
    from_, length = start * span, share * (1 - start) * span
    rise = corner * length
    one = along(span, 70.0, stretches=[(from_, length, 120.0, rise)], points=[(9.0, span / 3)])
    step = length / 400
    at = (np.arange(400) + 0.5) * step
    line = 120.0 * np.minimum(1.0, np.minimum(at, length - at) / rise)
    forces = [(float(w) * step, from_ + float(x)) for w, x in zip(line, at, strict=True)]
    many = together(span, 70.0, points=[*forces, (9.0, span / 3)])
    for each in ("moment", "deflection", "reaction"):
        assert getattr(one, each) == pytest.approx(getattr(many, each), rel=1e-3)


def test_a_stretch_as_long_as_the_beam_is_the_trapezoid() -> None:
    one, plain = along(0.9, 60.0, stretches=[(0, 0.9, 80.0, 0.3)]), trapezoid(0.9, 80.0, 0.3, 60.0)
    for each in ("moment", "deflection", "reaction"):
        assert getattr(one, each) == pytest.approx(getattr(plain, each), rel=1e-4)


@given(span=SPANS, place=st.floats(0.0, 1.0), force=st.floats(1, 500))
def test_a_force_is_worst_in_the_middle(span: float, place: float, force: float) -> None:
    there = point(span, force, place * span, 50.0)
    middle = point(span, force, span / 2, 50.0)
    mirror = point(span, force, (1 - place) * span, 50.0)
    assert there.moment <= middle.moment * (1 + 1e-12)
    assert there.deflection <= middle.deflection * (1 + 1e-12)
    assert there.deflection == pytest.approx(mirror.deflection, abs=1e-12)


@given(
    span=SPANS,
    share=st.floats(0, 0.5),
    place=st.floats(0.02, 0.98),
    force=st.floats(1, 500),
)
def test_together_is_at_most_the_sum(span: float, share: float, place: float, force: float) -> None:
    spread, single = (100.0, share * span), (force, place * span)
    both = together(span, 50.0, trapezoids=[spread], points=[single])
    apart = trapezoid(span, *spread, 50.0), point(span, *single, 50.0)
    for each in ("moment", "deflection", "reaction"):
        parts = [getattr(part, each) for part in apart]
        assert max(parts) * 0.99 <= getattr(both, each) <= sum(parts) * (1 + 1e-4)


def test_arrays() -> None:
    spans = np.array([0.5, 1.0])
    bent = trapezoid(spans, 100.0, 0.2, 50.0)
    assert bent.moment[1] == pytest.approx(trapezoid(1.0, 100.0, 0.2, 50.0).moment)
    assert np.all(np.diff(deflection_limit(np.array([0.5, 4.1, 4.2, 6.0]))) > 0)


def test_knots_and_time_take_away() -> None:
    clear = allowable_bending(35e6)
    assert allowable_bending(35e6, grain=0.6) == pytest.approx(0.6 * clear)
    assert allowable_bending(35e6, duration=1.0) == pytest.approx(clear / 1.6)
    # Never above what the mean piece breaks at.
    assert clear < 35e6


def test_refusals() -> None:
    with pytest.raises(ValueError, match="half the span"):
        trapezoid(1.0, 100.0, 0.6, 50.0)
    with pytest.raises(ValueError, match="beyond the span"):
        point(1.0, 100.0, 1.2, 50.0)
    with pytest.raises(ValueError, match="0 to 45"):
        sill_upstand(0.05, slope=-3.0)


@given(pressure=st.floats(0, 5000))
def test_water_stands_as_high_as_it_is_pushed(pressure: float) -> None:
    assert held_pressure(water_head(pressure)) == pytest.approx(pressure)


@given(run=st.floats(0, 0.2), slope=st.floats(0, 44), more=st.floats(0.1, 1))
def test_steeper_sills_hold_more(run: float, slope: float, more: float) -> None:
    one, other = sill_upstand(run, slope=slope), sill_upstand(run, slope=slope + more)
    assert other >= one
    assert sill_upstand(run, slope=slope, lip=0.01) == pytest.approx(one + 0.01)
