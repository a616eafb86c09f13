"""Jambs and mullions, cut level."""

from __future__ import annotations

import math
from collections.abc import Callable

from sashwright.chapters.hang import hang_window
from sashwright.chapters.heat.cut import (
    VISIBLE,
    WEIGHTS,
    Cut,
    Gathering,
    wood_conductivity,
)
from sashwright.chapters.heat.cutter import Cutter
from sashwright.window.layout import SashLayout, Which
from sashwright.window.outlines.frame_edges import FrameEdges, hanging_depth
from sashwright.window.outlines.glazed import Placing, glazed, member
from sashwright.window.outlines.jamb import JambCut, Mirror
from sashwright.window.outlines.mullion import Side
from sashwright.window.outlines.rails import edge_of_lite
from sashwright.window.outlines.shape import Outline, Point, Vertex, box
from sashwright.window.resolve import Placed

_OTHER: dict[Which, Which] = {"upper": "lower", "lower": "upper"}


def jamb(c: Cutter, which: Which) -> Cut:
    """A jamb with the stile of one sash, the other track empty; on the right, seen from outside."""
    # As if it shared no pocket; a jamb it does not have counts for no length.
    alone = Placed(c.layout, c.placed.knowledge)
    cut, sash = JambCut(alone, 1), c.layout.sash(which)
    sight, half = sash.daylight[1], c.layout.window.width / 2
    g = _level(c, sight, 1)
    far = half + cut.pocket_far - sight
    g.add(piece for piece in cut.pocket() if piece.material != "air")
    for pieces in (cut.lining(), [cut.blind_stop()], cut.casings()):
        g.add(pieces)
    g.add(cut.pendulum())
    _weight(g, c.placed, _OTHER[which], cut.place)
    storm = c.panel(which) if c.panels else None
    edge = c.edge(c.layout, which, 0.0, -1, storm)
    at = None if storm is None else (storm, storm.daylight[1] - sight)
    c.lay(g, edge, sash, -VISIBLE, at, half + c.panel_meets(c.layout) - sight)
    _stile(g, cut, sash)
    if storm is not None:
        _storm_stile(g, storm, _beside_sight(storm, 1))
    left_out = c.at_the_side(g, sash, half - sight, 1)
    walls = [
        *(tuple(g.turn((x, z)) for x, z, _ in wall.corners) for wall in cut.wall(cut.pocket_far)),
        *c.casing_walls(c.edges, half - sight, far),
        *c.inside_walls(half - sight, far),
    ]
    return Cut(
        f"jamb_{which}", f"jamb with the stile of the {which} sash", (edge,), tuple(g.solids),
        tuple(walls), (-VISIBLE, far), (0.0, far), half - sight, left_out=c.left_out(*left_out),
        origin=sight, upright=False,
    )  # fmt: skip


