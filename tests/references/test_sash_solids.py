"""The solids of a sash against a general-purpose geometry library.

Source: Shapely 2 (GEOS), polygons in the plane. Each sash is cut into slices through its thickness, every
member of a slice is drawn as a polygon from the sash's outline and daylight alone, and the slices are added
up. Nothing of the program's own integration, its bands or its quadrature, is used: the moulding's set-back
is written out here, joints are boxes, arcs are drawn with many sides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from typing import Any

import pytest
from shapely import Point, Polygon, box, unary_union
from shapely.affinity import scale
from shapely.geometry.base import BaseGeometry

from sashwright.knowledge.load import load
from sashwright.window.bands import Solid
from sashwright.window.check import house_from
from sashwright.window.layout import SashLayout
from sashwright.window.resolve import Placed, SashFacts, place

INCH = 0.0254
KNOWLEDGE = load()

SLICES = 160
"""Slices of each zone of the thickness: rabbet, nose, each run of the moulding."""
SIDES = 256
"""Sides of a quarter circle as drawn."""
VOLUME = 1e-8
"""[m3]: 0.01 cm3, 4 mg of pine. One corner cut square instead of mitred would be 0.3 cm3."""
PLACE = 1e-6
"""Of centres of gravity [m]: a thousandth of a millimetre."""
SLIVER = 1e-10
"""Area of what may be left over where drawn edges coincide [m2]: a tenth of a square millimetre."""

# Set-back of each moulding in its unit square, and the runs along which it is smooth.
MOULDINGS: dict[str, tuple[Callable[[float], float], tuple[tuple[float, float], ...]]] = {
    "square": (lambda u: 0.0, ((0.0, 1.0),)),
    "bevel": (lambda u: u, ((0.0, 1.0),)),
    # Quarter circle about (0, 1).
    "quarter-round": (lambda u: 1 - math.sqrt(1 - u * u), ((0.0, 1.0),)),
    # Quarter circle about (1, 0).
    "cove": (lambda u: math.sqrt(1 - (1 - u) ** 2), ((0.0, 1.0),)),
    # A fillet of 0.1, a quarter circle of radius 0.9 about (0, 1), a fillet of 0.1.
    "ovolo": (
        lambda u: 1 - math.sqrt(0.81 - u * u) if u < 0.9 else 1.0,
        ((0.0, 0.9), (0.9, 1.0)),
    ),
}


@dataclass
class Sum:
    """Volume and first moments, added up from slices and boxes."""

    volume: float = 0.0
    x: float = 0.0
    y: float = 0.0
    z: float = 0.0

    def add(self, shape: BaseGeometry, z: float, depth: float) -> None:
        """A plane figure of this depth, its middle at ``z``; a negative depth takes away."""
        volume = shape.area * depth
        if volume == 0:
            return
        self.volume += volume
        self.x += volume * shape.centroid.x
        self.y += volume * shape.centroid.y
        self.z += volume * z

    @property
    def centre(self) -> tuple[float, float, float]:
        return self.x / self.volume, self.y / self.volume, self.z / self.volume

    def agrees_with(self, solid: Solid) -> None:
        assert solid.volume == pytest.approx(self.volume, abs=VOLUME)
        assert solid.centre == pytest.approx(self.centre, abs=PLACE)


def disc(centre: float, radius: float) -> Polygon:
    """A circle about the middle line, drawn with many sides but with the circle's own area."""
    sides = 4 * SIDES
    area_kept = math.sqrt(math.pi / (sides / 2 * math.sin(2 * math.pi / sides)))
    return Point(0.0, centre).buffer(radius * area_kept, quad_segs=SIDES)


