"""What a section of the window is made of, for the conduction through it.

Everything lies in (depth, along): the depth z through the wall, from outside to inside, and the distance
along the wall, up in upright sections and outward of the window in level ones. Along it is counted from the
sight line of the first glass, so that sections of windows of all sizes are the same where they are cut alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace

from sashwright.knowledge.tables import Knowledge
from sashwright.physics.wood import conductivity, specific_gravity
from sashwright.window.layout import SashLayout, Which
from sashwright.window.outlines.glazed import Glazed
from sashwright.window.outlines.shape import Outline, Point
from sashwright.window.spec import Frame, Sash

PUTTY = 0.4
"""Conductivity of putty and glazing compounds [W/(m K)]; judgement: nobody has published linseed putty,
filled oils and plastics are between 0.25 and 0.6."""
WEIGHTS = {"cast-iron": 50.0, "steel": 50.0, "lead": 35.0}
"""Of sash weights [W/(m K)]; ISO 10456:2007 (from memory)."""
BRONZE = 65.0
"""Of bronze strip [W/(m K)]; ISO 10456:2007 (from memory); alloys of 50 to 110 are sold."""
SPRING_THICKNESS = 0.0002
"""Of spring bronze strip [m]: 0.008 in; common practice."""
SPACER = 4.0
"""Across a folded aluminium spacer with its seals [W/(m K)]: two walls of 0.4 mm (160) in 6.5 mm of
height, in series with 0.3 mm of butyl (0.24) at either side; reckoned."""
PANEL = 0.035
"""Of the insulating panel that stands for glazing [W/(m K)]; ISO 10077-2."""
VISIBLE = 0.190
"""Length of glazing in the model [m]; ISO 10077-2 asks for 190 mm at least."""
WETTEST = 0.25
"""Highest moisture content for which the conductivity of wood is known [-]; Wood Handbook eq. 4-15."""
ARC_PIECES = 3
"""Straight pieces that a round nose or weight is cut into, for each quarter of a turn."""


@dataclass(frozen=True, slots=True)
class Solid:
    """A piece of one material. ``glazing`` is what a panel takes the place of."""

    kind: str
    points: tuple[Point, ...]
    conductivity: float
    glazing: bool = False


@dataclass(frozen=True, slots=True)
class Layer:
    """A pane: depth of its two faces [m], and its conductivity [W/(m K)]."""

    near: float
    far: float
    conductivity: float


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of glazing: whose, at which sight line, and all its panes from outdoors to the room.

    ``towards`` is 1 where the glass lies up along, -1 where it lies down. ``gaps`` are conductances of
    the spaces between the panes, ``films`` those of the surfaces over glass, outdoors and in the room
    [W/(m2 K)].
    """

    sash: Which
    sight: float
    towards: int
    panes: tuple[Layer, ...]
    first_prime: int
    last_prime: int
    """Places of the sash's own panes among all."""
    gaps: tuple[float, ...]
    films: tuple[float, float]

    def u(self, films: tuple[float, float], *, panel: bool = False) -> float:
        """Of the glazing at its centre between these films, or of the panel that stands for it [W/(m2 K)]."""
        resistance = 1 / films[0] + 1 / films[1]
        for pane in self.panes:
            thickness = pane.far - pane.near
            resistance += thickness / (PANEL if panel else pane.conductivity)
        for k, gap in enumerate(self.gaps):
            width = self.panes[k + 1].near - self.panes[k].far
            resistance += width / PANEL if panel and self.sealed(k) else 1 / gap
        return 1 / resistance

    def sealed(self, gap: int) -> bool:
        """Whether a space is within a sealed unit, not the one to a storm or panel."""
        return gap + 1 < self.first_prime or self.first_prime <= gap < self.last_prime


