"""Sash members, glass and putty in the true shape of their profile.

A member is described from its glazed edge: ``p`` [m] from the sight line into the wood, ``z`` [m] from
the weather face towards the room. ``Placing`` puts such points into a section. Storm sash are made of the
same pieces.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from sashwright.knowledge import curves
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import SashLayout
from sashwright.window.outlines.shape import Outline, Point, corners
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


def timber(name: str, title: str, points: Sequence[Point], grain: str, place: Placing) -> Outline:
    """A piece of wood cut across the grain; its growth rings lie as it was sawn."""
    placed = corners(place(p, z) for p, z in points)
    return Outline(name, title, "wood", placed, place(*_pith(points, grain)))


def strip(
    name: str, title: str, section: Sequence[curves.Vertex], grain: str, place: Placing
) -> Outline:
    """A strip of the frame in the section it is run to, its corners put where ``place`` has them."""
    return timber(name, title, curves.flat(section, closed=True, per_arc=8)[:-1], grain, place)


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


def member(
    name: str, title: str, sash: SashLayout, outer: Iterable[Point], place: Placing
) -> Outline:
    """A rail or stile: its glazed edge closed by the ``outer`` points (p, z), room side first."""
    return timber(name, title, [*_edge(sash.profile), *outer], sash.spec.grain, place)


def bar(name: str, title: str, sash: SashLayout, width: float, place: Placing) -> Outline:
    """A muntin ``width`` wide between two sight lines, with ``p`` counted from the first."""
    edge = _edge(sash.profile)
    other = [(width - p, z) for p, z in reversed(edge)]
    return timber(name, title, [*edge, *other], sash.spec.grain, place)


def _edge(profile: Profile) -> list[Point]:
    return [(inset, z) for z, inset in profile.edge(8)]


def putty(name: str, glass: Glazed, place: Placing) -> Outline:
    """Bed, edge and bevelled front of the putty in one rabbet."""
    points = [
        (glass.rabbet, 0.0),
        (0.0, glass.front),
        (glass.lap, glass.front),
        (glass.lap, glass.back),
        (0.0, glass.back),
        (0.0, glass.bed),
        (glass.rabbet, glass.bed),
    ]
    return Outline(name, "putty", "putty", corners(place(p, z) for p, z in points))


def spacers(name: str, glass: Glazed, place: Placing) -> Iterator[Outline]:
    """What keeps the panes of an insulating unit apart, at its edge."""
    depth = 0.4 * (glass.panes[-1][1] - glass.panes[0][0])
    for (_, near), (far, _) in zip(glass.panes, glass.panes[1:], strict=False):
        p, z = (glass.lap - depth, glass.lap), (near, far)
        points = ((p[0], z[0]), (p[1], z[0]), (p[1], z[1]), (p[0], z[1]))
        yield Outline(name, "spacer", "spacer", corners(place(*point) for point in points))


def panes(name: str, title: str, glass: Glazed, reach: float, place: Placing) -> Iterator[Outline]:
    """The panes at one edge, from where they lap the wood to ``reach`` beyond the sight line."""
    for near, far in glass.panes:
        points = ((-reach, near), (glass.lap, near), (glass.lap, far), (-reach, far))
        yield Outline(name, title, "glass", corners(place(*point) for point in points))