@dataclass
class Drawn:
    """A sash drawn slice by slice."""

    sash: SashLayout
    placed: Placed
    pieces: dict[str, Sum] = field(default_factory=dict)

    # --- what is drawn ------------------------------------------------------------

    @cached_property
    def sight(self) -> tuple[float, float, float, float]:
        return self.sash.daylight

    def under_arc(self, shape: BaseGeometry, lowered: float) -> BaseGeometry:
        """What of a figure lies below the head, whose arc is ``lowered`` from the outer one."""
        arc = self.sash.arc
        if arc is None:
            return shape
        radius = arc.radius - lowered
        # Below the circle's middle the sides go straight down.
        straight = box(-radius, -10, radius, arc.centre)
        return shape.intersection(disc(arc.centre, radius).union(straight))

    def outline(self, z: float, p: float) -> BaseGeometry:
        """The sash as a board with its horns; their inner edge has rabbet and moulding too."""
        sash, (below, above) = self.sash, self.sash.horns
        low, half = sash.bottom + sash.bevel * z, sash.half
        board = self.under_arc(box(-half, low, half, sash.top), 0.0)
        inner = half - sash.spec.stile + p
        horns = [
            box(side * half, y0, side * inner, y1)
            for side in (-1, 1)
            for y0, y1 in ((low - below, low), (sash.top, sash.top + above))
            if y1 > y0
        ]
        return unary_union([board, *(horn.normalize() for horn in horns)])

    def columns(self) -> list[tuple[float, float]]:
        left, right, _, _ = self.sight
        return equal(left, right, self.sash.spec.lites.columns, self.sash.spec.muntin)

    def rows(self) -> list[tuple[float, float]]:
        """Under an arch up to where the sight line springs."""
        left, _, low, high = self.sight
        arc = self.sash.arc
        if arc is not None:
            radius = arc.radius - self.sash.top_rail
            high = arc.centre + math.sqrt(max(radius**2 - left**2, 0.0))
        return equal(low, high, self.sash.spec.lites.rows, self.sash.spec.muntin)

    def lites(self, p: float) -> list[BaseGeometry]:
        """Every lite grown by the set-back: straight ones by a mitred buffer."""
        sash, rows = self.sash, self.rows()
        drawn = []
        for number, (low, high) in enumerate(rows):
            for left, right in self.columns():
                if sash.arc is not None and number == len(rows) - 1:
                    tall = box(left - p, low - p, right + p, sash.top)
                    drawn.append(self.under_arc(tall, sash.top_rail - p))
                else:
                    straight = box(left, low, right, high)
                    drawn.append(straight.buffer(p, join_style="mitre") if p else straight)
        return drawn

    def members(self, z: float, p: float) -> Iterator[tuple[str, BaseGeometry]]:
        """Stiles run through; rails are coped over them, and bars over rails and bars."""
        sash = self.sash
        left, right, low, high = self.sight
        bottom = sash.bottom + sash.bevel * z
        below, above = sash.horns
        board = box(-sash.half, bottom - below, left - p, sash.top + above)
        stile = self.under_arc(board, 0.0)
        yield "left stile", stile
        yield "right stile", scale(stile, -1, 1, origin=(0, 0))
        yield "low rail", box(left - p, bottom, right + p, low - p)
        if sash.arc is None:
            yield "high rail", box(left - p, high + p, right + p, sash.top)
        else:
            between = box(left - p, low, right + p, sash.top)
            opening = self.under_arc(between, sash.top_rail - p)
            yield "high rail", self.under_arc(between, 0.0).difference(opening)
        columns, rows = self.columns(), self.rows()
        for n, (one, other) in enumerate(pairwise(columns)):
            upright = box(one[1] + p, low - p, other[0] - p, high + p if sash.arc is None else 10)
            yield f"upright {n}", self.under_arc(upright, sash.top_rail - p)
        for c, (start, end) in enumerate(columns):
            for r, (one, other) in enumerate(pairwise(rows)):
                yield f"cross {c} {r}", box(start - p, one[1] + p, end + p, other[0] - p)

    def slices(self) -> Iterator[tuple[float, float, float]]:
        """Middle, depth and set-back of each slice."""
        spec = self.sash.spec
        nose = spec.thickness - spec.moulding.depth
        yield from even(0.0, spec.rabbet_depth, lambda z: spec.rabbet_width)
        yield from even(spec.rabbet_depth, nose, lambda z: 0.0)
        shape, runs = MOULDINGS[spec.moulding.shape]
        for first, last in runs:
            # Steps of an angle make the slices thin where a round moulding is steep.
            for n in range(SLICES):
                a, b = (math.pi * k / SLICES for k in (n, n + 1))
                u0, u1 = (first + (last - first) * (1 - math.cos(t)) / 2 for t in (a, b))
                middle, depth = (u0 + u1) / 2, (u1 - u0) * spec.moulding.depth
                z = nose + middle * spec.moulding.depth
                yield z, depth, spec.moulding.width * shape(middle)

    # --- what is added up -----------------------------------------------------------

    def draw(self) -> None:
        """All slices, each checked: members fill the outline but for the lites and do not overlap."""
        for z, depth, p in self.slices():
            members = dict(self.members(z, p))
            together = unary_union(list(members.values()))
            assert sum(m.area for m in members.values()) - together.area < SLIVER
            lites = unary_union(self.lites(p))
            wanted = self.outline(z, p).difference(lites)
            assert together.symmetric_difference(wanted).area < SLIVER
            for name, member in members.items():
                self.pieces.setdefault(name, Sum()).add(member, z, depth)
        self.join()
        self.close()
        self.groove()

    def peg(self, tenoned: str, mortised: tuple[str, ...], at: BaseGeometry) -> None:
        """A tenon as thick as the square nose: wood of one piece, missing in the others."""
        spec = self.sash.spec
        start, end = spec.rabbet_depth, spec.thickness - spec.moulding.depth
        self.pieces[tenoned].add(at, (start + end) / 2, end - start)
        for name in mortised:
            self.pieces[name].add(at, (start + end) / 2, start - end)

    def join(self) -> None:
        """Rails are tenoned into the stiles, bars into rails and stiles."""
        sash, spec = self.sash, self.sash.spec
        left, right, low, high = self.sight
        inset = max(spec.rabbet_width, spec.moulding.width)
        length = spec.stile if spec.tenon == "through" else spec.stile - 0.5 * INCH
        spans = {"low rail": (sash.bottom, low - inset)}
        if sash.arc is None:
            spans["high rail"] = (high + inset, sash.top)
        for rail, (start, end) in spans.items():
            meeting = (rail == "low rail") == (sash.which == "upper")
            # Outer rails leave a third of their width, at the outer edge, as a haunch.
            haunch = 0.0 if meeting else (end - start) / 3
            y0, y1 = (start + haunch, end) if rail == "low rail" else (start, end - haunch)
            self.peg(rail, ("left stile",), box(left - length, y0, left, y1))
            self.peg(rail, ("right stile",), box(right, y0, right + length, y1))
        half, stub = spec.muntin / 2 - spec.rabbet_width, 0.5 * INCH
        columns, rows = self.columns(), self.rows()
        for n, (one, other) in enumerate(pairwise(columns)):
            x = (one[1] + other[0]) / 2
            crown = high
            if sash.arc is not None:
                radius = sash.arc.radius - sash.top_rail
                crown = sash.arc.centre + math.sqrt(radius**2 - x**2)
            bar = f"upright {n}"
            self.peg(bar, ("low rail",), box(x - half, low - stub, x + half, low))
            self.peg(bar, ("high rail",), box(x - half, crown, x + half, crown + stub))
        for r, (one, other) in enumerate(pairwise(rows)):
            y = (one[1] + other[0]) / 2
            first, last = f"cross 0 {r}", f"cross {len(columns) - 1} {r}"
            self.peg(first, ("left stile",), box(left - stub, y - half, left, y + half))
            self.peg(last, ("right stile",), box(right, y - half, right + stub, y + half))

    def close(self) -> None:
        """What thickens the meeting rail, as a figure in the plane of z and y."""
        sash, family = self.sash, self.placed.family
        if family.meeting.style == "plain":
            return
        frame, meeting = family.frame, family.meeting
        gap = frame.parting_bead_thickness + frame.track_play - meeting.gap
        upper = sash.which == "upper"
        share = 1 - meeting.lower_share if upper else meeting.lower_share
        height = sash.spec.meeting_rail
        low = sash.bottom if upper else sash.top - height
        tilt = math.tan(math.radians(meeting.bevel)) * height / 2
        thick, thin = share * gap + tilt, share * gap - tilt
        # The upper sash closes with its room face, thickest below; the lower one the other way.
        start, sign, at_low, at_high = (
            (sash.thickness, 1, thick, thin) if upper else (0.0, -1, thin, thick)
        )
        face = Polygon(
            [
                (start, low),
                (start + sign * at_low, low),
                (start + sign * at_high, low + height),
                (start, low + height),
            ]
        )
        bead = frame.parting_bead_projection + frame.bead_clearance
        volume = face.area * (self.placed.window.width - 2 * bead)
        rail = self.pieces["low rail" if upper else "high rail"]
        rail.volume += volume
        rail.y += volume * face.centroid.y
        rail.z += volume * face.centroid.x

    def groove(self) -> None:
        """Cord groove down to the knot, and below it the kerf of an interlocking rib."""
        sash, hanging = self.sash, self.placed.family.hanging
        top = sash.top + sash.horns[1]
        if sash.arc is not None:
            top = sash.arc.centre + math.sqrt(max(sash.arc.radius**2 - sash.half**2, 0.0))
        knot = top - hanging.knot_hole if sash.hung else top
        cuts = []
        if sash.hung:
            cuts.append((hanging.cord_groove_depth, knot, top, hanging.cord_groove_width))
        strip = KNOWLEDGE.weatherstrip[self.placed.family.strips.sides]
        if strip.kerf_depth:
            start = sash.bottom - sash.horns[0]
            cuts.append((strip.kerf_depth, start, knot, strip.kerf_width))
        for deep, y0, y1, wide in cuts:
            for name, edge, side in (("left stile", -sash.half, 1), ("right stile", sash.half, -1)):
                cut = box(min(edge, edge + side * deep), y0, max(edge, edge + side * deep), y1)
                self.pieces[name].add(cut, sash.thickness / 2, -wide)


