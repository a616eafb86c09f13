"""Rests, lives and rounds against what the trade has in print.

The figures on the right are the sources'; a range is met where ours lies in it.
"""

from __future__ import annotations

import pytest

from sashwright.chapters.keep.exposure import RAIN, SUN, Exposure
from sashwright.chapters.make.stages import PAINT_BELOW
from sashwright.knowledge.load import load

KNOWLEDGE = load()
STAGE = KNOWLEDGE.stage
UPKEEP = KNOWLEDGE.upkeep
TASK = KNOWLEDGE.task


@pytest.mark.parametrize(
    ("row", "least", "most", "source"),
    [
        # Restorers, in a builders' magazine of 2025: ordinary paints wait five to seven days until the
        # putty is firm; linseed-oil paint goes on at once.
        ("putty-linseed", 5, 7, "builders' magazine"),
        ("putty-linseed-paint", 0, 0, "builders' magazine"),
        # A glazier's note on rapid compounds: set two days, painted on the third.
        ("putty-modified", 2, 3, "common practice"),
        # The same article: first coat of linseed-oil paint dry after 24 hours, later ones after about 48.
        ("primer-linseed", 1, 2, "builders' magazine"),
        # General guides: oil-based primers dry 24 hours or more.
        ("primer", 1, 1, "common practice"),
        # Makers of epoxy for wood and of waterproof glue: 24 hours at room temperature.
        ("epoxy", 1, 1, "common practice"),
        ("consolidant", 1, 3, "common practice"),
        ("glue", 1, 1, "common practice"),
    ],
)
def test_rests(row: str, least: float, most: float, source: str) -> None:
    assert least <= STAGE[row].least_days <= most, source


def test_putty_in_the_cold_is_not_late_before_it_can_be_painted() -> None:
    """Two to three weeks in cold weather (shop practice): the board must not cry late before that."""
    late = STAGE["putty-linseed"].late_days
    assert late is not None
    assert late >= 21


@pytest.mark.parametrize(
    ("task", "stage"),
    [
        ("reglaze", "putty-linseed"), ("prime-sash", "primer"), ("splice", "glue"),
        ("consolidate", "consolidant"), ("epoxy-fill", "epoxy"), ("dry-out", "wood-drying"),
    ],
)  # fmt: skip
def test_rests_agree_with_the_days_that_the_price_reckons_with(task: str, stage: str) -> None:
    """What a task dries by the task table lies between the first day and the one that counts as late."""
    row = STAGE[stage]
    late = row.late_days or 14
    assert row.least_days <= TASK[task].dry_days <= late


def test_paint_goes_on_dry_wood() -> None:
    """Below 15 % by the meter (British splice repairs; general guides to painting wood)."""
    assert PAINT_BELOW == 15


@pytest.mark.parametrize(
    ("row", "years", "source"),
    [
        ("inspect", 1, "preservation trusts: every year"),
        ("sill", 2, "GSA Historic Preservation Technical Procedures: sills every two years"),
        (
            "survey",
            5,
            "National Park Service, From the Roof Down ... and Skin Deep: every five years",
        ),
    ],
)
def test_rounds(row: str, years: float, source: str) -> None:
    assert UPKEEP[row].years == years, source


def test_preservative_again_after_three_to_five_years() -> None:
    """Naphthenate preservatives, a newspaper's building column of 1988: again every 3 to 5 years."""
    assert (UPKEEP["oil"].years_low, UPKEEP["oil"].years_high) == (3, 5)


def test_outside_paint_lasts_what_is_said_of_windows() -> None:
    """3 to 5 years on exposed windows in print, 5 to 8 usual: the hardest and the plain wall lie there."""
    life = KNOWLEDGE.measure["paint"].life_years
    hardest = Exposure(1 - SUN, RAIN["driving rain"], 0.9, 1.0).factor(covered=True) * life
    assert 3 <= hardest <= 5
    assert 5 <= life <= 8


def test_chain_outlasts_cord() -> None:
    """Cotton cord 20 to 40 years, chain more than 50 (shop practice)."""
    cord, chain = KNOWLEDGE.measure["cord"], UPKEEP["chain"]
    assert 20 <= cord.life_years <= 40
    assert chain.years is not None
    assert chain.years > 50
