"""The opened window: what hangs where, and what moves which way."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.model import (
    Dimension,
    Drawing,
    Group,
    Line,
    Polygon,
    Text,
    bounds_of,
    walk,
)
from sashwright.drawing.opened import EYE, opened
from sashwright.units import format_length
from sashwright.window.layout import Which
from tests.drawing.scenes import NUMBERS, PLACED, groups, hung

SASHES: tuple[Which, Which] = ("upper", "lower")


def body(drawing: Drawing, which: Which) -> tuple[float, float]:
    """Foot and head of a weight without its eye, where it now hangs."""
    (group,) = groups(drawing, part=f"{which}.weight.left")
    box = bounds_of([next(i for i in group.items if isinstance(i, Polygon))])
    return box.bottom + group.shift[1], box.top + group.shift[1]


def cords(drawing: Drawing, which: Which, run: str) -> list[Line]:
    wanted = {("cord", which), ("run", run)}
    return [i for i in walk(drawing.items) if isinstance(i, Line) and wanted <= set(i.data)]


@pytest.mark.parametrize("number", ["101", "102", "103", "104", "105", "201"])
def test_weights_hang_at_the_heights_of_the_answer(number: str) -> None:
    answer = hung(number)
    drawn = opened(PLACED[number], answer)
    for which in SASHES:
        places = answer.values[which]["positions"]
        foot, head = body(drawn, which)
        assert foot == pytest.approx(places["weight_bottom_closed_mm"] / 1000)
        assert head == pytest.approx(places["weight_top_closed_mm"] / 1000 - EYE)


def test_a_weight_moves_as_far_as_its_sash_the_other_way() -> None:
    answer = hung("102")
    shut, moved = opened(PLACED["102"], answer), opened(PLACED["102"], answer, lift=(0.15, 0.4))
    for which, up in (("upper", -0.15), ("lower", 0.4)):
        (sash,) = groups(moved, part=f"{which}.sash")
        assert sash.shift == pytest.approx((0.0, up))
        before, after = body(shut, which), body(moved, which)  # type: ignore[arg-type]
        assert after[0] - before[0] == pytest.approx(-up)


@pytest.mark.parametrize("lift", [(0.0, 0.0), (0.2, 0.35)])
def test_cord_is_neither_gained_nor_lost(lift: tuple[float, float]) -> None:
    answer = hung("102")
    for which in SASHES:
        lengths = []
        for at in ((0.0, 0.0), lift):
            drawn = opened(PLACED["102"], answer, lift=at)
            lengths.append(
                sum(
                    line.start[1] - line.end[1]
                    for run in ("sash", "weight")
                    for line in cords(drawn, which, run)
                )
            )
        assert lengths[0] == pytest.approx(lengths[1])


def test_cords_hang_from_the_pulley_to_the_knot() -> None:
    answer = hung("102")
    drawn = opened(PLACED["102"], answer)
    for which in SASHES:
        places = answer.values[which]["positions"]
        both = cords(drawn, which, "sash")
        assert len(both) == 2
        for line in both:
            assert line.start[1] == pytest.approx(places["pulley_height_mm"] / 1000)
            assert line.end[1] == pytest.approx(places["knot_height_closed_mm"] / 1000)
            away = PLACED["102"].window.width / 2 - abs(line.start[0])
            assert away == pytest.approx(places["cord_front_mm"] / 1000)


def test_everything_that_moves_says_how() -> None:
    drawn = opened(PLACED["102"], hung("102"))
    for which in SASHES:
        moving = groups(drawn, moves=which)
        signs = sorted(dict(group.data)["sign"] for group in moving)
        # Two weights against the sash and two knots; the lower sash carries its hardware along.
        assert signs == ["-1", "-1", *["1"] * (4 if which == "lower" else 3)]
    assert drawn.live


def test_clearances_and_travel_are_figured() -> None:
    answer = hung("102")
    drawn = opened(PLACED["102"], answer)
    found = {i.title: i.text for i in walk(drawn.items) if isinstance(i, Dimension)}
    for which in SASHES:
        values, places = answer.values[which], answer.values[which]["positions"]
        low = min(places["weight_bottom_closed_mm"], places["weight_bottom_open_mm"])
        above = found[f"{which} sash: from the weight up to its pulley"]
        below = found[f"{which} sash: from the weight down to the floor"]
        travel = found[f"travel of the {which} sash's weight"]
        assert above == format_length(PLACED["102"].family.hanging.top_clearance)
        assert below == format_length((low - places["pocket_floor_mm"]) / 1000)
        assert travel == f"travel {format_length(values['travel_mm'] / 1000)}"


def test_a_low_pocket_floor_is_figured() -> None:
    drawn = opened(PLACED["201"], hung("201"))
    titles = [i.title for i in walk(drawn.items) if isinstance(i, Dimension)]
    assert titles.count("pocket floor below the sill") == 2


def test_a_clearance_that_is_too_short_is_said_in_red() -> None:
    answer = hung("102")
    values: dict[str, Any] = {which: dict(answer.values[which]) for which in SASHES}
    places = dict(values["lower"]["positions"])
    places["pocket_floor_mm"] = places["weight_bottom_open_mm"] - 20
    values["lower"]["positions"] = places
    drawn = opened(PLACED["102"], WindowAnswer("102", values))
    short = [i for i in walk(drawn.items) if isinstance(i, Dimension) and i.pen == "pencil"]
    assert [item.text for item in short] == ['13/16" short']


def test_both_ends_of_the_travel_are_seen() -> None:
    drawn = opened(PLACED["102"], hung("102"))
    ghosts = [i for i in walk(drawn.items) if isinstance(i, Group) and i.classes == "other-end"]
    assert len(ghosts) == 4
    assert all(group.hidden for group in ghosts)


@pytest.mark.parametrize(
    "answer",
    [
        None,
        WindowAnswer("102", {}),
        WindowAnswer("102", {"upper": None, "lower": None}),
        WindowAnswer("102", {"upper": {"weight_shape": None}, "lower": {"positions": {}}}),
    ],
)
def test_without_weights_the_window_is_drawn_all_the_same(answer: WindowAnswer | None) -> None:
    drawn = opened(PLACED["102"], answer)
    assert not [i for i in walk(drawn.items) if isinstance(i, Line) and i.data]
    assert len(groups(drawn, part="frame.pulley.left")) == 1


def test_a_weight_that_does_not_fit_is_said_in_red() -> None:
    values: dict[str, Any] = {"upper": None, "lower": {"weight_shape": None, "positions": {}}}
    drawn = opened(PLACED["102"], WindowAnswer("102", values))
    said = [i.text for i in walk(drawn.items) if isinstance(i, Text) and i.pen == "pencil-note"]
    assert "no weight fits" in said


def test_a_fixed_sash_is_said_to_be_fixed() -> None:
    drawn = opened(PLACED["202"], hung("202"))
    texts = [i.text for i in walk(drawn.items) if isinstance(i, Text)]
    assert "upper sash fixed" in texts
    assert not cords(drawn, "upper", "sash")


@pytest.mark.parametrize("number", NUMBERS)
def test_a_shared_pocket_is_as_wide_as_the_mullion_leaves(number: str) -> None:
    placed = PLACED[number]
    drawn = opened(placed, hung(number))
    shared = {"105": "right", "106": "left"}.get(number)
    for side in ("left", "right"):
        (pocket,) = groups(drawn, part=f"frame.pocket.{side}")
        across = placed.family.pocket.across
        if side == shared:
            across = placed.family.pocket.mullion
        assert bounds_of([pocket]).width == pytest.approx(across)