def equal(start: float, end: float, count: int, bar: float) -> list[tuple[float, float]]:
    size = (end - start - (count - 1) * bar) / count
    return [(start + n * (size + bar), start + n * (size + bar) + size) for n in range(count)]


def even(
    start: float, end: float, inset: Callable[[float], float]
) -> Iterator[tuple[float, float, float]]:
    depth = (end - start) / SLICES
    for n in range(SLICES):
        z = start + (n + 0.5) * depth
        yield z, depth, inset(z)


SEGMENTAL = {"shape": "segmental", "rise": 4}
WINDOWS: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "one over one": ({}, {"height": 66}),
    "six over six with horns, blind tenons": (
        {"sash": {"lites": "3x2", "horn": 2, "tenon": "blind", "thickness": "1 3/4"}},
        {"height": 66},
    ),
    "two over two, bevelled bars, ribbed edges, plain rails": (
        {
            "sash": {
                "lites": "2x2",
                "moulding": {"shape": "bevel", "width": "3/8"},
                "muntin": "1 1/8",
            },
            "strips": {"sides": "interlocking-rib"},
            "meeting": {"style": "plain"},
        },
        {"height": 60},
    ),
    "coved, single-hung, unequal": (
        {"sash": {"moulding": {"shape": "cove", "depth": "3/8"}}, "lower": {"bottom_rail": 4}},
        {"height": 72, "meeting_height": 30, "hung": "single"},
    ),
    "segmental, four over one": ({"upper": {"lites": "2x2"}}, {"height": 70, "head": SEGMENTAL}),
    "segmental, one over one, quarter round": (
        {"sash": {"moulding": {"shape": "quarter-round"}, "top_rail": 3}},
        {"height": 70, "head": SEGMENTAL},
    ),
    "full arch, one over one": ({}, {"height": 80, "head": {"shape": "full arch"}}),
    "full arch, six over two": (
        {"upper": {"lites": "3x2"}, "lower": {"lites": "2x1"}, "sash": {"horn": 2}},
        {"height": 84, "head": {"shape": "full arch"}},
    ),
}


