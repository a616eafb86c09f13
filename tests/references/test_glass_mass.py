"""Mass of glass by area: the table against figures in print, and how far they stand apart."""

from __future__ import annotations

import pytest

from sashwright.knowledge.load import load

LB_FT2 = 4.882428  # kg/m2 of 1 lb/ft2, from 1 lb = 0.45359237 kg and 1 ft = 0.3048 m
OZ_FT2 = LB_FT2 / 16


@pytest.mark.parametrize(
    ("key", "printed"),
    # MIL-HDBK-1013/12, table 30, annealed glass [kg/m2].
    [("double-strength", 7.8), ("float-1-4", 15.1)],
)
def test_military_handbook(key: str, printed: float) -> None:
    # The table takes the middle of the thickness class, the handbook a little more: 2.7 % at 6 mm.
    # The class itself is 5 to 8 % wide to each side, so this would catch a wrong class.
    assert load().glass[key].mass_per_area == pytest.approx(printed, rel=0.03)


@pytest.mark.parametrize(
    ("key", "printed", "apart"),
    # Tables for the trade [lb/ft2], at the full nominal fraction of an inch and about 157 lb/ft3.
    [
        ("double-strength", 1.64, -0.015),
        ("float-3-16", 2.45, 0.005),
        # Nominal 1/4 in is 6.35 mm, but today's class ends at 6.20 mm and its middle is 5.88 mm.
        ("float-1-4", 3.27, -0.08),
        # Old polished plate was its full thickness.
        ("plate-1-4", 3.27, -0.005),
    ],
)
def test_trade_tables(key: str, printed: float, apart: float) -> None:
    ours = load().glass[key].mass_per_area / (printed * LB_FT2) - 1
    assert ours == pytest.approx(apart, abs=0.01)


@pytest.mark.parametrize(
    ("key", "ounces"),
    # Books for the home workshop: single strength 19 oz, double 26 oz to the square foot.
    [("single-strength", 19), ("double-strength", 26)],
)
def test_ounces_of_today(key: str, ounces: float) -> None:
    # Rounded to the ounce by the books (2 to 3 %).
    assert load().glass[key].mass_per_area == pytest.approx(ounces * OZ_FT2, rel=0.03)


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        # F. E. Kidder, Building Construction and Superintendence (c. 1900), section 105: 1 and
        # 1-1/3 lb/ft2.
        ("old-sheet-single", 1.0 * LB_FT2),
        ("old-sheet-double", 4 / 3 * LB_FT2),
        # Federal master specification, 1930s: average 18-1/2 and 24-1/2 oz/ft2.
        ("drawn-sheet-single", 18.5 * OZ_FT2),
        ("drawn-sheet-double", 24.5 * OZ_FT2),
        # British ounce glass is named by its mass.
        ("sheet-21-oz", 21 * OZ_FT2),
    ],
)
def test_old_glass(key: str, printed: float) -> None:
    assert load().glass[key].mass_per_area == pytest.approx(printed, rel=0.002)  # rounding only


def test_old_sheet_is_a_fifth_lighter_than_todays_of_the_same_name() -> None:
    glass = load().glass
    lighter = glass["old-sheet-single"].mass_per_area / glass["single-strength"].mass_per_area
    assert lighter == pytest.approx(0.825, abs=0.005)


@pytest.mark.parametrize(
    ("key", "millimetres"),
    # ASTM C1036 and E1300, least thickness of each class.
    [
        ("single-strength", 2.16),
        ("float-7-64", 2.59),
        ("double-strength", 2.92),
        ("float-5-32", 3.78),
        ("float-3-16", 4.57),
        ("float-1-4", 5.56),
    ],
)
def test_least_thickness(key: str, millimetres: float) -> None:
    assert load().glass[key].thickness_min == millimetres / 1000


def test_drawn_sheet_by_panes_to_the_inch() -> None:
    """Federal master specification, 1930s: 9 to 8 double panes to the inch, 12 to 10-1/2 single."""
    glass = load().glass
    assert 25.4 / 9 <= glass["drawn-sheet-double"].thickness * 1000 <= 25.4 / 8
    assert 25.4 / 12 <= glass["drawn-sheet-single"].thickness * 1000 <= 25.4 / 10.5
