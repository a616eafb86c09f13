"""Cutting plans of a real list from the shop's own stock.

Every board and sheet with its cuts, what is bought, what cannot be cut, what is worth keeping, and how far
from the best the plan may be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.make.boards import LumberPart, Saw
from sashwright.chapters.make.boards import check as check_lumber
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cut import CutPart, GlassPart
from sashwright.chapters.make.cutting.solve import Solved, solve_all
from sashwright.chapters.make.glass_group import groups_of as glass_groups
from sashwright.chapters.make.glass_plan import GlassPlan
from sashwright.chapters.make.glass_sheets import plan_of as glass_plan
from sashwright.chapters.make.lumber import plan_of as lumber_plan
from sashwright.chapters.make.lumber_group import Group as Timber
from sashwright.chapters.make.lumber_group import groups_of as lumber_groups
from sashwright.chapters.make.lumber_plan import LumberPlan
from sashwright.chapters.make.panes import Lite
from sashwright.chapters.make.panes import check as check_glass
from sashwright.chapters.make.planrows import (
    board_rows,
    bought_rows,
    lumber_sum,
    sheet_rows,
    sheet_sum,
)
from sashwright.chapters.make.planwords import plan_findings, plan_steps
from sashwright.chapters.make.stock import Rack, saw_of, table_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.shop import Shop

BARE = ("", "none")
"""What a face of glass without a coating is called."""
ENOUGH = 0.002
"""A gap at which the search of one wood or glass ends early [-]."""


class Listed(Protocol):
    """What a plan needs of a cutting list."""

    @property
    def parts(self) -> tuple[CutPart, ...]: ...

    @property
    def glass(self) -> tuple[GlassPart, ...]: ...


@dataclass(frozen=True, slots=True)
class LumberGroup:
    """Parts of one species and thickness, with their plan."""

    species: str
    quarters: int
    parts: tuple[LumberPart, ...]
    plan: LumberPlan


@dataclass(frozen=True, slots=True)
class GlassGroup:
    """Lites of one glass, with their plan."""

    glass: str
    lites: tuple[Lite, ...]
    plan: GlassPlan


def cutting_plans(
    cut_list: Listed,
    shop: Shop,
    knowledge: Knowledge,
    budget: Budget,
    *,
    house: str = "",
    system: units.System | None = None,
) -> Answer:
    """How the parts and lites of a list come from the stock, the best found within the budget.

    Each species and thickness, and each glass, has a plan of its own; they share the time by their pieces,
    and what one does not need goes to the others. Glass that is coated or sealed into a unit is ordered
    and not cut. ``system`` is that of the sentences; the shop's own where not given.
    """
    words = Words(system or shop.units)
    rack = Rack(shop, knowledge)
    parts = [part.lumber() for part in cut_list.parts]
    plain = [pane for pane in cut_list.glass if _is_cut(pane)]
    ordered = [pane for pane in cut_list.glass if not _is_cut(pane)]
    lumber, glass = _solve(parts, [pane.lite() for pane in plain], rack, budget)
    boards = [row for group in lumber for row in board_rows(group.plan, group.parts, shop)]
    sheets = [row for group in glass for row in sheet_rows(group.plan, shop)]
    for rows, stem in ((boards, "N"), (sheets, "NG")):
        _name_bought(rows, stem, shop)
    values: dict[str, Any] = {
        "lumber": [lumber_sum(group) for group in lumber],
        "glass": [sheet_sum(group) for group in glass],
        "boards": boards,
        "sheets": sheets,
        "buy_boards": bought_rows(boards, ("species", "quarters", "width_m", "length_m", "ripped", "clear")),
        "buy_sheets": bought_rows(sheets, ("glass", "width_m", "height_m")),
        "missing": [*_missing_parts(lumber), *_missing_lites(glass)],
        "ordered_panes": [
            {"mark": pane.mark, "name": pane.name, "count": pane.count, "width_m": pane.cut_width,
             "height_m": pane.cut_height, "panes": list(pane.panes or (pane.glass,)),
             "coatings": list(pane.coatings)}
            for pane in ordered
        ],
        "cost": sum(each.plan.cost for each in lumber) + sum(each.plan.cost for each in glass),
        "buy_cost": sum(row["cost"] for row in (*boards, *sheets) if row["bought"]),
        "currency": shop.currency,
        "saw": {"kerf_m": shop.saw.kerf, "rip_kerf_m": shop.saw.rip_kerf,
                "end_trim_m": shop.saw.end_trim, "edge_trim_m": shop.saw.edge_trim,
                "keep_length_m": shop.saw.keep_length, "keep_width_m": shop.saw.keep_width},
        "table": {"least_strip_m": shop.table.least_strip, "kerf_m": shop.table.kerf,
                  "keep_width_m": shop.table.keep_width, "keep_length_m": shop.table.keep_length},
    }  # fmt: skip
    findings = list(plan_findings(values, lumber, glass, knowledge, words))
    return Answer(
        "cut", house, [], values, findings, list(plan_steps(lumber, glass, shop, knowledge))
    )


def _is_cut(pane: GlassPart) -> bool:
    return not pane.sealed and all(coating in BARE for coating in pane.coatings)


def _solve(
    parts: Sequence[LumberPart], lites: Sequence[Lite], rack: Rack, budget: Budget
) -> tuple[list[LumberGroup], list[GlassGroup]]:
    """A plan for each wood and each glass, all searched together."""
    saw, table = saw_of(rack.shop), table_of(rack.shop)
    kinds = sorted({(part.species, part.quarters) for part in parts})
    boards = [
        board
        for kind in kinds
        for board in rack.boards(*kind, [p for p in parts if (p.species, p.quarters) == kind])
    ]
    sheets = [
        sheet for kind in sorted({lite.glass for lite in lites}) for sheet in rack.sheets(kind)
    ]
    check_lumber(parts, boards, saw)
    check_glass(lites, sheets, table)
    wood, glass = lumber_groups(parts, boards, saw), glass_groups(lites, sheets, table)
    cuttings = [*(group.cutting for group in wood), *(group.cutting for group in glass)]
    solved = solve_all(cuttings, budget, ENOUGH)
    of_wood = list(zip(wood, solved[: len(wood)], strict=True))
    of_glass = list(zip(glass, solved[len(wood) :], strict=True))
    return (
        [
            LumberGroup(*kind, *_lumber([each for each in of_wood if each[0].kind == kind], saw))
            for kind in kinds
        ],
        [
            GlassGroup(group.kind, group.lites, glass_plan([group], [found]))
            for group, found in sorted(of_glass, key=lambda each: each[0].kind)
        ],
    )


def _lumber(
    found: Sequence[tuple[Timber, Solved]], saw: Saw
) -> tuple[tuple[LumberPart, ...], LumberPlan]:
    """Parts and plan of one wood and thickness, which may have been several searches."""
    parts = tuple(part for group, _ in found for part in group.parts)
    return parts, lumber_plan([group for group, _ in found], [each for _, each in found], saw)


def _name_bought(rows: Sequence[dict[str, Any]], stem: str, shop: Shop) -> None:
    """Chalk a name on what is still to be bought that nothing in stock has."""
    taken = {*shop.boards, *shop.strips, *shop.sheets}
    at = 0
    for row in rows:
        if not row["bought"]:
            continue
        at += 1
        while f"{stem}{at}" in taken:
            at += 1
        row["piece"] = f"{stem}{at}"


def _missing_parts(groups: Sequence[LumberGroup]) -> Iterator[dict[str, Any]]:
    for group in groups:
        for each in group.plan.missing:
            yield {"kind": "wood", "label": each.part.label, "count": each.count, "why": each.why,
                   "species": group.species, "quarters": group.quarters,
                   "length_m": each.part.length, "width_m": each.part.width}  # fmt: skip


def _missing_lites(groups: Sequence[GlassGroup]) -> Iterator[dict[str, Any]]:
    for group in groups:
        for each in group.plan.missing:
            yield {"kind": "glass", "label": each.lite.label, "count": each.count, "why": each.why,
                   "glass": group.glass, "width_m": each.lite.width,
                   "height_m": each.lite.height}  # fmt: skip