@pytest.fixture(scope="module", params=WINDOWS)
def window(request: pytest.FixtureRequest) -> Placed:
    family, sizes = WINDOWS[request.param]
    document = {
        "name": request.param,
        "families": {"A": family},
        "windows": [{"number": "1", "family": "A", "width": 32, **sizes}],
    }
    return place(house_from(document, KNOWLEDGE), "1", KNOWLEDGE)


@pytest.fixture(scope="module", params=["upper", "lower"])
def pair(request: pytest.FixtureRequest, window: Placed) -> tuple[SashFacts, Drawn]:
    """The program's sash, and the same drawn and added up."""
    facts = window.sash(request.param)
    drawn = Drawn(facts.layout, window)
    drawn.draw()
    return facts, drawn


def names_of(facts: SashFacts) -> list[str]:
    """What the drawing calls the program's pieces, in their order."""
    upper = facts.layout.which == "upper"
    fixed = ["left stile", "right stile"]
    # The program lists the meeting rail of the upper sash first, of the lower one last.
    fixed += ["low rail", "high rail"]
    columns, rows = facts.layout.spec.lites.columns, facts.layout.spec.lites.rows
    assert [p.name for p in facts.pieces.parts[2:4]][0 if upper else 1] == "meeting rail"
    return [
        *fixed,
        *(f"upright {n}" for n in range(columns - 1)),
        *(f"cross {c} {r}" for c in range(columns) for r in range(rows - 1)),
    ]