@dataclass(frozen=True, slots=True)
class Cut:
    """One section. ``span`` is where the model ends along; everything else there is adiabatic.

    ``walls`` let nothing through. ``origin`` along of what is 0 here; ``upright`` or level, with ``side``
    -1 for a jamb on the left.
    """

    name: str
    title: str
    edges: tuple[Edge, ...]
    solids: tuple[Solid, ...]
    walls: tuple[tuple[Point, ...], ...]
    span: tuple[float, float]
    frame: tuple[float, float]
    """Between what of it the projected frame lies."""
    inside_opening: float
    plugs: tuple[tuple[Point, ...], ...] = ()
    """Air that counts as a crack, however wide."""
    left_out: tuple[str, ...] = ()
    origin: float = 0.0
    upright: bool = True
    side: int = 1

    @property
    def width(self) -> float:
        return self.frame[1] - self.frame[0]

    @property
    def anywhere(self) -> Cut:
        """The same wherever in a window it is cut, free of what is lost in the last digits."""
        return replace(
            self,
            edges=tuple(replace(edge, sight=_exact(edge.sight)) for edge in self.edges),
            walls=tuple(tuple((_exact(z), _exact(s)) for z, s in wall) for wall in self.walls),
            plugs=tuple(tuple((_exact(z), _exact(s)) for z, s in plug) for plug in self.plugs),
            span=(_exact(self.span[0]), _exact(self.span[1])),
            frame=(_exact(self.frame[0]), _exact(self.frame[1])),
            inside_opening=_exact(self.inside_opening),
            origin=0.0,
            side=1,
        )

    @property
    def pieces(self) -> Cut:
        """The same for any glazing between these panes and any films: where its air is hangs on neither."""
        return replace(
            self, edges=tuple(replace(each, gaps=(), films=(0.0, 0.0)) for each in self.edges)
        )


@dataclass
class Gathering:
    """Collects the pieces of a section; ``turn`` puts a point of an outline into (depth, along)."""

    turn: Callable[[Point], Point]
    knowledge: Knowledge
    woods: dict[str, float]
    """Conductivity of the wood of ``frame``, ``upper``, ``lower``, ``storm``, ``beside``."""
    solids: list[Solid] = field(default_factory=list)

    def add(self, pieces: Iterable[Outline], of: str | None = None) -> None:
        """Pieces in the order of their outlines; ``of`` whom, where the name does not say it."""
        for piece in pieces:
            owner = of or piece.name.partition(".")[0]
            found = self._material(piece, owner)
            if found is not None:
                kind, conducts, glazing = found
                self.solids.append(Solid(kind, self._points(piece), conducts, glazing))

    def _points(self, piece: Outline) -> tuple[Point, ...]:
        """Rounded, so that the same piece of another window comes out the same."""
        turned = (self.turn(point) for point in piece.points(2 * ARC_PIECES))
        return _without_repeats((_exact(z), _exact(s)) for z, s in turned)

    def _material(self, piece: Outline, owner: str) -> tuple[str, float, bool] | None:
        match piece.material:
            case "wood" | "rough":
                return "wood", self.woods[owner], False
            case "putty":
                return "putty", PUTTY, False
            case "spacer":
                return "spacer", SPACER, True
        # Air is what is left over, walls are told apart, and panes are laid by the edge they stand at.
        return None

    def metal(self, piece: Outline, conducts: float) -> None:
        """A weight."""
        self.solids.append(Solid("metal", self._points(piece), conducts))

    def block(
        self, kind: str, depth: tuple[float, float], along: tuple[float, float], conducts: float,
        *, glazing: bool = False,
    ) -> None:  # fmt: skip
        """A rectangle."""
        (z0, z1), (s0, s1) = (sorted(_exact(v) for v in pair) for pair in (depth, along))
        points = ((z0, s0), (z1, s0), (z1, s1), (z0, s1))
        self.solids.append(Solid(kind, points, conducts, glazing))


def glass_layers(sash: SashLayout, glass: Glazed, knowledge: Knowledge) -> tuple[Layer, ...]:
    """The panes of a sash where they stand in the wall."""
    return tuple(
        Layer(sash.face + near, sash.face + far, knowledge.find("glass", key).conductivity)
        for (near, far), key in zip(glass.panes, sash.spec.glazing.panes, strict=True)
    )


def wood_conductivity(spec: Sash | Frame, knowledge: Knowledge) -> float:
    """Of the wood of a sash or frame, at its moisture content [W/(m K)]."""
    species = knowledge.find("wood", spec.wood)
    moisture = min(spec.moisture / 100, WETTEST)
    gravity = specific_gravity(
        species.specific_gravity_green,
        moisture,
        species.shrinkage_volumetric,
        species.fibre_saturation,
    )
    return float(conductivity(gravity, moisture))


def _exact(value: float) -> float:
    """To a millionth of a millimetre; without a sign to nothing."""
    return round(value, 9) + 0.0


def _without_repeats(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple(_kept(points))


def _kept(points: Iterable[Point]) -> Iterator[Point]:
    """Corners that are not the one before them."""
    last: Point | None = None
    first: Point | None = None
    for point in points:
        if last is None or max(abs(point[0] - last[0]), abs(point[1] - last[1])) > 1e-9:
            if first is not None and point == first:
                continue
            first = first or point
            last = point
            yield point
