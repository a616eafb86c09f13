"""Elevations: true sizes, the right things in front, figures that say what is drawn."""

from __future__ import annotations

from collections import Counter

import pytest

from sashwright.drawing.dimensions import glass_size
from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import Dimension, Drawing, Group, Text, bounds_of, walk
from sashwright.drawing.paper import lettering_of
from sashwright.drawing.sash import View
from sashwright.units import System, format_length
from tests.drawing.scenes import INCH, NUMBERS, PLACED, groups, parts, polygons

VIEWS: tuple[View, ...] = ("outside", "inside")


def order(drawing: Drawing) -> list[str]:
    """Names of the parts at the top of a drawing, far ones first."""
    return [dict(item.data).get("part", "") for item in drawing.items if isinstance(item, Group)]


def figures(drawing: Drawing) -> Counter[str]:
    return Counter(item.text for item in walk(drawing.items) if isinstance(item, Dimension))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("number", NUMBERS)
def test_every_lite_is_drawn_once_with_its_glass(number: str, view: View) -> None:
    placed = PLACED[number]
    drawn = elevation(placed, view)
    for sash in (placed.layout.upper, placed.layout.lower):
        grid = sash.spec.lites
        assert len(parts(drawn, f"{sash.which}.lite.")) == grid.columns * grid.rows
        assert len(parts(drawn, f"{sash.which}.upright_bar.")) == grid.columns - 1


@pytest.mark.parametrize("number", NUMBERS)
def test_glass_is_drawn_where_the_layout_has_it(number: str) -> None:
    placed = PLACED[number]
    drawn = elevation(placed)
    for lite in placed.layout.upper.lites:
        (group,) = parts(drawn, f"upper.lite.{lite.column + 1}.{lite.row + 1}")
        (glass,) = polygons(group.items, "glass")
        box = bounds_of([glass])
        expected = (lite.left, lite.bottom, lite.right, lite.crown())
        # An arc is measured along sixteen straight pieces.
        assert box == pytest.approx(expected, abs=2e-4)


@pytest.mark.parametrize("number", NUMBERS)
def test_glass_sizes_are_those_that_are_cut(number: str) -> None:
    for facts in (PLACED[number].upper, PLACED[number].lower):
        lites = {(lite.column, lite.row): lite for lite in facts.layout.lites}
        for pane in facts.pieces.panes:
            size = glass_size(facts.layout, lites[pane.column, pane.row])
            assert size == pytest.approx((pane.width, pane.height))


def test_outside_the_upper_sash_covers_the_lower_and_inside_the_lower_the_upper() -> None:
    outside, inside = (order(elevation(PLACED["102"], view)) for view in VIEWS)
    assert outside.index("lower.sash") < outside.index("upper.sash")
    assert outside.index("upper.sash") < outside.index("frame.blind_stop")
    assert inside.index("upper.sash") < inside.index("lower.sash")
    assert inside.index("lower.sash") < inside.index("frame.inside_stop")


def test_from_inside_left_and_right_change_places() -> None:
    (left,) = parts(elevation(PLACED["102"], "inside"), "upper.left_stile")
    assert bounds_of([left]).left > 0
    (left,) = parts(elevation(PLACED["102"], "outside"), "upper.left_stile")
    assert bounds_of([left]).right < 0


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("number", NUMBERS)
def test_figures_say_the_sizes(number: str, system: System) -> None:
    layout = PLACED[number].layout
    sizes = [
        layout.window.width, layout.window.height, layout.lower.top, layout.upper.height,
        layout.lower.height,
    ]  # fmt: skip
    if layout.head_arc is not None:
        sizes.append(layout.head_at_side - layout.lower.top)
    expected = Counter(format_length(size, system, marks=system == "us") for size in sizes)
    assert figures(elevation(PLACED[number], "outside", system)) == expected


@pytest.mark.parametrize("number", NUMBERS)
def test_dimensions_are_as_long_as_they_say(number: str) -> None:
    for item in walk(elevation(PLACED[number], "inside").items):
        if isinstance(item, Dimension):
            axis = 0 if item.axis == "x" else 1
            drawn = abs(item.end[axis] - item.start[axis])
            assert item.text == format_length(drawn)
            assert item.title


def test_opening_moves_the_sash_and_their_figures() -> None:
    drawn = elevation(PLACED["102"], lift=(0.1, 0.25))
    (upper,) = groups(drawn, part="upper.sash")
    (lower,) = groups(drawn, part="lower.sash")
    assert upper.shift == (0.0, -0.1)
    assert lower.shift == (0.0, 0.25)
    assert dict(upper.data)["moves"] == "upper"
    shut = elevation(PLACED["102"])
    assert figures(drawn) == figures(shut)
    assert not [i for i in walk(drawn.items) if isinstance(i, Group) and i.classes == "shades"]


def test_equal_lites_are_figured_once() -> None:
    texts = [i.text for i in walk(elevation(PLACED["102"]).items) if isinstance(i, Text)]
    assert len([text for text in texts if text.endswith("×")]) == 2


def test_a_pair_shows_the_mullion_and_the_window_past_it() -> None:
    left, right = elevation(PLACED["105"]), elevation(PLACED["106"])
    (beside,) = groups(left, beside="106")
    assert bounds_of([beside]).right > PLACED["105"].window.width / 2 + 4.5 * INCH
    (beside,) = groups(right, beside="105")
    assert bounds_of([beside]).left < -PLACED["106"].window.width / 2 - 4.5 * INCH
    (leg,) = parts(left, "frame.casing.right")
    assert leg.title == "mullion casing"
    # As wide as the pulley stiles are apart, both storm rabbets taken off.
    frame = PLACED["105"].family.frame
    edge = frame.storm_rabbet_width - frame.blind_stop_projection
    apart = PLACED["105"].family.pocket.mullion + 2 * frame.pulley_stile
    width = apart - 2 * edge
    assert bounds_of([leg]).width == pytest.approx(width)


def test_words_tell_what_is_drawn() -> None:
    words = elevation(PLACED["104"]).description
    for word in ("double-hung", '30"', '70"', "arched head", "2 by 2 lites", "outside"):
        assert word in words
    assert "single-hung" in elevation(PLACED["202"]).description


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("number", NUMBERS)
def test_bounds_hold_the_whole_opening(number: str, view: View) -> None:
    window = PLACED[number].window
    bounds = elevation(PLACED[number], view, dimensions=False).bounds
    assert bounds.left <= -window.width / 2
    assert bounds.right >= window.width / 2
    assert bounds.bottom <= 0.0
    assert bounds.top >= window.height


@pytest.mark.parametrize("ratio", [6, 8, 10, 12, 14, 16, 20, 24, 32, 48])
@pytest.mark.parametrize("number", NUMBERS)
def test_a_lite_shows_both_its_sizes_or_neither(number: str, ratio: int) -> None:
    drawn = elevation(PLACED[number])
    sizes: dict[tuple[float, float], list[bool]] = {}
    for item in walk(drawn.items):
        if isinstance(item, Text) and item.room is not None:
            shown = lettering_of(item, 1000 / ratio) is not None
            sizes.setdefault(item.at, []).append(shown)
    assert sizes
    assert all(len(pair) == 2 and pair[0] == pair[1] for pair in sizes.values())