def mullion(c: Cutter, which: Which) -> Cut:
    """The pocket shared with the window to the right, or else with that to the left."""
    side: Side = 1 if c.placed.right is not None else -1
    beside = c.placed.right if side > 0 else c.placed.left
    assert beside is not None
    cut, sash, other = JambCut(c.placed, side), c.layout.sash(which), beside.sash(which)
    mirror = Mirror(cut, beside)
    sight, half = sash.daylight[1], c.layout.window.width / 2
    far = half + cut.mullion + beside.window.width / 2 - other.daylight[1] - sight
    g = _level(c, sight, side)
    g.woods["beside"] = wood_conductivity(other.spec, g.knowledge)
    for pieces in (cut.lining(), mirror.lining(), [cut.blind_stop()], cut.casings()):
        g.add(pieces)
    g.add(cut.pendulum())
    neighbour = Placed(beside, g.knowledge)
    _weight(g, c.placed, _OTHER[which], cut.place)
    _weight(g, neighbour, _OTHER[which], mirror.place)
    storms: tuple[SashLayout | None, SashLayout | None] = (None, None)
    if c.panels:
        panels = neighbour.storm_sash.panels
        storms = c.panel(which), panels[0] if which == "lower" else panels[-1]
    edges = (
        c.edge(c.layout, which, 0.0, -1, storms[0]),
        c.edge(beside, which, far, 1, storms[1]),
    )
    middle = half + cut.mullion + beside.window.width / 2
    for k, (edge, mine) in enumerate(zip(edges, (sash, other), strict=True)):
        end = -VISIBLE if k == 0 else far + VISIBLE
        place = half - sight if k == 0 else half + cut.mullion - sight
        meets = place - edge.towards * c.panel_meets((c.layout, beside)[k])
        storm = storms[k]
        at = None
        if storm is not None:
            x = storm.daylight[1] if k == 0 else middle - storm.daylight[1]
            at = storm, x - sight
        c.lay(g, edge, mine, end, at, meets)
    _stile(g, cut, sash)
    g.add([mirror.stile(other)], "beside")
    theirs = mirror.sash_place(other)
    g.add(edge_of_lite(other, glazed(other, g.knowledge), theirs), "beside")
    if storms[0] is not None and storms[1] is not None:
        _storm_stile(g, storms[0], _beside_sight(storms[0], side))
        x0 = side * middle
        their = storms[1]
        back: Placing = lambda p, z: (x0 - side * (their.daylight[1] + p), their.face + z)  # noqa: E731
        _storm_stile(g, their, back)
    left_out = c.at_the_side(g, sash, half - sight, 1)
    c.at_the_side(g, other, half + cut.mullion - sight, -1)
    both = half - sight + beside.window.width / 2 - other.daylight[1]
    return Cut(
        f"mullion_{which}", f"mullion between the {which} sash of two windows", edges,
        tuple(g.solids), (), (-VISIBLE, far + VISIBLE), (0.0, far), both,
        left_out=c.left_out(*left_out), origin=sight, upright=False, side=side,
    )  # fmt: skip


def _level(c: Cutter, origin: float, side: Side) -> Gathering:
    return c.gathering(lambda point: (point[1], side * point[0] - origin))


def _stile(g: Gathering, cut: JambCut, sash: SashLayout) -> None:
    place = cut.sash_place(sash)
    g.add([cut.stile(sash), *edge_of_lite(sash, glazed(sash, g.knowledge), place)])


def _storm_stile(g: Gathering, storm: SashLayout, place: Placing) -> None:
    wide = storm.spec.stile
    outer = [(wide, storm.thickness), (wide, 0.0)]
    g.add([member("storm.stile", "stile of the storm sash", storm, outer, place)], "storm")
    g.add(edge_of_lite(storm, glazed(storm, g.knowledge), place), "storm")


def _weight(
    g: Gathering, placed: Placed, which: Which, place: Callable[[float, float], Point]
) -> None:
    """The weight that hangs in the pocket beside the other sash, with both closed."""
    values = hang_window(placed).values.get(which)
    if not isinstance(values, dict) or values.get("weight_shape") not in ("round", "square"):
        return
    size = values["weight_size_mm"] / 1000
    offset = values["positions"]["weight_offset_mm"] / 1000
    edges = FrameEdges(placed.layout)
    x, z = place(edges.pocket_edge + offset, hanging_depth(placed.layout.sash(which)))
    half = size / 2
    corners = box(x - half, z - half, x + half, z + half)
    if values["weight_shape"] == "round":
        quarter = math.tan(math.pi / 8)
        sides = ((x - half, z), (x, z - half), (x + half, z), (x, z + half))
        corners = tuple(Vertex(across, depth, quarter) for across, depth in sides)
    metal = values.get("weight_material") or "cast-iron"
    g.metal(Outline("weight", "weight", "wood", corners), WEIGHTS.get(str(metal), WEIGHTS["steel"]))


def _beside_sight(sash: SashLayout, side: Side) -> Placing:
    sight = sash.daylight[1]
    return lambda p, z: (side * (sight + p), sash.face + z)
