"""The sizes that a tradition has, from low to high, and those that a new window takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import get_args

from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.tradition_tables import SizeName, Tradition, TraditionSize
from sashwright.window.spec import Lites

NAMES: tuple[SizeName, ...] = get_args(SizeName)
FIT = 1e-7
"""Sizes that differ less are the same [m]."""


@dataclass(frozen=True, slots=True)
class Given:
    """What somebody wants otherwise than the tradition has it: sizes [m] by name, and the lites."""

    sizes: Mapping[SizeName, float] = field(default_factory=dict)
    upper: Lites | None = None
    lower: Lites | None = None


def rows_of(tradition: Tradition, knowledge: Knowledge) -> dict[SizeName, TraditionSize]:
    """The tradition's row for each size, the later in the table before the earlier.

    Raises ``KnowledgeError`` where a size has none.
    """
    found: dict[SizeName, TraditionSize] = {}
    for row in knowledge.tradition_size.values():
        if tradition.key in row.traditions:
            found[row.size] = row
    missing = [name for name in NAMES if name not in found]
    if missing:
        raise KnowledgeError(
            f"Found no {', '.join(missing)} for the tradition {tradition.key}, expected a row of "
            "tradition_size for each."
        )
    return found


@dataclass(frozen=True, slots=True)
class Sizes:
    """One size of each name [m], beside the rows they come from."""

    rows: Mapping[SizeName, TraditionSize]
    chosen: Mapping[SizeName, float]
    slope: float
    """Of the sill, in degrees."""

    def __getitem__(self, name: SizeName) -> float:
        return self.chosen[name]

    def with_(self, some: Mapping[SizeName, float]) -> Sizes:
        return Sizes(self.rows, {**self.chosen, **some}, self.slope)

    def moved(self) -> Iterator[SizeName]:
        """Sizes that are not the usual ones."""
        return (name for name in NAMES if abs(self[name] - self.rows[name].usual) > FIT)

    def outside(self, name: SizeName) -> bool:
        row = self.rows[name]
        return not row.low - FIT <= self[name] <= row.high + FIT


def usual_sizes(tradition: Tradition, given: Given, knowledge: Knowledge) -> Sizes:
    """Every size as usual, but for those given; profiles made to go with them."""
    rows = rows_of(tradition, knowledge)
    chosen = {name: row.usual for name, row in rows.items()} | dict(given.sizes)
    return profiled(Sizes(rows, chosen, tradition.sill_slope), given)


LEAST_FILLET, LEAST_TONGUE, LEAST_NOSE = 0.0015, 0.0025, 0.004
"""Least width of a muntin's face between its mouldings, of its tongue between the panes, and of the square
nose between rabbet and moulding [m]; judgement."""


def profiled(sizes: Sizes, given: Given) -> Sizes:
    """Rabbet and moulding drawn in as far as the muntin and the thickness of the sash ask for it.

    What was given stays as it is.
    """
    muntin, thickness = sizes["muntin"], sizes["thickness"]
    most: dict[SizeName, float] = {
        "moulding-width": (muntin - LEAST_FILLET) / 2,
        "rabbet-width": (muntin - LEAST_TONGUE) / 2,
    }
    depths = sizes["rabbet-depth"] + sizes["moulding-depth"]
    most["moulding-depth"] = sizes["moulding-depth"] - max(depths + LEAST_NOSE - thickness, 0.0)
    smaller: dict[SizeName, float] = {
        name: max(limit, 0.001)
        for name, limit in most.items()
        if sizes[name] > limit and name not in given.sizes
    }
    return sizes.with_(smaller) if smaller else sizes
