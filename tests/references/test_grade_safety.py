"""Escape, guarding and safety glass against the codes' own figures.

Sources: International Residential Code 2021 (R308, R310, R312) and 2024 (R319, R321, R324), International
Building Code 2024 (1015.8, 1031.3, 2406.4), International Existing Building Code 2024 (402.1, 1202.2), as
adopted by several states and printed with both units; Approved Document B volume 1, 2.10 and Approved
Document K (2013), diagram 3.1 and section 5, for England; 16 CFR 1201 for the impact categories.
"""

from __future__ import annotations

import pytest

from sashwright.chapters.grade.safety_codes import (
    ESCAPE,
    FALL,
    GRADE_FLOOR,
    KEPT,
    LARGE_PANE,
    SMALL_PANE,
    SQUARE_FOOT,
    Code,
    PaneAt,
    Spot,
    escape_faults,
    guarding_due,
    hazardous,
    impact_class,
)
from sashwright.chapters.grade.safety_work import FORCES, LEAD_UNTIL
from sashwright.units import INCH
from sashwright.window.use import Use

IRC = ESCAPE["IRC"]


@pytest.mark.parametrize(
    ("ours", "printed", "step"),
    [
        # IRC R310.2.1: 5.7 square feet (0.530 m2), grade floor 5.0 square feet (0.465 m2).
        (IRC.area, 0.530, 0.001),
        (IRC.grade_area, 0.465, 0.001),
        # R310.2.2: 24 inches (610 mm) high, 20 inches (508 mm) wide.
        (IRC.height, 0.610, 0.001),
        (IRC.width, 0.508, 0.001),
        # R310.2.3: 44 inches (1118 mm) above the floor.
        (IRC.sill, 1.118, 0.001),
        # Chapter 2, grade floor opening: 44 inches (1118 mm) above or below the ground.
        (GRADE_FLOOR, 1.118, 0.001),
        # R312.2: 24 inches (610 mm), 72 inches (1829 mm), a sphere of 4 inches (102 mm).
        (FALL["IRC"].floor, 0.610, 0.001),
        (FALL["IRC"].drop, 1.829, 0.001),
        (FALL["IRC"].ball, 0.102, 0.001),
        # IBC 1015.8: 36 inches (915 mm as printed there), 72 inches (1829 mm).
        (FALL["IBC"].floor, 0.915, 0.001),
        (FALL["IBC"].drop, 1.829, 0.001),
        # R308.4.3: 9 square feet (0.836 m2).
        (LARGE_PANE, 0.836, 0.001),
        # Approved Document B: 0.33 m2, 450 mm, 1100 mm.
        (ESCAPE["England"].area, 0.33, 1e-9),
        (ESCAPE["England"].width, 0.45, 1e-9),
        (ESCAPE["England"].height, 0.45, 1e-9),
        (ESCAPE["England"].sill, 1.1, 1e-9),
        # Approved Document K: guarding to 800 mm at opening windows; 100 mm ball (3.3), small panes (5.3).
        (FALL["England"].floor, 0.8, 1e-9),
        (FALL["England"].ball, 0.1, 1e-9),
        (SMALL_PANE[0], 0.25, 1e-9),
        (SMALL_PANE[1], 0.5, 1e-9),
        # From memory: Approved Document K, a drop of more than 600 mm in dwellings.
        (FALL["England"].drop, 0.6, 1e-9),
    ],
)
def test_printed_figures(ours: float, printed: float, step: float) -> None:
    assert ours == pytest.approx(printed, abs=step)


def test_a_kept_window() -> None:
    """IRC 2021 R310.7.1: 4 square feet, 22 inches high, 20 inches wide."""
    kept = KEPT["IRC"]
    assert kept is not None
    assert kept.area == pytest.approx(0.3716, abs=0.0001)
    assert (kept.height, kept.width) == pytest.approx((0.559, 0.508), abs=0.001)


