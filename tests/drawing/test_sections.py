"""Sections: the true shape of every member, and the weights where they hang."""

from __future__ import annotations

import math

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.model import (
    Arc,
    Callouts,
    Dimension,
    Drawing,
    Group,
    bounds_of,
    flattened,
    walk,
)
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.units import format_length
from sashwright.window.layout import SashLayout
from sashwright.window.outlines.frame_edges import FrameEdges, hanging_depth
from sashwright.window.outlines.glazed import glazed
from tests.drawing.scenes import (
    INCH,
    KNOWLEDGE,
    NUMBERS,
    PLACED,
    area,
    hung,
    parts,
    polygons,
)


def section_area(drawing: Drawing, name: str) -> float:
    """Area of the one cut piece of wood of a part [m2]."""
    (group,) = parts(drawing, name)
    (piece,) = polygons(group.items, "wood")
    return area(flattened(piece.points))


def chamfer(sash: SashLayout, width: float) -> float:
    """Area of a member before its glazed edge is taken away [m2]."""
    return width * sash.thickness - sash.profile.removed


# Curves are drawn as eight straight pieces each.
DRAWN = 1.5e-6
"""Difference that makes to the area of a member [m2]."""


@pytest.mark.parametrize("number", NUMBERS)
def test_rails_have_the_area_they_are_weighed_with(number: str) -> None:
    layout = PLACED[number].layout
    upper, lower = layout.upper, layout.lower
    drawn = vertical_section(PLACED[number])
    top = section_area(drawn, "upper.top_rail")
    assert top == pytest.approx(chamfer(upper, upper.top_rail), abs=DRAWN)
    bevel = lower.bevel * lower.thickness**2 / 2
    bottom = section_area(drawn, "lower.bottom_rail")
    assert bottom == pytest.approx(chamfer(lower, lower.bottom_rail) - bevel, abs=DRAWN)


def test_bars_have_the_area_they_are_weighed_with() -> None:
    layout = PLACED["102"].layout
    width = layout.lower.spec.muntin
    expected = width * layout.lower.thickness - 2 * layout.lower.profile.removed
    upright = section_area(vertical_section(PLACED["102"]), "lower.cross_bars")
    level = section_area(horizontal_section(PLACED["102"]), "lower.upright_bar")
    assert upright == pytest.approx(expected, abs=2 * DRAWN)
    assert level == pytest.approx(expected, abs=2 * DRAWN)


def test_stiles_have_their_profile_and_the_cord_groove() -> None:
    layout = PLACED["102"].layout
    hanging, upper = layout.family.hanging, layout.upper
    groove = hanging.cord_groove_width * hanging.cord_groove_depth
    drawn = horizontal_section(PLACED["102"])
    stile = section_area(drawn, "upper.right_stile")
    assert stile == pytest.approx(chamfer(upper, upper.spec.stile) - groove, abs=DRAWN)


@pytest.mark.parametrize("number", NUMBERS)
def test_closing_faces_lie_side_by_side_at_their_gap(number: str) -> None:
    """Across their slope the two meeting rails are as far apart as the family says."""
    placed = PLACED[number]
    meeting = placed.family.meeting
    drawn = vertical_section(placed)
    (upper,) = parts(drawn, "upper.meeting_rail")
    (lower,) = parts(drawn, "lower.meeting_rail")
    (inner,) = polygons(upper.items, "wood")
    (outer,) = polygons(lower.items, "wood")
    near = max(inner.points, key=lambda v: v.x)
    far = min(outer.points, key=lambda v: v.x)
    slope = math.tan(math.radians(meeting.bevel))
    # The lower sash's face where the upper one's foot is.
    level = far.x + (far.y - near.y) * slope
    assert level - near.x == pytest.approx(meeting.gap, abs=1e-9)


def test_glass_is_as_thick_as_the_table_says_and_leaves_the_bed() -> None:
    sash = PLACED["102"].layout.lower
    glass = glazed(sash, KNOWLEDGE)
    row = KNOWLEDGE.glass["double-strength"]
    assert glass.panes[0][1] - glass.panes[0][0] == pytest.approx(row.thickness)
    assert sash.spec.rabbet_depth - glass.back == pytest.approx(sash.spec.glazing.bed)
    assert glass.rabbet - glass.lap == pytest.approx(sash.spec.glazing.clearance)


@pytest.mark.parametrize("number", NUMBERS)
def test_broken_and_whole_height_show_the_same_rails(number: str) -> None:
    broken = vertical_section(PLACED[number])
    whole = vertical_section(PLACED[number], broken=False)
    for name in ("upper.top_rail", "upper.meeting_rail", "lower.bottom_rail"):
        assert section_area(broken, name) == pytest.approx(section_area(whole, name))
    assert broken.bounds.height < whole.bounds.height
    assert whole.bounds.height > PLACED[number].window.height


