"""Head, meeting rails, sill and muntins, cut upright."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.heat.cut import (
    VISIBLE,
    Cut,
    Gathering,
)
from sashwright.chapters.heat.cutter import SASHES, Cutter, rectangle
from sashwright.window.layout import SashLayout, Which
from sashwright.window.outlines.glazed import bar, glazed
from sashwright.window.outlines.head_sill import HeadAndSill
from sashwright.window.outlines.rails import (
    cross_bar,
    edge_of_lite,
    high_rail,
    low_rail,
    over,
    under,
)
from sashwright.window.outlines.shape import Point

# How far walls are taken where they only have to be there [m].
_FAR = 1.0


def head(c: Cutter) -> Cut:
    """Head with the top rail of the upper sash, at the crown of an arch."""
    upper, edges = c.layout.upper, c.edges
    sight, top = upper.daylight[3], c.layout.window.height
    g = _upright(c, sight)
    yoke = top + c.layout.family.frame.head_thickness
    pieces = HeadAndSill(c.layout, g.knowledge).head(yoke + _FAR)
    g.add(piece for piece in pieces if piece.material != "wall")
    storm = c.panel("upper") if c.panels else None
    edge = c.edge(c.layout, "upper", 0.0, -1, storm)
    ends = -VISIBLE
    at = None if storm is None else (storm, storm.daylight[3] - sight)
    c.lay(g, edge, upper, ends, at, top + c.panel_meets(c.layout) - sight)
    g.add([high_rail(upper), *edge_of_lite(upper, glazed(upper, g.knowledge), over(upper, sight))])
    if storm is not None:
        place = over(storm, storm.daylight[3])
        g.add([high_rail(storm)], "storm")
        g.add(edge_of_lite(storm, glazed(storm, g.knowledge), place), "storm")
    left_out = []
    if c.metal_strip("head") == "spring":
        c.spring(g, upper, upper.top - sight, top - sight)
    elif c.metal_strip("head") == "rib":
        left_out.append("the metal rib at the head")
    far = yoke - sight
    return Cut(
        "head", "head with the top rail of the upper sash", (edge,), tuple(g.solids),
        tuple(c.casing_walls(edges, top - sight, far)), (ends, far), (0.0, far),
        top - sight, left_out=c.left_out(*left_out), origin=sight,
    )  # fmt: skip


def sill(c: Cutter) -> Cut:
    """Sill and stool with the bottom rail of the lower sash."""
    lower, edges = c.layout.lower, c.edges
    sight = lower.daylight[2]
    g = _upright(c, sight)
    frame = HeadAndSill(c.layout)
    g.add(piece for piece in frame.sill(-_FAR) if piece.material != "wall")
    storm = c.panel("lower") if c.panels else None
    edge = c.edge(c.layout, "lower", 0.0, 1, storm)
    at = None if storm is None else (storm, storm.daylight[2] - sight)
    c.lay(g, edge, lower, VISIBLE, at, edges.stool_top - sight)
    g.add([low_rail(lower), *edge_of_lite(lower, glazed(lower, g.knowledge), under(lower, sight))])
    if storm is not None:
        place = under(storm, storm.daylight[2])
        g.add([low_rail(storm)], "storm")
        g.add(edge_of_lite(storm, glazed(storm, g.knowledge), place), "storm")
    low = edges.sill_height(edges.sill_nose) - edges.sill_drop - 0.04 - sight
    left_out = ["the metal strip at the sill"] if c.metal_strip("sill") else []
    return Cut(
        "sill", "sill with the bottom rail of the lower sash", (edge,), tuple(g.solids),
        (tuple(_under_the_sill(c, frame, sight)),), (low, VISIBLE),
        (-edges.sill_drop - sight, 0.0), sight, left_out=c.left_out(*left_out), origin=sight,
    )  # fmt: skip


def _under_the_sill(c: Cutter, frame: HeadAndSill, sight: float) -> Iterator[Point]:
    """Outline of the wall below sill and stool, as far as the inside casing."""
    edges = c.edges
    top = edges.sill_height(edges.sill_inner)
    if c.layout.family.frame.stool_thickness:
        top = edges.stool_top - c.layout.family.frame.stool_thickness
    far = max(edges.casing_in, edges.sill_inner)
    for z, y in (
        (edges.blind_out, -_FAR),
        (far, -_FAR),
        (far, top),
        (edges.sill_inner, top),
        (edges.sill_inner, frame.sill_under(edges.sill_inner)),
        (edges.blind_out, frame.sill_under(edges.blind_out)),
    ):
        yield z, y - sight


def meeting(c: Cutter) -> Cut:
    """Both meeting rails."""
    upper, lower = c.layout.upper, c.layout.lower
    sight, far = lower.daylight[3], upper.daylight[2] - lower.daylight[3]
    g = _upright(c, sight)
    halves = len(c.panels) > 1
    storms = {which: c.panel(which) if c.panels else None for which in SASHES}
    edges = (
        c.edge(c.layout, "lower", 0.0, -1, storms["lower"]),
        c.edge(c.layout, "upper", far, 1, storms["upper"]),
    )
    for edge, end in zip(edges, (-VISIBLE, far + VISIBLE), strict=True):
        panel = storms[edge.sash]
        at = None
        if panel is not None:
            # One pane in a storm of one light; each edge lays half of it.
            own = panel.daylight[3 if edge.sash == "lower" else 2] - sight
            lap = glazed(panel, g.knowledge).lap
            at = panel, own if halves else far / 2 + edge.towards * lap
        c.lay(g, edge, c.layout.sash(edge.sash), end, at, far / 2)
    for sash, rail, place in (
        (lower, high_rail(lower), over(lower, sight)),
        (upper, low_rail(upper), under(upper, upper.daylight[2])),
    ):
        g.add([rail, *edge_of_lite(sash, glazed(sash, g.knowledge), place)])
    if halves:
        below, above = c.panels
        g.add([high_rail(below), low_rail(above)], "storm")
        for panel, place in (
            (below, over(below, below.daylight[3])),
            (above, under(above, above.daylight[2])),
        ):
            g.add(edge_of_lite(panel, glazed(panel, g.knowledge), place), "storm")
    left_out = (
        ["the metal strip between the meeting rails"] if c.metal_strip("meeting_rail") else []
    )
    return Cut(
        "meeting", "meeting rails", edges, tuple(g.solids), (), (-VISIBLE, far + VISIBLE),
        (0.0, far), far, plugs=tuple(_between_plain_rails(c, sight)),
        left_out=c.left_out("the sash lock", *left_out), origin=sight,
    )  # fmt: skip


def _between_plain_rails(c: Cutter, sight: float) -> Iterator[tuple[Point, ...]]:
    """The space that plain meeting rails leave: open to both sides, it belongs to neither."""
    upper, lower = c.layout.upper, c.layout.lower
    if c.layout.family.meeting.style == "plain":
        low = max(upper.bottom, lower.daylight[3]) - sight
        high = min(lower.top, upper.daylight[2]) - sight
        if low < high:
            yield rectangle((upper.face + upper.thickness, lower.face), (low, high))


def muntin(c: Cutter, which: Which) -> Cut:
    """A bar of one sash, level or upright: they are alike."""
    sash = c.layout.sash(which)
    wide = sash.spec.muntin
    g = c.gathering(lambda point: point)
    storm = c.panel(which) if c.panels else None
    edges = (
        c.edge(c.layout, which, 0.0, -1, storm),
        c.edge(c.layout, which, wide, 1, storm),
    )
    matched = storm is not None and c.layout.family.storm_sash.lites == "matched"
    for edge, end in zip(edges, (-VISIBLE, wide + VISIBLE), strict=True):
        at = None
        if storm is not None:
            half = storm.spec.muntin / 2 if matched else glazed(storm, g.knowledge).lap
            at = storm, wide / 2 + edge.towards * half
        c.lay(g, edge, sash, end, at, wide / 2)
    g.add([cross_bar(sash, 0.0, wide)])
    _putty_of_bar(c, g, sash, 0.0, wide)
    if storm is not None and matched:
        low = (wide - storm.spec.muntin) / 2
        g.add([bar("storm.bar", "bar", storm, storm.spec.muntin, over(storm, low))], "storm")
        _putty_of_bar(c, g, storm, low, low + storm.spec.muntin, "storm")
    return Cut(
        f"muntin_{which}", f"muntin of the {which} sash", edges, tuple(g.solids), (),
        (-VISIBLE, wide + VISIBLE), (0.0, wide), wide, left_out=c.left_out(),
    )  # fmt: skip


def _putty_of_bar(
    c: Cutter, g: Gathering, sash: SashLayout, low: float, high: float, of: str | None = None
) -> None:
    glass = glazed(sash, g.knowledge)
    for place in (over(sash, low), under(sash, high)):
        g.add(edge_of_lite(sash, glass, place), of)


def _upright(c: Cutter, origin: float) -> Gathering:
    return c.gathering(lambda point: (point[0], point[1] - origin))