@pytest.mark.parametrize(
    ("width", "height", "sill", "grade", "short_in"),
    [
        (30, 24.5, 36, False, {"area"}),
        (30, 24.5, 36, True, set()),
        (34, 24.25, 40, False, set()),
        (20, 41.1, 30, False, set()),
        (36, 23.5, 30, False, {"height"}),
        (34, 24.25, 44.5, False, {"sill"}),
        (20, 24, 30, True, {"area"}),
        (19.5, 48, 30, False, {"width"}),
    ],
)
def test_ways_out(
    width: float, height: float, sill: float, grade: bool, short_in: set[str]
) -> None:
    """Openings in inches, judged by hand from IRC R310.2."""
    for code in ("IRC", "IBC"):
        faults = escape_faults(
            ESCAPE[code], width * INCH, height * INCH, sill * INCH, grade
        )  # fmt: skip
        assert {name for name, broken in faults.items() if broken} == short_in


@pytest.mark.parametrize(
    ("width", "height", "enough"),
    [(0.450, 0.735, True), (0.450, 0.730, False), (0.500, 0.700, True)],
)
def test_english_ways_out(width: float, height: float, enough: bool) -> None:
    """Approved Document B: 450 mm wide wants 735 mm of height."""
    faults = escape_faults(ESCAPE["England"], width, height, 0.9, None)
    assert any(faults.values()) is not enough


@pytest.mark.parametrize(
    ("code", "sill", "drop", "due"),
    [
        ("IRC", 22, 84, True),
        ("IRC", 24.0, 120, False),
        ("IRC", 20, 60, False),
        ("IRC", 30, 200, False),
        ("IBC", 30, 200, True),
        ("IBC", 36, 200, False),
    ],
)
def test_guarding(code: Code, sill: float, drop: float, due: bool) -> None:
    """Sash that open 20 in, judged by hand from IRC R312.2 and IBC 1015.8."""
    assert guarding_due(FALL[code], sill * INCH, drop * INCH, 20 * INCH) is due


@pytest.mark.parametrize(
    ("width", "height", "bottom", "use", "place", "category"),
    [
        # 10.5 ft2, from 12 to 54 in, people walking 24 in away.
        (36, 42, 12, Use(walking_surface=24 * INCH), "low window", "II"),
        # The same opening in six lites of 12 by 20 in.
        (12, 20, 12, Use(walking_surface=24 * INCH), None, ""),
        # 8.33 ft2 from 10 in up.
        (30, 40, 10, Use(walking_surface=24 * INCH), None, ""),
        # 6 ft2, 20 in beside a door, from 30 in up.
        (24, 36, 30, Use(door=20 * INCH), "beside a door", "I"),
        # A bath's window, from 40 in over the tub's floor, 30 in from the water.
        (24, 36, 40, Use(water=30 * INCH), "wet room", "II"),
        # The first behind a rail.
        (36, 42, 12, Use(walking_surface=24 * INCH, bar=True), None, ""),
        # On a stair's landing, from 30 in up, 20 in away.
        (24, 36, 30, Use(stair=20 * INCH), "stair", "II"),
    ],
)
def test_glass_in_hazardous_places(
    width: float, height: float, bottom: float, use: Use, place: Spot | None, category: str
) -> None:
    """Panes in inches, judged by hand from IRC R308.4.2, .3, .5 and .6 and table R308.3.1(1)."""
    pane = PaneAt(
        width * INCH,
        height * INCH,
        width * height * INCH**2,
        bottom * INCH,
        (bottom + height) * INCH,
        0.003,
    )
    there = [spot for spot, found in hazardous("IRC", pane, use).items() if found]
    assert there == ([] if place is None else [place])
    if place is not None:
        assert impact_class("IRC", place, pane) == f"16 CFR 1201 category {category}"


def test_square_foot() -> None:
    assert pytest.approx(0.09290304, abs=1e-12) == SQUARE_FOOT


def test_years_and_forces() -> None:
    """40 CFR 745: target housing is from before 1978. Forces in lbf, from memory: 30, 35, 40, 45."""
    assert LEAD_UNTIL["IRC"] == 1978
    assert list(FORCES.values()) == pytest.approx(
        [pounds * 4.4482216 for pounds in (30, 35, 40, 45)], rel=0.012
    )