def test_a_broken_dimension_tells_the_true_length() -> None:
    drawn = vertical_section(PLACED["102"])
    (height,) = [
        item for item in walk(drawn.items)
        if isinstance(item, Dimension) and item.title == "height of the sash opening"
    ]  # fmt: skip
    assert height.text == format_length(66 * INCH)
    assert height.end[1] - height.start[1] < 66 * INCH


def test_labels_can_be_left_out() -> None:
    for labels, count in ((True, 1), (False, 0)):
        for drawn in (
            vertical_section(PLACED["102"], labels=labels),
            horizontal_section(PLACED["102"], labels=labels),
        ):
            found = [item for item in walk(drawn.items) if isinstance(item, Callouts)]
            assert len(found) == count


def test_callouts_name_the_parts() -> None:
    drawn = horizontal_section(PLACED["102"], hung("102"))
    (found,) = [item for item in walk(drawn.items) if isinstance(item, Callouts)]
    names = {name for _, name in found.notes}
    assert {"pulley stile", "parting bead", "inside stop", "blind stop", "weight pocket"} <= names
    assert {"upper sash's weight", "lower sash's weight", "pendulum"} <= names


# --- weights --------------------------------------------------------------------------------------


def weights(drawing: Drawing) -> list[Group]:
    return [
        item for item in walk(drawing.items)
        if isinstance(item, Group) and ".weight." in dict(item.data).get("part", "")
    ]  # fmt: skip


@pytest.mark.parametrize("number", ["101", "102", "201"])
def test_weights_hang_behind_the_pulley_stile_over_their_sash(number: str) -> None:
    placed, answer = PLACED[number], hung(number)
    drawn = horizontal_section(placed, answer, broken=False, side="right")
    found = {dict(g.data)["part"].split(".")[0]: g for g in weights(drawn)}
    assert found.keys() == {"upper", "lower"}
    for which in ("upper", "lower"):
        values = answer.values[which]
        box = bounds_of(found[which].items)
        x = placed.window.width / 2 + placed.family.frame.pulley_stile
        x += values["positions"]["weight_offset_mm"] / 1000
        z = hanging_depth(placed.layout.sash(which))
        middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        assert middle == pytest.approx((x, z))
        assert box.width == pytest.approx(values["weight_size_mm"] / 1000)
        if values["weight_shape"] == "round":
            assert isinstance(found[which].items[0], Arc)


def test_a_fixed_sash_has_no_weight() -> None:
    names = [dict(g.data)["part"] for g in weights(horizontal_section(PLACED["202"], hung("202")))]
    assert names == ["lower.weight.right"]


def test_without_an_answer_the_pocket_is_empty() -> None:
    assert not weights(horizontal_section(PLACED["102"]))
    nothing = WindowAnswer("102", {"upper": None, "lower": {"weight_shape": None}})
    assert not weights(horizontal_section(PLACED["102"], nothing))


def test_a_mullion_pocket_holds_four_weights() -> None:
    drawn = horizontal_section(PLACED["106"], hung("106"), side="left", broken=False)
    assert len(weights(drawn)) == 2
    ghosts = [i for i in walk(drawn.items) if isinstance(i, Arc) and i.pen == "ghost"]
    assert len(ghosts) == 2
    stiles = parts(drawn, "frame.pulley_stile.left")
    inner = [bounds_of(stile.items) for stile in stiles]
    between_faces = max(box.right for box in inner) - min(box.left for box in inner)
    family = PLACED["106"].family
    assert between_faces == pytest.approx(family.pocket.mullion + 2 * family.frame.pulley_stile)


def test_both_jambs_are_shown_where_they_differ() -> None:
    def sides(number: str) -> set[str]:
        drawn = horizontal_section(PLACED[number])
        return {dict(g.data)["part"] for g in parts(drawn, "upper.") if "stile" in g.title}

    assert sides("102") == {"upper.right_stile"}
    assert sides("106") == {"upper.left_stile", "upper.right_stile"}


@pytest.mark.parametrize("depth", [3.5, 5.0, 8.0])
def test_the_pocket_is_as_deep_as_measured(depth: float) -> None:
    layout = PLACED["101"].layout
    pocket = layout.family.pocket.model_copy(update={"depth": depth * INCH})
    family = layout.family.model_copy(update={"pocket": pocket})
    frame = FrameEdges(type(layout)(layout.window, family, layout.upper, layout.lower, None))
    out, inner = frame.pocket_depths
    # No deeper than to the face of the blind stop, however it was measured.
    assert inner - out == pytest.approx(min(depth * INCH, frame.wall_in - frame.blind_out))
    assert inner <= frame.wall_in + 1e-12
