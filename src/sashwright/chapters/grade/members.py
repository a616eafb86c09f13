"""Wind that the members of a sash bear: the load of every pane on its edges, by statics.

Upright bars run from rail to rail; cross bars span between them and hand them their ends' load. Stiles and
the outer rails lie against stops, beads, sill and head along their length and are no beams.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sashwright.chapters.answer import Step
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.timber import (
    WOOD_SOURCE,
    Section,
    Timber,
    section_of,
    timber_of,
)
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.beams import Bending, along, deflection_limit, tributary
from sashwright.physics.wind import effective_area
from sashwright.window.layout import SashLayout

Stretch = tuple[float, float, float, float]
"""Where a pane's load starts, how long it is, its peak and its rising end: [m, m, N/m, m]."""
Load = tuple[Sequence[Stretch], Sequence[tuple[float, float]]]

LIMIT_SOURCE = (
    "L/175 where glass is held: ASTM E1300, IBC 2403.3; classes CW and AW of AAMA/WDMA/CSA "
    "101/I.S.2/A440 test it, R and LC only report it"
)


@dataclass(frozen=True, slots=True)
class Beam:
    """A member under a pressure of 1 Pa: E I, its section, and what that pressure does."""

    on: str
    name: str
    span: float
    timber: Timber
    section: Section
    load: Load
    under_one: Bending

    @property
    def stiffness(self) -> float:
        return self.timber.modulus * self.section.inertia

    @property
    def strength_capacity(self) -> float:
        """Pressure at which it bears its allowable stress [Pa]."""
        return self.timber.bending * self.section.modulus / float(self.under_one.moment)

    @property
    def stiffness_capacity(self) -> float:
        """Pressure at which it sags as far as glass allows [Pa]."""
        return float(deflection_limit(self.span)) / float(self.under_one.deflection)

    @property
    def area(self) -> float:
        """Effective wind area [m2]: its span times the width that it carries."""
        stretches, points = self.load
        whole = sum(peak * (length - corner) for _, length, peak, corner in stretches)
        whole += sum(force for force, _ in points)
        return float(effective_area(self.span, whole / self.span))


def beam(on: str, name: str, span: float, timber: Timber, section: Section, load: Load) -> Beam:
    stretches, points = load
    bent = along(span, timber.modulus * section.inertia, stretches=stretches, points=points)
    return Beam(on, name, span, timber, section, load, bent)


# --- a sash ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Grid:
    """Lines that part the wind between the edges of panes: middles of bars, and sight lines [m]."""

    across: tuple[float, ...]
    up: tuple[float, ...]

    def width(self, column: int) -> float:
        return self.across[column + 1] - self.across[column]

    def height(self, row: int) -> float:
        return self.up[row + 1] - self.up[row]


def grid_of(sash: SashLayout) -> Grid:
    """An arched top row reaches to the crown, on the safe side."""
    left, right, low, high = sash.daylight
    across = [(a[1] + b[0]) / 2 for a, b in pairwise(sash.columns)]
    up = [(a[1] + b[0]) / 2 for a, b in pairwise(sash.rows)]
    return Grid((left, *across, right), (low, *up, high))


def cross_bar(sash: SashLayout, grid: Grid, timber: Timber, column: int, row: int) -> Beam:
    """The bar over the lite of a column and row, between the uprights beside it."""
    span = grid.width(column)
    stretches = [(0.0, span, *on_edge(span, grid.height(each))) for each in (row, row + 1)]
    return beam(
        f"{sash.which}.cross_bars",
        f"a cross bar of the {sash.which} sash",
        span,
        timber,
        section_of(sash.spec.muntin, sash.profile, 2),
        (stretches, ()),
    )


