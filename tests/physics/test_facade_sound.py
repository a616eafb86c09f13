"""Sound through what stands open: there and back, and the ways it must go."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics.facade_sound import level_difference, open_area


def test_area_and_difference_are_each_others_inverse() -> None:
    areas = np.array([0.005, 0.05, 0.6])
    assert open_area(40.0, level_difference(40.0, areas)) == pytest.approx(areas, rel=1e-12)


def test_twice_the_gap_is_three_decibels_twice_the_room_three_less() -> None:
    one = level_difference(40.0, 0.1)
    assert one - level_difference(40.0, 0.2) == pytest.approx(10 * np.log10(2))
    assert level_difference(80.0, 0.1) - one == pytest.approx(10 * np.log10(2))


@pytest.mark.parametrize(("volume", "area"), [(0.0, 0.1), (40.0, 0.0), (40.0, -1.0)])
def test_sizes_must_be_some(volume: float, area: float) -> None:
    with pytest.raises(ValueError, match="expected more"):
        level_difference(volume, area)
