"""Sash members, glass and putty where a section cuts them, in the true shape of their profile.

A member is described from its glazed edge: ``p`` [m] from the sight line into the wood, ``z`` [m] from
the weather face towards the room. ``Placing`` puts such points into a section.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from sashwright.drawing.model import Hatch, Point, Polygon, outline
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import SashLayout
from sashwright.window.profile import Profile

Placing = Callable[[float, float], Point]


@dataclass(frozen=True)
class Glazed:
    """How the glass lies in a rabbet: depths of its panes [m], and how far it laps the wood."""

    panes: tuple[tuple[float, float], ...]
    """Near and far face of each pane, weather side first."""
    lap: float
    rabbet: float
    bed: float

    @property
    def front(self) -> float:
        return self.panes[0][0]

    @property
    def back(self) -> float:
        return self.panes[-1][1]


def glazed(sash: SashLayout, knowledge: Knowledge) -> Glazed:
    """The glazing of a sash, laid from its bed outward."""
    spec, glazing = sash.spec, sash.spec.glazing
    back = spec.rabbet_depth - glazing.bed
    faces: list[tuple[float, float]] = []
    for key, gap in zip(reversed(glazing.panes), (*reversed(glazing.gaps), 0.0), strict=True):
        thickness = knowledge.find("glass", key).thickness
        faces.append((back - thickness, back))
        back -= thickness + gap
    return Glazed(
        tuple(reversed(faces)),
        spec.rabbet_width - glazing.clearance,
        spec.rabbet_width,
        spec.rabbet_depth,
    )


def wood(
    profile: Profile, outer: Iterable[Point], grain: str, place: Placing, pen: str = "cut wood"
) -> Polygon:
    """A member: its glazed edge closed by the ``outer`` points (p, z), room side first."""
    edge = [(inset, z) for z, inset in profile.edge(8)]
    return timber([*edge, *outer], grain, place, pen)


def timber(points: Sequence[Point], grain: str, place: Placing, pen: str = "cut wood") -> Polygon:
    """A piece of wood cut across the grain; its growth rings lie as it was sawn."""
    placed = outline(place(p, z) for p, z in points)
    return Polygon(placed, pen, "end-grain", place(*_pith(points, grain)))


def _pith(points: Sequence[Point], grain: str) -> Point:
    """The heart of the tree: before the wide face of a flat-sawn piece, beside a quarter-sawn one."""
    ps, zs = [p for p, _ in points], [z for _, z in points]
    size = (max(ps) - min(ps), max(zs) - min(zs))
    middle = ((max(ps) + min(ps)) / 2, (max(zs) + min(zs)) / 2)
    reach = 0.9 * max(size) + 0.012
    wide, thin = (0, 1) if size[0] >= size[1] else (1, 0)
    at = list(middle)
    if grain == "quarter":
        at[wide] += size[wide] / 2 + reach
        at[thin] -= 0.15 * size[thin]
    elif grain == "mixed":
        at[wide] += size[wide] / 2 + 0.6 * reach
        at[thin] += size[thin] / 2 + 0.6 * reach
    else:
        at[wide] += 0.12 * size[wide]
        at[thin] += size[thin] / 2 + reach
    return at[0], at[1]


def bar(sash: SashLayout, width: float, place: Placing) -> Polygon:
    """A muntin ``width`` wide between two sight lines, with ``p`` counted from the first."""
    edge = [(inset, z) for z, inset in sash.profile.edge(8)]
    other = [(width - inset, z) for inset, z in reversed(edge)]
    return timber([*edge, *other], sash.spec.grain, place)


def putty(glass: Glazed, place: Placing) -> Polygon:
    """Bed, edge and bevelled front of the putty in one rabbet."""
    corners = [
        (glass.rabbet, 0.0),
        (0.0, glass.front),
        (glass.lap, glass.front),
        (glass.lap, glass.back),
        (0.0, glass.back),
        (0.0, glass.bed),
        (glass.rabbet, glass.bed),
    ]
    return Polygon(outline(place(p, z) for p, z in corners), "fine putty")


def spacers(glass: Glazed, place: Placing) -> Iterable[Polygon]:
    """What keeps the panes of an insulating unit apart, at its edge."""
    depth = 0.4 * (glass.panes[-1][1] - glass.panes[0][0])
    for (_, near), (far, _) in zip(glass.panes, glass.panes[1:], strict=False):
        yield block((glass.lap - depth, glass.lap), (near, far), place, "fine metal")


def block(
    p: tuple[float, float],
    z: tuple[float, float],
    place: Placing,
    pen: str,
    hatch: Hatch | None = None,
) -> Polygon:
    """A rectangle in the member's own coordinates."""
    corners = ((p[0], z[0]), (p[1], z[0]), (p[1], z[1]), (p[0], z[1]))
    return Polygon(outline(place(*corner) for corner in corners), pen, hatch)