def upright_bar(
    sash: SashLayout, grid: Grid, timber: Timber, index: int, crosses: Sequence[Sequence[Beam]]
) -> Beam:
    """The bar to the right of column ``index``, with the ends of the cross bars that it carries."""
    low = grid.up[0]
    top = grid.up[-1]
    if sash.inner_arc is not None:
        top = sash.inner_arc.height(grid.across[index + 1])
    stretches: list[Stretch] = []
    for row in range(len(grid.up) - 1):
        start, length = grid.up[row], min(grid.up[row + 1], top) - grid.up[row]
        for column in (index, index + 1):
            stretches.append((start - low, length, *on_edge(length, grid.width(column))))
    points = [
        (float(bar.under_one.reaction), grid.up[row + 1] - low)
        for column in (index, index + 1)
        for row, bar in enumerate(crosses[column])
    ]
    return beam(
        f"{sash.which}.upright_bar.{index + 1}",
        f"an upright bar of the {sash.which} sash",
        top - low,
        timber,
        section_of(sash.spec.muntin, sash.profile, 2),
        (stretches, points),
    )


def on_edge(edge: float, reach: float) -> tuple[float, float]:
    """Peak and rising end of a pane's load on one edge, under 1 Pa [N/m, m]."""
    peak, corner = tributary(1.0, edge, reach)
    return float(peak), float(corner)


def bars_of(sash: SashLayout, knowledge: Knowledge) -> tuple[list[Beam], list[Beam]]:
    """Upright bars, and cross bars of all columns."""
    grid = grid_of(sash)
    timber = timber_of(knowledge.find("wood", sash.spec.wood), sash.spec.moisture)
    crosses = [
        [cross_bar(sash, grid, timber, column, row) for row in range(len(sash.rows) - 1)]
        for column in range(len(sash.columns))
    ]
    uprights = [
        upright_bar(sash, grid, timber, index, crosses) for index in range(len(sash.columns) - 1)
    ]
    return uprights, [bar for column in crosses for bar in column]


# --- as resistances -------------------------------------------------------------------


def of_beam(
    each: Beam, share: float = 1.0, *, whole: Load | None = None, outward_only: bool = False
) -> tuple[Resistance, Resistance]:
    """Strength and stiffness of a member.

    ``share`` is its part [-] of the ``whole`` load that it bears together with another.
    """
    stretches, points = whole or each.load
    facts = {
        "span_m": each.span,
        "inertia_m4": each.section.inertia,
        "modulus_m3": each.section.modulus,
        "elasticity_pa": each.timber.modulus,
        "bending_pa": each.timber.bending,
        "moment_per_pa_m3": float(each.under_one.moment),
        "deflection_per_pa_m": float(each.under_one.deflection),
        "share": share,
    }
    load = Step(
        f"moment of {each.name} under 1 Pa",
        "panes load their edges at 45 degrees, w = min(reach, edge) / 2; bars that end here, by their force",
        {
            "span_m": each.span,
            "panes (from m, along m, w N/m, rising m)": _rows(stretches),
            "bars (N, at m)": _rows(points),
            "share": share,
        },
        float(each.under_one.moment),
        "N m",
        "statics of a beam on two supports",
    )
    strength = Step(
        f"pressure that {each.name} bears",
        "allowable stress x section modulus / moment under 1 Pa",
        {key: facts[key] for key in ("bending_pa", "modulus_m3", "moment_per_pa_m3", "share")},
        each.strength_capacity,
        "Pa",
        WOOD_SOURCE,
    )
    limit = Step(
        f"pressure at which {each.name} sags L/175",
        "L / 175 / deflection under 1 Pa; the deflection goes with 1 / (E I)",
        {
            key: facts[key]
            for key in ("span_m", "elasticity_pa", "inertia_m4", "deflection_per_pa_m", "share")
        },
        each.stiffness_capacity,
        "Pa",
        LIMIT_SOURCE,
    )
    return (
        Resistance(
            each.on, "strength", each.name, each.strength_capacity, each.area, outward_only,
            facts, (load, strength),
        ),
        Resistance(
            each.on, "stiffness", each.name, each.stiffness_capacity, each.area, outward_only,
            facts, (limit,),
        ),
    )  # fmt: skip


def _rows(rows: Sequence[tuple[float, ...]]) -> str:
    """Figures of a load as the working shows them."""
    return "; ".join(" ".join(f"{figure:.4g}" for figure in row) for row in rows) or "none"
