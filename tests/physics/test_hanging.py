"""Bars, wheels and the balance of a hung mass."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics.hanging import (
    STANDARD_GRAVITY,
    axle_loss,
    bar_length,
    forces_to_move,
    section_area,
    tension_ratio,
)

G = 9.80665
NO_CORD = np.zeros(1)


def test_gravity_is_the_standard_one() -> None:
    assert STANDARD_GRAVITY == G


@pytest.mark.parametrize(("shape", "area"), [("round", 0.0011400918279693), ("square", 0.00145161)])
def test_section_of_an_inch_and_a_half(shape: str, area: float) -> None:
    assert section_area(shape, 0.0381) == pytest.approx(area, rel=1e-12)  # type: ignore[arg-type]


def test_a_bar_weighs_what_it_was_cut_to() -> None:
    length = bar_length(3.5, 7200.0, 0.0011400918)
    assert length * 0.0011400918 * 7200 == pytest.approx(3.5, rel=1e-14)


def test_moments_about_the_axle_balance() -> None:
    """Wheel 57.15 mm, axle 6.35 mm, friction 0.2: the greater tension T2 against T1 = 100 N."""
    ratio = tension_ratio(axle_loss(0.2, 0.00635, 0.05715))
    t1, t2 = 100.0, 100.0 * ratio
    turning = (t2 - t1) * 0.05715 / 2
    resisting = 0.2 * (t1 + t2) * 0.00635 / 2
    assert turning == pytest.approx(resisting, rel=1e-12)


def test_no_friction_is_no_loss() -> None:
    assert tension_ratio(axle_loss(0.0, 0.00635, 0.05715)) == 1


def test_an_exact_balance_moves_at_a_touch() -> None:
    raising, lowering = forces_to_move(8.0, 4.0, NO_CORD, NO_CORD, 1.0, 0.0)
    assert raising[0] == lowering[0] == 0


def test_the_hand_carries_the_difference_of_both_sides() -> None:
    raising, lowering = forces_to_move(8.0, 3.75, NO_CORD, NO_CORD, 1.0, 0.0)
    assert raising[0] == pytest.approx(0.5 * G)
    assert lowering[0] == pytest.approx(-0.5 * G)


def test_drag_counts_against_either_motion() -> None:
    raising, lowering = forces_to_move(8.0, 3.75, NO_CORD, NO_CORD, 1.0, 12.0)
    assert raising[0] == pytest.approx(0.5 * G + 12)
    assert lowering[0] == pytest.approx(-0.5 * G + 12)


def test_friction_holds_a_sash_that_is_a_little_out_of_balance() -> None:
    ratio = 1.05
    raising, lowering = forces_to_move(8.0, 4.0, NO_CORD, NO_CORD, ratio, 0.0)
    assert raising[0] == pytest.approx(8 * G * (1 - 1 / 1.05))
    assert lowering[0] == pytest.approx(8 * G * (1.05 - 1))
    # Beyond the ratio it runs by itself.
    _, runs = forces_to_move(8.0, 4.0 / 1.06, NO_CORD, NO_CORD, ratio, 0.0)
    assert runs[0] < 0


def test_cord_on_the_sash_side_weighs_it_down() -> None:
    raising, lowering = forces_to_move(
        8.0, 4.0, np.array([0.0, 0.1]), np.array([0.1, 0.0]), 1.0, 0.0
    )
    assert raising == pytest.approx([-0.2 * G, 0.2 * G])
    assert lowering == pytest.approx([0.2 * G, -0.2 * G])
