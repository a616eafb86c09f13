"""The trade's facts as rows of typed tables.

Nothing here reads a file: ``sashwright.knowledge.load`` fills the tables from the CSV files of the
package and from a shop's own overrides. Every number is SI, every row says where it comes from and
how sure that is.
"""

from __future__ import annotations

import difflib
import itertools
import math
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, Literal

Status = Literal["published", "common practice", "from memory", "shop"]


class KnowledgeError(ValueError):
    """A table or row that is missing or wrong; the message says what was found and expected."""


def _si(unit: str, default: Any = MISSING) -> Any:
    """A field with a dimension; the loader insists that its column names a unit of that kind."""
    return field(default=default, metadata={"unit": unit})


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row of every table carries.

    ``status`` tells how far to trust it: ``published`` was read in the named source, ``common
    practice`` is a habit of the trade, ``from memory`` wants a second source, ``shop`` is the
    shop's own figure. ``aliases`` are other words for the same thing, good for looking it up.
    """

    key: str
    name: str
    source: str
    status: Status
    note: str = ""
    aliases: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood(Row):
    """A species of wood, clear and at 12 % moisture content unless said otherwise.

    Specific gravity is oven-dry mass over green volume. Shrinkage is from green to oven-dry, as a
    fraction of the green dimension. ``movement_…`` are the coefficients C_R and C_T of the Wood
    Handbook, eq. 13-2: change of dimension per dimension **for each 1 % of moisture content**.
    ``moisture_ratio`` is this wood's equilibrium moisture content over that of ordinary wood, less
    than 1 for modified wood only.
    """

    latin: str
    specific_gravity_green: float
    shrinkage_radial: float
    shrinkage_tangential: float
    shrinkage_volumetric: float
    fibre_saturation: float
    movement_radial: float
    movement_tangential: float
    modulus_elasticity: float = _si("Pa")
    modulus_rupture: float = _si("Pa")
    decay_us: str = ""
    """Heartwood, Forest Products Laboratory groups; sapwood never lasts. Empty: not grouped."""
    decay_en: str = ""
    """Heartwood, class of EN 350, 1 very durable to 5 not durable. Empty: not classed."""
    density_variation: float = 0.10
    """Coefficient of variation of specific gravity from board to board [-]."""
    moisture_ratio: float = 1.0


GlassKind = Literal["clear float", "old sheet", "plate", "laminated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass(Row):
    """A glass. ``thickness`` is the likely one, ``thickness_min`` the least, for strength."""

    kind: GlassKind
    nominal: str
    thickness: float = _si("m")
    thickness_min: float = _si("m")
    thickness_tolerance: float = _si("m")
    mass_per_area: float = _si("kg/m2")

    def __post_init__(self) -> None:
        if not 0 < self.thickness_min <= self.thickness:
            raise KnowledgeError(
                f"found a least thickness of {self.thickness_min * 1000:g} mm, "
                f"expected more than 0 and at most the likely one, {self.thickness * 1000:g} mm"
            )
        density = self.mass_per_area / self.thickness
        # Soda-lime glass is 2500 kg/m3; with a plastic layer a little less, some old glass more.
        if not 2100 <= density <= 2900:
            raise KnowledgeError(
                f"found {self.mass_per_area:.3g} kg/m2 for {self.thickness * 1000:.3g} mm of "
                f"glass, expected about {2500 * self.thickness:.3g} kg/m2: give both together"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Putty(Row):
    """A glazing putty or compound, set."""

    density: float = _si("kg/m3")


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightMaterial(Row):
    """What a sash weight is made of; the lowest ``preference`` that fits the pocket is taken."""

    density: float = _si("kg/m3")
    preference: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightStock(Row):
    """A bar or casting that weights are made of.

    ``size`` is the diameter or the side. ``eye`` is the length that the eye adds to the plain body.
    """

    material: str
    shape: Literal["round", "square"]
    size: float = _si("m")
    eye: float = _si("m")


SuspensionKind = Literal["cord", "chain", "tape"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspension(Row):
    """Cord, chain or tape that carries sash and weight.

    ``diameter`` is the width of a chain, the thickness of a tape. ``min_wheel`` is the least wheel
    it should run over. ``ties`` is the length lost at both ends together, in knots, hooks and tail.
    """

    kind: SuspensionKind
    width: float = _si("m")
    thickness: float = _si("m")
    mass_per_length: float = _si("kg/m")
    working_load: float = _si("N")
    breaking_load: float | None = _si("N", default=None)
    min_wheel: float = _si("m")
    ties: float = _si("m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulley(Row):
    """A sash pulley.

    ``wheel_diameter`` is measured at the bottom of the groove. ``friction_coefficient`` acts at the
    axle. ``face_standoff`` is how far the middle of the cord hangs in front of the pulley stile.
    """

    wheel_diameter: float = _si("m")
    axle_diameter: float = _si("m")
    friction_coefficient: float
    face_standoff: float = _si("m")
    for_kinds: tuple[SuspensionKind, ...]


WeatherstripKind = Literal["spring strip", "interlocking rib", "bulb", "pile", "felt", "none"]
Place = Literal["sides", "head", "sill", "meeting rail", "parting bead", "inside stop"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weatherstrip(Row):
    """A weatherstrip.

    The drag is the force that keeps a sash from sliding, for each metre of strip it slides along.
    ``thickness`` is the gap that the strip fills; a kerf of zero means that none is cut.
    """

    kind: WeatherstripKind
    places: tuple[Place, ...]
    drag_low: float = _si("N/m")
    drag: float = _si("N/m")
    drag_high: float = _si("N/m")
    thickness: float = _si("m")
    kerf_width: float = _si("m")
    kerf_depth: float = _si("m")
    life_years_low: float
    life_years_high: float

    def __post_init__(self) -> None:
        if not self.drag_low <= self.drag <= self.drag_high:
            raise KnowledgeError(
                f"found drags {self.drag_low:g}, {self.drag:g}, {self.drag_high:g} N/m, "
                "expected low, typical and high in rising order"
            )
        if not self.life_years_low <= self.life_years_high:
            raise KnowledgeError(
                f"found a life of {self.life_years_low:g} to {self.life_years_high:g} years, "
                "expected the shorter first"
            )


LeakPath = Literal[
    "sides", "head", "meeting rail", "sill", "pulley", "glass", "frame", "storm", "screen"
]
LeakMeasure = Literal["metre", "metre of sash joint", "square metre of window", "piece"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leakage(Row):
    """How much air gets by on one path through a closed window, in one state of it.

    ``area`` is the likely effective leakage area at ``reference_pressure`` (discharge coefficient 1)
    for each ``per`` [m2 per m, per m2 or per piece], ``area_low`` and ``area_high`` the range that the
    source prints or that the shop expects. ``exponent`` is that of the power law.
    ``strip`` names the kind of weatherstrip that the row describes, ``repaired`` the row that takes
    its place when the path is put in order.
    """

    paths: tuple[LeakPath, ...]
    per: LeakMeasure
    strip: WeatherstripKind = "none"
    area_low: float = _si("m2")
    area: float = _si("m2")
    area_high: float = _si("m2")
    reference_pressure: float = _si("Pa")
    exponent: float
    repaired: str = ""

    def __post_init__(self) -> None:
        if not self.area_low <= self.area <= self.area_high:
            raise KnowledgeError(
                f"found areas of {self.area_low * 1e4:g}, {self.area * 1e4:g}, "
                f"{self.area_high * 1e4:g} cm2, expected low, likely and high in rising order"
            )
        if not 0.5 <= self.exponent <= 1:
            raise KnowledgeError(f"found an exponent of {self.exponent:g}, expected 0.5 to 1")
        if not 0 < self.reference_pressure <= 1000:
            raise KnowledgeError(
                f"found a reference pressure of {self.reference_pressure:g} Pa, expected up to 1000"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh(Row):
    """Insect screen cloth. ``openness`` is the share of its face that is not wire."""

    mass_per_area: float = _si("kg/m2")
    openness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware(Row):
    """A piece of hardware that a sash carries."""

    mass: float = _si("kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Coating(Row):
    """A paint or finish; figures are for one dry coat, sound.

    ``vapour_resistance`` is the difference of vapour pressure that drives 1 kg of vapour a second
    through 1 m2 of it: the inverse of its permeance.
    """

    mass_per_area_per_coat: float = _si("kg/m2")
    film_thickness: float = _si("m")
    vapour_resistance: float = _si("Pa s m2/kg")


Vertex = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Moulding(Row):
    """The moulded edge of a sash member, drawn in a unit square.

    ``points`` are ``(u, v, bulge)``: ``u`` goes from the square nose beside the glass (0) to the
    room face (1), ``v`` is how far the wood stands back from the sight line there. A bulge bends
    the piece that starts at its point into an arc: tangent of a quarter of the arc's angle, as DXF
    has it, positive turning counter-clockwise with ``u`` to the right and ``v`` up. So a positive
    bulge swells into the light (a quarter round, 0.4142), a negative one hollows the wood (a cove).
    """

    points: tuple[Vertex, ...]

    def __post_init__(self) -> None:
        problem = _outline_problem(self.points)
        if problem:
            raise KnowledgeError(problem)


def _outline_problem(points: tuple[Vertex, ...]) -> str:
    """What is wrong with the points of a moulding; empty when nothing is."""
    if len(points) < 2 or points[0][:2] != (0.0, 0.0) or points[-1][0] != 1.0:
        return "found an outline with other ends, expected it to start at 0 0 and to end at u = 1"
    if not all(0 <= u <= 1 and 0 <= v <= 1 for u, v, _ in points):
        return "found a point outside the unit square, expected u and v from 0 to 1"
    for (u, v, bulge), (next_u, next_v, _) in itertools.pairwise(points):
        chord = math.atan2(next_v - v, next_u - u)
        turn = 2 * math.atan(bulge)
        # Along the arc its direction swings from one of these to the other; beyond a right angle
        # from the u axis it would run backwards.
        if max(abs(chord - turn), abs(chord + turn)) > math.pi / 2 + 1e-3:
            return (
                f"found a piece from u = {u:g} to {next_u:g} that runs back toward the nose, "
                "expected u never to decrease, also along an arc"
            )
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bias(Row):
    """How much each weight differs from half its sash, so that the sash presses shut.

    Added to half the mass of the sash, for each of its two weights: above zero for the upper sash,
    which the weights hold up against the head; below zero for the lower, which its own mass presses
    onto the sill.
    """

    upper_each: float = _si("kg")
    lower_each: float = _si("kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Knowledge:
    """All tables, each a mapping from key to row."""

    wood: Mapping[str, Wood]
    glass: Mapping[str, Glass]
    putty: Mapping[str, Putty]
    weight_material: Mapping[str, WeightMaterial]
    weight_stock: Mapping[str, WeightStock]
    suspension: Mapping[str, Suspension]
    pulley: Mapping[str, Pulley]
    weatherstrip: Mapping[str, Weatherstrip]
    leakage: Mapping[str, Leakage]
    mesh: Mapping[str, Mesh]
    hardware: Mapping[str, Hardware]
    coating: Mapping[str, Coating]
    moulding: Mapping[str, Moulding]
    bias: Mapping[str, Bias]

    def find(self, table: str, key: str) -> Any:
        """The row of ``table`` with this key or alias.

        Raises
        ------
        KnowledgeError
            When there is no such table or row; the message names the nearest ones.

        Notes
        -----
        For a row whose table is known in advance, ``knowledge.glass[key]`` keeps its type.
        """
        if table not in ROWS:
            raise KnowledgeError(_unknown("a table", table, ROWS))
        rows: Mapping[str, Row] = getattr(self, table)
        if key in rows:
            return rows[key]
        others = _by_alias(rows)
        if key.casefold() not in others:
            raise KnowledgeError(_unknown(f"a row of the table {table}", key, rows, others))
        return others[key.casefold()]


ROWS: Mapping[str, type[Row]] = {
    "wood": Wood,
    "glass": Glass,
    "putty": Putty,
    "weight_material": WeightMaterial,
    "weight_stock": WeightStock,
    "suspension": Suspension,
    "pulley": Pulley,
    "weatherstrip": Weatherstrip,
    "leakage": Leakage,
    "mesh": Mesh,
    "hardware": Hardware,
    "coating": Coating,
    "moulding": Moulding,
    "bias": Bias,
}
"""Row type of each table."""


def _by_alias(rows: Mapping[str, Row]) -> dict[str, Row]:
    return {other.casefold(): row for row in rows.values() for other in (row.name, *row.aliases)}


def _unknown(what: str, found: str, keys: Iterable[str], aliases: Iterable[str] = ()) -> str:
    listed = list(keys)
    near = difflib.get_close_matches(found.casefold(), [*listed, *aliases], n=3, cutoff=0.5)
    if near:
        return f"Found {found!r}, expected {what}; did you mean {' or '.join(map(repr, near))}?"
    some = ", ".join(listed[:8]) + (", …" if len(listed) > 8 else "")
    return f"Found {found!r}, expected {what}: {some}."
