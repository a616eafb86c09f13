"""The trade's facts as rows of typed tables.

Nothing here reads a file: ``sashwright.knowledge.load`` fills the tables from the CSV files of the
package and from a shop's own overrides. Every number is SI, every row says where it comes from and
how sure that is.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from sashwright.knowledge.energy_tables import Fabric, Fuel, Plant
from sashwright.knowledge.frame_tables import FramePart
from sashwright.knowledge.keeping_tables import Stage, Upkeep
from sashwright.knowledge.moulding_tables import Moulding
from sashwright.knowledge.rows import KnowledgeError, Row, Status, si
from sashwright.knowledge.tradition_tables import Tradition, TraditionLites, TraditionSize
from sashwright.knowledge.work_tables import (
    Access,
    Fault,
    Material,
    Rate,
    Scope,
    Task,
    Treatment,
)
from sashwright.knowledge.worth_tables import Measure, Study

__all__ = ["KnowledgeError", "Row", "Status"]


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
    modulus_elasticity: float = si("Pa")
    modulus_rupture: float = si("Pa")
    decay_us: str = ""
    """Heartwood, Forest Products Laboratory groups; sapwood never lasts. Empty: not grouped."""
    decay_en: str = ""
    """Heartwood, class of EN 350, 1 very durable to 5 not durable. Empty: not classed."""
    density_variation: float = 0.10
    """Coefficient of variation of specific gravity from board to board [-]."""
    moisture_ratio: float = 1.0


GlassKind = Literal["clear float", "old sheet", "plate", "laminated", "acrylic"]

_DENSITIES: Mapping[str, tuple[float, float]] = {"acrylic": (1100, 1300)}
# Soda-lime glass is 2500 kg/m3; with a plastic layer a little less, some old glass more.
_GLASS_DENSITIES = 2100, 2900


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass(Row):
    """A glass, or a clear plastic in its place, without coating.

    ``thickness`` is the likely one, ``thickness_min`` the least, for strength. ``emissivity`` is that of
    both faces for longwave radiation, hemispherical. Transmittance and reflectance are those at normal
    incidence, for the sun and for the eye; where they are not given, they are those of clear glass.
    """

    kind: GlassKind
    nominal: str
    thickness: float = si("m")
    thickness_min: float = si("m")
    thickness_tolerance: float = si("m")
    mass_per_area: float = si("kg/m2")
    conductivity: float = si("W/(m K)", default=1.0)
    emissivity: float = 0.84
    solar_transmittance: float | None = None
    solar_reflectance: float | None = None
    visible_transmittance: float | None = None
    visible_reflectance: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.thickness_min <= self.thickness:
            raise KnowledgeError(
                f"found a least thickness of {self.thickness_min * 1000:g} mm, "
                f"expected more than 0 and at most the likely one, {self.thickness * 1000:g} mm"
            )
        density = self.mass_per_area / self.thickness
        low, high = _DENSITIES.get(self.kind, _GLASS_DENSITIES)
        if not low <= density <= high:
            what = "acrylic" if self.kind == "acrylic" else "glass"
            raise KnowledgeError(
                f"found {self.mass_per_area:.3g} kg/m2 for {self.thickness * 1000:.3g} mm of "
                f"{what}, expected about {(low + high) / 2 * self.thickness:.3g} kg/m2: give both "
                "together"
            )
        if not (self.conductivity > 0 and 0 < self.emissivity <= 1):
            raise KnowledgeError(
                f"found a conductivity of {self.conductivity:g} W/(m K) with an emissivity of "
                f"{self.emissivity:g}, expected more than 0, and more than 0 up to 1"
            )
        for band in ("solar", "visible"):
            pair = getattr(self, f"{band}_transmittance"), getattr(self, f"{band}_reflectance")
            _check_band(band, *pair)


def _check_band(band: str, transmittance: float | None, reflectance: float | None) -> None:
    if (transmittance is None) != (reflectance is None):
        raise KnowledgeError(f"found one of the two {band} values, expected both or none")
    if transmittance is not None and reflectance is not None and transmittance + reflectance > 1:
        raise KnowledgeError(
            f"found a {band} transmittance of {transmittance:g} with a reflectance of {reflectance:g}, "
            "expected no more than 1 together"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class GlassCoating(Row):
    """A low-emissivity coating on one face of a glass.

    ``emissivity`` is the hemispherical one of the coated face. The optical values are those of 3 mm
    clear float with the coating, at normal incidence: ``…_front`` is the reflectance of the coated face,
    ``…_back`` that of the other. ``place`` tells where the coating lasts.
    """

    emissivity: float
    place: Literal["any face", "sealed space"]
    solar_transmittance: float
    solar_front: float
    solar_back: float
    visible_transmittance: float
    visible_front: float
    visible_back: float

    def __post_init__(self) -> None:
        if not 0 < self.emissivity <= 1:
            raise KnowledgeError(
                f"found an emissivity of {self.emissivity:g}, expected more than 0, up to 1"
            )
        for band in ("solar", "visible"):
            passed = getattr(self, f"{band}_transmittance")
            for side in ("front", "back"):
                _check_band(band, passed, getattr(self, f"{band}_{side}"))


CoveringKind = Literal["none", "shutter", "curtain", "blind", "shade"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Covering(Row):
    """What is shut or drawn over a window at night, on the room side.

    ``resistance`` is what it adds to that of the window, the air behind it and the leak round its edges
    included, as measured; low and high are the least and the most that sources give.
    """

    kind: CoveringKind
    resistance_low: float = si("m2 K/W")
    resistance: float = si("m2 K/W")
    resistance_high: float = si("m2 K/W")

    def __post_init__(self) -> None:
        if not self.resistance_low <= self.resistance <= self.resistance_high:
            raise KnowledgeError(
                f"found resistances of {self.resistance_low:g}, {self.resistance:g}, "
                f"{self.resistance_high:g} m2 K/W, expected low, likely and high in rising order"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Putty(Row):
    """A glazing putty or compound, set."""

    density: float = si("kg/m3")


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightMaterial(Row):
    """What a sash weight is made of; the lowest ``preference`` that fits the pocket is taken."""

    density: float = si("kg/m3")
    preference: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightStock(Row):
    """A bar or casting that weights are made of.

    ``size`` is the diameter or the side. ``eye`` is the length that the eye adds to the plain body.
    """

    material: str
    shape: Literal["round", "square"]
    size: float = si("m")
    eye: float = si("m")


SuspensionKind = Literal["cord", "chain", "tape"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspension(Row):
    """Cord, chain or tape that carries sash and weight.

    ``diameter`` is the width of a chain, the thickness of a tape. ``min_wheel`` is the least wheel
    it should run over. ``ties`` is the length lost at both ends together, in knots, hooks and tail.
    """

    kind: SuspensionKind
    width: float = si("m")
    thickness: float = si("m")
    mass_per_length: float = si("kg/m")
    working_load: float = si("N")
    breaking_load: float | None = si("N", default=None)
    min_wheel: float = si("m")
    ties: float = si("m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulley(Row):
    """A sash pulley.

    ``wheel_diameter`` is measured at the bottom of the groove. ``friction_coefficient`` acts at the
    axle. ``face_standoff`` is how far the middle of the cord hangs in front of the pulley stile.
    """

    wheel_diameter: float = si("m")
    axle_diameter: float = si("m")
    friction_coefficient: float
    face_standoff: float = si("m")
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
    drag_low: float = si("N/m")
    drag: float = si("N/m")
    drag_high: float = si("N/m")
    thickness: float = si("m")
    kerf_width: float = si("m")
    kerf_depth: float = si("m")
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
    area_low: float = si("m2")
    area: float = si("m2")
    area_high: float = si("m2")
    reference_pressure: float = si("Pa")
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

    mass_per_area: float = si("kg/m2")
    openness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware(Row):
    """A piece of hardware that a sash carries."""

    mass: float = si("kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Coating(Row):
    """A paint or finish; figures are for one dry coat, sound.

    ``vapour_resistance`` is the difference of vapour pressure that drives 1 kg of vapour a second
    through 1 m2 of it: the inverse of its permeance.
    """

    mass_per_area_per_coat: float = si("kg/m2")
    film_thickness: float = si("m")
    vapour_resistance: float = si("Pa s m2/kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bias(Row):
    """How much each weight differs from half its sash, so that the sash presses shut.

    Added to half the mass of the sash, for each of its two weights: above zero for the upper sash,
    which the weights hold up against the head; below zero for the lower, which its own mass presses
    onto the sill.
    """

    upper_each: float = si("kg")
    lower_each: float = si("kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Knowledge:
    """All tables, each a mapping from key to row."""

    wood: Mapping[str, Wood]
    glass: Mapping[str, Glass]
    glass_coating: Mapping[str, GlassCoating]
    covering: Mapping[str, Covering]
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
    frame_part: Mapping[str, FramePart]
    bias: Mapping[str, Bias]
    fabric: Mapping[str, Fabric]
    fuel: Mapping[str, Fuel]
    plant: Mapping[str, Plant]
    measure: Mapping[str, Measure]
    study: Mapping[str, Study]
    fault: Mapping[str, Fault]
    treatment: Mapping[str, Treatment]
    task: Mapping[str, Task]
    scope: Mapping[str, Scope]
    material: Mapping[str, Material]
    rate: Mapping[str, Rate]
    access: Mapping[str, Access]
    stage: Mapping[str, Stage]
    upkeep: Mapping[str, Upkeep]
    tradition: Mapping[str, Tradition]
    tradition_size: Mapping[str, TraditionSize]
    tradition_lites: Mapping[str, TraditionLites]

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
    "glass_coating": GlassCoating,
    "covering": Covering,
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
    "frame_part": FramePart,
    "bias": Bias,
    "fabric": Fabric,
    "fuel": Fuel,
    "plant": Plant,
    "measure": Measure,
    "study": Study,
    "fault": Fault,
    "treatment": Treatment,
    "task": Task,
    "scope": Scope,
    "material": Material,
    "rate": Rate,
    "access": Access,
    "stage": Stage,
    "upkeep": Upkeep,
    "tradition": Tradition,
    "tradition_size": TraditionSize,
    "tradition_lites": TraditionLites,
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
