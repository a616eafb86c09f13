"""Glass plans: lites in place, broken from edge to edge, nothing too narrow to break off."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.glass_plan import CutSheet, GlassPlan, PlacedLite
from sashwright.chapters.make.glass_sheets import Lite, Sheet, Table, cut_glass

HAIR = 1e-6
Rectangle = tuple[float, float, float, float]


def budget(seconds: float = 0.4) -> Budget:
    return Budget(seconds, time.monotonic)


def breaks(where: Rectangle, lites: Sequence[PlacedLite], least: float, kerf: float) -> bool:
    """Whether breaks from edge to edge free every lite, and break off nothing narrower than ``least``."""
    left, low, right, high = where
    if min(right - left, high - low) < least - HAIR:
        return False
    if not lites:
        return True
    if len(lites) == 1:
        (lite,) = lites
        size = (lite.width, lite.height)
        if size == pytest.approx((right - left, high - low), abs=HAIR):
            return True
    for upright in (True, False):
        start, end = (left, right) if upright else (low, high)
        spans = [(p.x, p.x + p.width) if upright else (p.y, p.y + p.height) for p in lites]
        edges = {high_ for _, high_ in spans} | {low_ - kerf for low_, _ in spans}
        for cut in sorted(edges):
            if cut <= start + HAIR or cut + kerf >= end - HAIR:
                continue
            near = [p for p, (_, far) in zip(lites, spans, strict=True) if far <= cut + HAIR]
            beyond = [
                p for p, (first, _) in zip(lites, spans, strict=True) if first >= cut + kerf - HAIR
            ]
            if len(near) + len(beyond) < len(lites):
                continue
            one = (left, low, cut, high) if upright else (left, low, right, cut)
            other = (cut + kerf, low, right, high) if upright else (left, cut + kerf, right, high)
            if breaks(one, near, least, kerf) and breaks(other, beyond, least, kerf):
                return True
            # A cut that parts lites and harms none never needs to be taken back, unless a rest of it
            # is too narrow; then another is tried.
    return False


def check(plan: GlassPlan, lites: Sequence[Lite], sheets: Sequence[Sheet], table: Table) -> None:
    cut = Counter(p.label for s in plan.sheets for p in s.lites)
    for each in plan.missing:
        cut[each.lite.label] += each.count
    assert +cut == +Counter({lite.label: lite.count for lite in lites})
    used = Counter(s.sheet.label for s in plan.sheets)
    assert all(s.count is None or used[s.label] <= s.count for s in sheets)
    asked = {lite.label: lite for lite in lites}
    for sheet in plan.sheets:
        check_sheet(sheet, asked, table)
    if plan.bound is not None:
        assert plan.area_bound <= plan.cost + 1e-3
        assert plan.bound <= plan.cost + HAIR
        assert plan.cost <= plan.first_fit_cost + HAIR


def check_sheet(cut: CutSheet, asked: dict[str, Lite], table: Table) -> None:
    sheet, trim = cut.sheet, cut.sheet.trim
    for place in cut.lites:
        lite = asked[place.label]
        assert lite.glass == sheet.glass
        assert lite.turns or not place.turned
        size = (lite.height, lite.width) if place.turned else (lite.width, lite.height)
        assert (place.width, place.height) == pytest.approx(size)
        assert place.x >= trim - HAIR
        assert place.y >= trim - HAIR
        assert place.x + place.width <= sheet.width - trim + HAIR
        assert place.y + place.height <= sheet.height - trim + HAIR
    for at, one in enumerate(cut.lites):
        for other in cut.lites[at + 1 :]:
            assert (
                one.x + one.width <= other.x + HAIR
                or other.x + other.width <= one.x + HAIR
                or one.y + one.height <= other.y + HAIR
                or other.y + other.height <= one.y + HAIR
            )
    whole = (0.0, 0.0, sheet.width, sheet.height)
    assert breaks(whole, cut.lites, table.least_strip, table.kerf)


mm = st.integers(120, 800).map(lambda n: n / 1000)
some_lites = st.lists(
    st.tuples(mm, mm, st.integers(1, 4), st.booleans()), min_size=1, max_size=6
).map(
    lambda rows: [
        Lite(f"{at}", width, height, "old", count, turns)
        for at, (width, height, count, turns) in enumerate(rows)
    ]
)
some_sheets = st.lists(
    st.tuples(
        st.integers(300, 1600),
        st.integers(300, 1600),
        st.sampled_from([None, 0, 1, 2]),
        st.booleans(),
    ),
    min_size=1,
    max_size=4,
).map(
    lambda rows: [
        Sheet(f"{at}", width / 1000, height / 1000, "old", count, None, 0.012 if trimmed else 0.0)
        for at, (width, height, count, trimmed) in enumerate(rows)
    ]
)


@given(some_lites, some_sheets, st.sampled_from([0.0, 0.002]))
@settings(max_examples=40, deadline=None)
def test_every_plan_can_be_broken(lites: list[Lite], sheets: list[Sheet], kerf: float) -> None:
    table = Table(least_strip=0.010, kerf=kerf)
    plan = cut_glass(lites, sheets, budget(0.15), table)
    assert plan.exact
    check(plan, lites, sheets, table)


def test_the_check_finds_a_pinwheel() -> None:
    # Four lites round a hole: no break goes from edge to edge.
    wheel = [(0.0, 0.0, 2.0, 1.0), (2.0, 0.0, 1.0, 2.0), (1.0, 2.0, 2.0, 1.0), (0.0, 1.0, 1.0, 2.0)]
    lites = [PlacedLite("", x, y, w, h, turned=False, arched=False) for x, y, w, h in wheel]
    assert not breaks((0, 0, 3, 3), lites, 0.01, 0.0)
    assert breaks((0, 0, 3, 3), lites[:2], 0.01, 0.0)


def test_the_check_finds_a_sliver() -> None:
    lites = [PlacedLite("a", 0.0, 0.0, 0.995, 1.0, False, False)]
    assert not breaks((0, 0, 1, 1), lites, 0.01, 0.0)
    assert breaks((0, 0, 1, 1), lites, 0.004, 0.0)


def sheet(width: float, height: float, count: int | None = None, trim: float = 0.0) -> Sheet:
    return Sheet(f"{width:g} x {height:g} {count}", width, height, "old", count, None, trim)


def test_a_full_sheet_has_no_waste() -> None:
    lites = [Lite("a", 0.3, 0.4, "old", 8)]
    plan = cut_glass(lites, [sheet(1.2, 0.8)], budget())
    assert len(plan.sheets) == 1
    assert plan.glass_yield == pytest.approx(1)
    assert plan.proven


def test_what_would_leave_a_sliver_goes_elsewhere() -> None:
    lites = [Lite("a", 0.3, 0.495, "old", 2, turns=False)]
    # 0.495 of 0.5 leaves 5 mm, which does not break off; the larger pane must be taken.
    plan = cut_glass(lites, [sheet(0.6, 0.5, 1), sheet(0.9, 0.9, 1)], budget())
    assert [s.sheet.width for s in plan.sheets] == [0.9]
    loose = cut_glass(lites, [sheet(0.6, 0.5, 1), sheet(0.9, 0.9, 1)], budget(), Table(0.005))
    assert [s.sheet.width for s in loose.sheets] == [0.6]


def test_old_glass_does_not_turn() -> None:
    lites = [Lite("a", 0.3, 0.9, "old", turns=False)]
    plan = cut_glass(lites, [sheet(1.0, 0.5, 1)], budget())
    assert plan.missing[0].why == "larger than every sheet of its glass"
    (turned,) = cut_glass([Lite("a", 0.3, 0.9, "old")], [sheet(1.0, 0.5, 1)], budget()).sheets
    assert turned.lites[0].turned


def test_an_old_pane_is_used_before_glass_is_bought() -> None:
    pane = Sheet("old pane", 0.5, 0.6, "old", 1, 0.0)
    plan = cut_glass([Lite("a", 0.4, 0.5, "old", 2)], [sheet(1.0, 1.0), pane], budget())
    assert Counter(s.sheet.label for s in plan.sheets)["old pane"] == 1
    assert plan.bought == {"1 x 1 None": 1}


def test_like_lites_lie_one_beside_the_other_across_a_strip() -> None:
    # The strip is as wide as the tall lite; beside it stand two low ones, one over the other.
    lites = [
        Lite("tall", 0.5, 0.8, "old", turns=False),
        Lite("low", 0.5, 0.4, "old", 2, turns=False),
    ]
    plan = cut_glass(lites, [sheet(1.0, 0.8)], budget())
    assert len(plan.sheets) == 1
    check(plan, lites, [sheet(1.0, 0.8)], Table())


def test_sheets_that_do_not_suffice() -> None:
    plan = cut_glass([Lite("a", 0.4, 0.5, "old", 3)], [sheet(0.5, 0.6, 2)], budget())
    assert (len(plan.sheets), plan.missing[0].count, plan.bound) == (2, 1, None)


@pytest.mark.parametrize(
    ("lite", "pane", "says"),
    [
        (Lite("a", 0.005, 0.3, "old"), sheet(1, 1), "expected sides of at least 0.01 m"),
        (Lite("a", 0.3, 0.3, "old"), sheet(1, 1, trim=0.004), "breaks off cleanly"),
        (Lite("a", 0.3, 0.3, "old"), sheet(-1, 1), "expected sides above 0"),
    ],
)
def test_senseless_sizes_are_refused(lite: Lite, pane: Sheet, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        cut_glass([lite], [pane], budget())
