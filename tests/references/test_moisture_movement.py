"""How far wood moves with its moisture, against the Wood Handbook.

Forest Products Laboratory: Wood Handbook, FPL-GTR-190 (2010), tables 4-3 and 13-5, eq. 13-2 and 13-3;
FPL-GTR-282 (2021) has the same formulas.
"""

from __future__ import annotations

import pytest

from sashwright.knowledge.load import load
from sashwright.physics import moisture


# Shrinkage of table 4-3, and C_R or C_T as table 13-5 prints it (read in copies of the handbook).
@pytest.mark.parametrize(
    ("shrinkage", "printed"),
    [
        (2.1, 0.00071),  # eastern white pine, radial
        (6.1, 0.00212),  # the same, tangential
        (7.5, 0.00263),  # longleaf pine, tangential
        (7.6, 0.00267),  # Douglas-fir, coast, tangential
        (5.5, 0.00190),  # black walnut, radial
        (7.8, 0.00274),  # the same, tangential
        (3.3, 0.00112),  # white fir, radial
    ],
)
def test_coefficients_follow_from_shrinkage(shrinkage: float, printed: float) -> None:
    ours = moisture.movement_coefficient(shrinkage / 100)
    assert ours == pytest.approx(printed, abs=0.5e-5)  # to the printed digit


def test_coefficients_of_the_table_follow_from_its_shrinkage() -> None:
    # Here table 13-5 stands beside a shrinkage from another sample; the table is on the safe side.
    apart = {"white-oak", "mahogany", "african-mahogany", "iroko", "teak", "acetylated-pine"}
    for row in load().wood.values():
        if row.key in apart:
            continue
        for movement, shrinkage in (
            (row.movement_radial, row.shrinkage_radial),
            (row.movement_tangential, row.shrinkage_tangential),
        ):
            ours = moisture.movement_coefficient(shrinkage, row.fibre_saturation)
            assert ours == pytest.approx(movement, abs=0.6e-5), row.key


def test_the_handbooks_white_fir_board() -> None:
    """P. 13-17: flat-sawn, 232 mm (9.15 in.) at 8 %, to 11 %: 1.7 mm (0.067 in.) wider."""
    change = 1000 * moisture.dimensional_change(
        size_m=0.232, coefficient_per_percent=0.00245, moisture_from=0.08, moisture_to=0.11
    )
    assert change == pytest.approx(1.7, abs=0.05)  # to the printed digit
    in_inches = moisture.dimensional_change(9.15, 0.00245, 0.08, 0.11)
    assert in_inches == pytest.approx(0.067, abs=0.0005)
    # By eq. 13-3 from its 7.0 % shrinkage (table 4-3) it is the same within the printed digit.
    whole = moisture.dimensional_change_from_shrinkage(232, 0.070, 0.08, 0.11)
    assert whole == pytest.approx(change, abs=0.05)


def test_a_flooring_trade_example() -> None:
    """A 5 in. board with C = 0.00129, from 6 to 9 %: 0.019 in. (flooring trade lists)."""
    assert moisture.dimensional_change(5, 0.00129, 0.06, 0.09) == pytest.approx(0.019, abs=0.0005)


@pytest.mark.parametrize(
    ("dimension", "movement", "shrinkage", "start", "end"),
    [
        (50.8, 0.00212, 0.061, 0.08, 0.14),
        (44.45, 0.00263, 0.075, 0.10, 0.14),
        (150, 0.00165, 0.048, 0.14, 0.08),
        (100, 0.00274, 0.078, 0.06, 0.10),
    ],
)
def test_the_two_equations_agree(
    dimension: float, movement: float, shrinkage: float, start: float, end: float
) -> None:
    short = moisture.dimensional_change(dimension, movement, start, end)
    whole = moisture.dimensional_change_from_shrinkage(dimension, shrinkage, start, end)
    # Eq. 13-2 takes the dimension at 10 %, eq. 13-3 where it is: up to 1.3 % apart from 6 to 14 %.
    assert short == pytest.approx(whole, rel=0.013)


def test_no_movement_above_fibre_saturation() -> None:
    assert moisture.dimensional_change_from_shrinkage(100, 0.07, 0.30, 0.45) == 0
    dry = moisture.dimensional_change_from_shrinkage(100, 0.07, 0.40, 0.0)
    assert dry == pytest.approx(-7.0, abs=1e-9)


# Eq. 13-2 and 13-3 by hand, mm; the member, its size, coefficient, shrinkage and the two moisture
# contents [%].
@pytest.mark.parametrize(
    ("size", "movement", "shrinkage", "start", "end", "short", "whole"),
    [
        (50.80, 0.00212, 6.1, 8, 14, 0.6462, 0.6488),  # eastern white pine stile, flat
        (50.80, 0.00071, 2.1, 8, 14, 0.2164, 0.2167),  # the same, quarter
        (76.20, 0.00216, 6.2, 9, 13, 0.6584, 0.6585),  # ponderosa pine rail, flat
        (44.45, 0.00263, 7.5, 10, 14, 0.4676, 0.4679),  # longleaf pine stile, flat
        (150.0, 0.00165, 4.8, 14, 8, -1.4850, -1.4778),  # Douglas-fir sill, quarter
        (57.00, 0.00158, 4.6, 8, 12, 0.3602, 0.3618),  # sapele stile, quarter
    ],
)
def test_members_by_hand(
    size: float,
    movement: float,
    shrinkage: float,
    start: float,
    end: float,
    short: float,
    whole: float,
) -> None:
    ours = moisture.dimensional_change(size / 1000, movement, start / 100, end / 100)
    assert 1000 * ours == pytest.approx(short, abs=0.5e-4)  # to the digit worked out
    ours = moisture.dimensional_change_from_shrinkage(
        size / 1000, shrinkage / 100, start / 100, end / 100
    )
    assert 1000 * ours == pytest.approx(whole, abs=0.5e-4)


def test_redcedar_from_its_own_fibre_saturation() -> None:
    ours = moisture.dimensional_change_from_shrinkage(90, 0.05, 0.12, 0.07, fibre_saturation=0.22)
    assert ours == pytest.approx(-1.0465, abs=0.5e-4)  # eq. 13-3 by hand with 22 in place of 30


def test_rule_of_thumb() -> None:
    """American Wood Council: about 1 % across the grain for each 4 % of moisture content."""
    movements = [
        (row.movement_radial + row.movement_tangential) / 2
        for row in load().wood.values()
        if row.moisture_ratio == 1
    ]
    # A rule to one digit, for all woods.
    assert 4 * sum(movements) / len(movements) == pytest.approx(0.01, abs=0.003)
