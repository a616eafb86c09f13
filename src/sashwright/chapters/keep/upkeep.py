"""What is to be kept up at one window, and how long each lasts there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.chapters.keep.exposure import Exposure
from sashwright.knowledge.keeping_tables import Upkeep
from sashwright.knowledge.tables import Knowledge, Weatherstrip
from sashwright.knowledge.worth_tables import Measure
from sashwright.window.resolve import Placed


@dataclass(frozen=True, slots=True)
class Life:
    """How long something lasts [years], where it comes from, and what sun and rain make of it."""

    low: float
    likely: float
    high: float
    factor: float
    source: str

    @property
    def years(self) -> tuple[float, float, float]:
        """Low, likely and high at this window."""
        return self.low * self.factor, self.likely * self.factor, self.high * self.factor


@dataclass(frozen=True, slots=True)
class Item:
    """One thing that comes again at a window."""

    row: Upkeep
    life: Life


def items_of(placed: Placed, exposure: Exposure) -> list[Item]:
    """Everything that is kept up at a window, of each thing the row that fits it.

    Raises ``KnowledgeError`` for a life that the measure table has not.
    """
    found: dict[str, Item] = {}
    for row in placed.knowledge.upkeep.values():
        if row.what not in found and _fits(row, placed):
            found[row.what] = Item(row, _life(row, placed, exposure))
    return list(found.values())


def _fits(row: Upkeep, placed: Placed) -> bool:
    family, knowledge = placed.family, placed.knowledge
    coating = knowledge.find("coating", family.sash.coating).key
    kind = knowledge.find("suspension", family.hanging.suspension).kind
    return (
        (not row.coatings or coating in row.coatings)
        and (not row.cords or kind in row.cords)
        and _has(row.has, placed)
    )


def _has(what: str, placed: Placed) -> bool:
    family, layout = placed.family, placed.layout
    there = {
        "": True,
        "storm": family.storm != "none" and family.storm_sash.kind == "wood sash",
        "screen": family.screen.kind != "none",
        "hung": layout.upper.hung or layout.lower.hung,
        "strip": bool(_strips(placed)),
        "unit": any(len(sash.spec.glazing.panes) > 1 for sash in (layout.upper, layout.lower)),
    }
    return there[what]


def _strips(placed: Placed) -> list[Weatherstrip]:
    """The kinds of weatherstrip that are there."""
    strips, knowledge = placed.family.strips, placed.knowledge
    if strips.state != "in place":
        return []
    keys = dict.fromkeys((strips.sides, strips.meeting_rail, strips.head, strips.sill))
    rows = [knowledge.find("weatherstrip", key) for key in keys]
    return [row for row in rows if row.kind != "none"]


def _life(row: Upkeep, placed: Placed, exposure: Exposure) -> Life:
    factor = exposure.factor(covered=row.covered == "yes") if row.weathers == "yes" else 1.0
    if row.life:
        measure: Measure = placed.knowledge.find("measure", row.life)
        low, likely, high = measure.life_years_low, measure.life_years, measure.life_years_high
        return Life(low, likely, high, factor, f"measure table: {measure.source}")
    if row.years_low is not None and row.years is not None and row.years_high is not None:
        told = row.source if row.status in row.source else f"{row.source} ({row.status})"
        return Life(row.years_low, row.years, row.years_high, factor, told)
    # Of several kinds of strip the one that goes first.
    strip = min(_strips(placed), key=lambda each: each.life_years_low + each.life_years_high)
    low, high = strip.life_years_low, strip.life_years_high
    return Life(low, (low + high) / 2, high, factor, f"weatherstrip table: {strip.source}")


def aliases(row: Upkeep) -> Iterator[str]:
    """Every word that names a row, small."""
    yield from (word.casefold() for word in (row.key, row.name, *row.aliases))


def row_of(what: str, knowledge: Knowledge) -> Upkeep | None:
    """The row that a visit's word means; None where it is a word of its own."""
    small = what.strip().casefold()
    for row in knowledge.upkeep.values():
        if small in aliases(row):
            return row
    return None