def test_every_piece(pair: tuple[SashFacts, Drawn]) -> None:
    facts, drawn = pair
    names = names_of(facts)
    assert set(names) == set(drawn.pieces)
    for name, part in zip(names, facts.pieces.parts, strict=True):
        drawn.pieces[name].agrees_with(part.solid)


def test_the_wood_of_the_sash(pair: tuple[SashFacts, Drawn]) -> None:
    facts, drawn = pair
    whole = Sum()
    for piece in drawn.pieces.values():
        whole = Sum(
            whole.volume + piece.volume, whole.x + piece.x, whole.y + piece.y, whole.z + piece.z
        )
    whole.agrees_with(facts.pieces.wood)


def test_glass(pair: tuple[SashFacts, Drawn]) -> None:
    """Each lite grown by the lap, as thick as the pane, its back on the bed."""
    facts, drawn = pair
    spec = facts.layout.spec
    glazing = spec.glazing
    lap = spec.rabbet_width - glazing.clearance
    thickness = KNOWLEDGE.glass[glazing.panes[0]].thickness
    z = spec.rabbet_depth - glazing.bed - thickness / 2
    for pane, lite in zip(facts.pieces.panes, drawn.lites(lap), strict=True):
        drawing = Sum()
        drawing.add(lite, z, thickness)
        drawing.agrees_with(pane.solid)
        left, low, right, high = lite.bounds
        assert (pane.width, pane.height) == pytest.approx((right - left, high - low), abs=1e-5)


def test_putty(pair: tuple[SashFacts, Drawn]) -> None:
    """Bed behind, filling round the edge, and a front that slopes from the sight line to the rabbet."""
    facts, drawn = pair
    spec = facts.layout.spec
    bed, rabbet = spec.glazing.bed, spec.rabbet_width
    lap = rabbet - spec.glazing.clearance
    thickness = KNOWLEDGE.glass[spec.glazing.panes[0]].thickness
    front = spec.rabbet_depth - bed - thickness
    drawing = Sum()

    def ring(z: float, depth: float, inner: float) -> None:
        for outer, hole in zip(drawn.lites(rabbet), drawn.lites(inner), strict=True):
            drawing.add(outer.difference(hole), z, depth)

    ring(spec.rabbet_depth - bed / 2, bed, 0.0)
    ring(front + thickness / 2, thickness, lap)
    for z, depth, inner in even(0.0, front, lambda z: rabbet * (1 - z / front)):
        ring(z, depth, inner)
    # Slices of the sloping front are flat: their error is a part in 4 x SLICES squared of it.
    assert facts.pieces.putty.volume == pytest.approx(drawing.volume, rel=1e-4)
    assert facts.pieces.putty.centre == pytest.approx(drawing.centre, abs=5e-6)


def test_the_balance_point(pair: tuple[SashFacts, Drawn]) -> None:
    """Wood, glass and putty, each at its density; paint and hardware are taken to act there too."""
    facts, drawn = pair
    spec = facts.layout.spec
    glass = KNOWLEDGE.glass[spec.glazing.panes[0]]
    densities = [(s, facts.mass.wood_density) for s in drawn.pieces.values()]
    pane = Sum()
    z = spec.rabbet_depth - spec.glazing.bed - glass.thickness / 2
    for lite in drawn.lites(spec.rabbet_width - spec.glazing.clearance):
        pane.add(lite, z, glass.thickness)
    densities.append((pane, glass.mass_per_area / glass.thickness))
    putty = facts.pieces.putty
    densities.append(
        (
            Sum(putty.volume, putty.x, putty.y, putty.z),
            KNOWLEDGE.putty[spec.glazing.putty].density,
        )
    )
    mass = sum(s.volume * rho for s, rho in densities)
    centre = [sum(getattr(s, axis) * rho for s, rho in densities) / mass for axis in "xyz"]
    assert facts.mass.centre == pytest.approx(centre, abs=PLACE)
    assert facts.mass.wood + facts.mass.glass + facts.mass.putty == pytest.approx(mass, abs=1e-5)


def test_paint(pair: tuple[SashFacts, Drawn]) -> None:
    """Both faces of the outline less the daylight; edges and mouldings' curves are not counted."""
    facts, drawn = pair
    face = drawn.outline(0.0, 0.0).area - sum(lite.area for lite in drawn.lites(0.0))
    assert facts.pieces.painted_area == pytest.approx(2 * face, abs=1e-7)
