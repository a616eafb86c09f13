"""Outlines of cut pieces: areas that are weighed, pieces that do not overlap, storms in their rabbet."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely

from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.outlines.glazed import glazed, panes
from sashwright.window.outlines.head_sill import HeadAndSill
from sashwright.window.outlines.jamb import JambCut, Mirror, upright_bar
from sashwright.window.outlines.mullion import mullion_width
from sashwright.window.outlines.rails import (
    cross_bar,
    edge_of_lite,
    high_rail,
    low_rail,
    over,
    under,
)
from sashwright.window.outlines.shape import Outline, Vertex, box, flattened
from sashwright.window.resolve import Placed, place_all

KNOWLEDGE = load()
HOUSE = house_from(
    {
        "name": "12 Elm Street",
        "families": {
            "A": {"storm": "winter", "storm_sash": {"lites": "plain"}},
            "B": {"sash": {"thickness": "1 3/4", "lites": "2x2"}, "meeting": {"style": "plain"},
                  "storm": "winter"},
        },
        "windows": [
            {"number": "1", "family": "A", "width": "32", "height": "62"},
            {"number": "2", "family": "A", "width": "28", "height": "62"},
            {"number": "3", "family": "A", "width": "28", "height": "62", "beside": "2"},
            {"number": "4", "family": "B", "width": "30", "height": "60"},
        ],
    },
    KNOWLEDGE,
)  # fmt: skip
PLACED = {placed.window.number: placed for placed in place_all(HOUSE, KNOWLEDGE)}
NUMBERS = sorted(PLACED)
# Curves are cut into eight straight pieces each.
DRAWN = 1.5e-6


def shape(piece: Outline) -> shapely.Polygon:
    return shapely.Polygon(piece.points())


def upright(placed: Placed) -> list[Outline]:
    """Everything but air and wall in the upright section."""
    layout = placed.layout
    frame = HeadAndSill(layout)
    pieces = [*frame.head(layout.window.height + 0.2), *frame.sill(-0.2)]
    for sash in (layout.upper, layout.lower):
        glass = glazed(sash, KNOWLEDGE)
        pieces += [low_rail(sash), high_rail(sash)]
        for place in (under(sash, sash.daylight[2]), over(sash, sash.daylight[3])):
            pieces += edge_of_lite(sash, glass, place)
            pieces += panes("glass", "glass", glass, 0.02, place)
        for below, above in itertools.pairwise(sash.rows):
            pieces.append(cross_bar(sash, below[1], above[0]))
    return [piece for piece in pieces if piece.material not in ("air", "wall")]


def level(placed: Placed) -> list[Outline]:
    """The same of the right jamb, or of the mullion, with the lower sash."""
    jamb, sash = JambCut(placed, 1), placed.layout.lower
    pieces = [
        *jamb.pocket(), *jamb.lining(), *jamb.casings(), *jamb.pendulum(),
        jamb.blind_stop(), jamb.stile(sash),
    ]  # fmt: skip
    pieces += edge_of_lite(sash, glazed(sash, KNOWLEDGE), jamb.sash_place(sash))
    if jamb.beside is not None:
        mirror = Mirror(jamb, jamb.beside)
        pieces += [*mirror.lining(), mirror.stile(jamb.beside.lower)]
        pieces += mirror.glass(jamb.beside.lower, KNOWLEDGE, 0.02)
    return [piece for piece in pieces if piece.material not in ("air", "wall")]


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("cut", [upright, level])
def test_no_two_pieces_share_a_place(number: str, cut: object) -> None:
    pieces = cut(PLACED[number])  # type: ignore[operator]
    lower = PLACED[number].layout.lower
    # The layout sets the bottom rail on the sill where the bead ends, half the track's play before its
    # weather face: it is a fifth of a millimetre low there.
    sunk = {("frame.sill", "lower.bottom_rail"): lower.face * lower.bevel * lower.thickness}
    assert len(pieces) > 8
    for piece in pieces:
        assert shape(piece).is_valid, piece.name
    for one, other in itertools.combinations(pieces, 2):
        shared = shape(one).intersection(shape(other)).area
        assert shared < 1e-9 + sunk.get((one.name, other.name), 0.0), (one.name, other.name)


@pytest.mark.parametrize("number", NUMBERS)
def test_members_have_the_area_they_are_weighed_with(number: str) -> None:
    layout = PLACED[number].layout
    upper, lower = layout.upper, layout.lower

    def plain(width: float) -> float:
        return width * upper.thickness - upper.profile.removed

    assert shape(high_rail(upper)).area == pytest.approx(plain(upper.top_rail), abs=DRAWN)
    bevel = lower.bevel * lower.thickness**2 / 2
    assert shape(low_rail(lower)).area == pytest.approx(plain(lower.bottom_rail) - bevel, abs=DRAWN)
    groove = layout.family.hanging.cord_groove_width * layout.family.hanging.cord_groove_depth
    stile = shape(JambCut(PLACED[number], 1).stile(upper)).area
    assert stile == pytest.approx(plain(upper.spec.stile) - groove, abs=DRAWN)
    whole = upper.spec.muntin * upper.thickness - 2 * upper.profile.removed
    for piece in (cross_bar(upper, 0.1, 0.1 + upper.spec.muntin),
                  upright_bar(upper, 0.1, 0.1 + upper.spec.muntin)):  # fmt: skip
        assert shape(piece).area == pytest.approx(whole, abs=2 * DRAWN)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_storm_is_cut_like_a_sash_and_stands_on_the_sill(number: str) -> None:
    """Its foot is as steep as the sill and as far above it as the family says, with one light or two."""
    placed = PLACED[number]
    storm, edges = placed.storm_sash, FrameEdges(placed.layout)
    foot = low_rail(storm.panels[0])
    low = [(z, y) for z, y in foot.points() if y < storm.outline.bottom + 0.02]
    assert len(low) == 2
    for z, y in low:
        gap = placed.family.storm_sash.sill_gap
        assert y - edges.sill_height(z) == pytest.approx(gap, abs=1e-9)
    for piece in [foot, *(high_rail(panel) for panel in storm.panels)]:
        for other in upright(placed):
            assert shape(piece).intersection(shape(other)).area < 1e-9, (piece.name, other.name)
    assert max(z for z, _ in foot.points()) == pytest.approx(edges.blind_out)


def test_two_jambs_are_mirrored() -> None:
    placed = PLACED["1"]
    for left, right in zip(JambCut(placed, -1).lining(), JambCut(placed, 1).lining(), strict=True):
        assert [(-x, z) for x, z, _ in left.corners] == [(x, z) for x, z, _ in right.corners]


def test_the_window_beside_stands_a_mullion_away() -> None:
    placed = PLACED["2"]
    jamb = JambCut(placed, 1)
    assert jamb.beside is not None
    mirror = Mirror(jamb, jamb.beside)
    ours = next(piece for piece in jamb.lining() if piece.title == "pulley stile")
    theirs = next(piece for piece in mirror.lining() if piece.title == "pulley stile")
    apart = shape(theirs).bounds[2] - shape(ours).bounds[0]
    assert apart == pytest.approx(mullion_width(placed, 1))
    (pocket,) = jamb.pocket()
    assert shape(pocket).bounds[2] - shape(pocket).bounds[0] == pytest.approx(
        placed.family.pocket.mullion
    )


def test_glass_laps_the_rabbet_and_the_putty_fills_the_rest() -> None:
    sash = PLACED["1"].layout.lower
    glass = glazed(sash, KNOWLEDGE)
    place = over(sash, 1.0)
    (filled,) = edge_of_lite(sash, glass, place)
    (pane,) = panes("glass", "glass", glass, 0.0, place)
    triangle = glass.rabbet * glass.front / 2
    rest = glass.rabbet * (glass.bed - glass.front) - glass.lap * (glass.back - glass.front)
    assert shape(filled).area == pytest.approx(triangle + rest)
    assert shape(pane).area == pytest.approx(glass.lap * (glass.back - glass.front))


def test_bent_pieces_are_cut_into_straight_ones() -> None:
    # Two half circles make a whole one.
    circle = flattened((Vertex(-1, 0, 1.0), Vertex(1, 0, 1.0)), 64)
    assert shapely.Polygon(circle).area == pytest.approx(math.pi, rel=0.002)
    assert flattened(box(0, 0, 2, 1)) == [(0, 0), (2, 0), (2, 1), (0, 1)]
