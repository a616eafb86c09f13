"""Lites cut from sheets and old panes by straight breaks from edge to edge.

A sheet is scored and broken into strips, across it or up it; each strip into pieces as wide as the
strip; a piece into like lites one beside the other, and what is over trimmed off. Nothing narrower than
a strip that breaks off cleanly is ever left to break.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.problem import Plan, Strip, Used
from sashwright.chapters.make.cutting.solve import Solved, solve_all
from sashwright.chapters.make.glass_group import COST_STEPS, UPRIGHT, Group, groups_of
from sashwright.chapters.make.glass_plan import CutSheet, GlassPlan, MissingLite, PlacedLite
from sashwright.chapters.make.panes import Lite, Sheet, Table, check

__all__ = ["GlassPlan", "Lite", "Sheet", "Table", "cut_glass"]

ENOUGH = 0.002
"""A gap at which the search ends early [-]."""


def cut_glass(
    lites: Sequence[Lite],
    sheets: Sequence[Sheet],
    budget: Budget,
    table: Table | None = None,
    enough: float = ENOUGH,
) -> GlassPlan:
    """The cheapest plan found within the budget, with the bounds that say how good it is.

    Kinds of glass do not mix. Raises ``ValueError`` for sizes that make no sense; lites that are larger
    than every sheet, or that the sheets do not suffice for, are told in ``missing``.
    """
    table = table or Table()
    check(lites, sheets, table)
    groups = groups_of(lites, sheets, table)
    return plan_of(groups, solve_all([group.cutting for group in groups], budget, enough))


def plan_of(groups: Sequence[Group], solved: Sequence[Solved]) -> GlassPlan:
    """The plan of some groups that were searched together with others."""
    cut: list[CutSheet] = []
    missing: list[MissingLite] = []
    for group, found in zip(groups, solved, strict=True):
        names = group.names()
        cut += [_sheet(used, group, names) for used in found.plan.used]
        missing += _missing(found.plan, group)
    bounds = [found.bound for found in solved if found.bound is not None]
    return GlassPlan(
        sheets=tuple(cut),
        missing=tuple(missing),
        cost=sum(found.cost for found in solved) / COST_STEPS,
        bound=sum(bounds) / COST_STEPS if len(bounds) == len(solved) else None,
        area_bound=sum(_area_bound(group) for group in groups),
        first_fit_cost=sum(found.first_fit_cost for found in solved) / COST_STEPS,
        exact=all(group.grid.exact for group in groups),
        bought=dict(Counter(each.sheet.label for each in cut if each.sheet.count is None)),
    )


def _area_bound(group: Group) -> float:
    """Least cost of so much glass: the cheapest by area first, of sheets at hand no more than there are."""
    wanted = sum(lite.width * lite.height * lite.count for lites in group.items for lite in lites)
    total = 0.0
    for sheet in sorted(group.sheets, key=lambda sheet: sheet.price / sheet.area):
        there = wanted if sheet.count is None else min(sheet.area * sheet.count, wanted)
        total += there * sheet.price / sheet.area
        wanted -= there
    return total


def _missing(plan: Plan, group: Group) -> Iterator[MissingLite]:
    for lite in group.hopeless:
        yield MissingLite(lite, lite.count, "larger than every sheet of its glass")
    left = list(plan.short)
    # The last lites of an item are those that got nothing.
    for item, lites in enumerate(group.items):
        for lite in reversed(lites):
            number = min(left[item], lite.count)
            left[item] -= number
            if number:
                yield MissingLite(
                    lite, number, "the sheets at hand do not suffice, and none can be bought"
                )


def _sheet(used: Used, group: Group, names: Sequence[Iterator[Lite]]) -> CutSheet:
    """The plan of one sheet in metres."""
    sheet = group.sheets[used.stock]
    upright = used.way == UPRIGHT
    placed: list[PlacedLite] = []
    across = sheet.trim
    for strip in used.areas[0]:
        placed += _strip(strip, group, names, (sheet.trim, across), upright)
        # By its steps, which hold the lites even where they were rounded.
        across += strip.width * group.step
    return CutSheet(sheet, upright, tuple(placed))


def _strip(
    strip: Strip,
    group: Group,
    names: Sequence[Iterator[Lite]],
    corner: tuple[float, float],
    upright: bool,
) -> Iterator[PlacedLite]:
    along = corner[0]
    for index in sorted(strip.faces, key=lambda f: group.cutting.faces[f].across, reverse=True):
        face = group.cutting.faces[index]
        for place in range(face.number):
            lite = next(names[face.item])
            at = corner[1] + place * (face.across // face.number) * group.step
            x, y = (at, along) if upright else (along, at)
            turned = group.turned(face, lite, upright)
            width, height = (lite.height, lite.width) if turned else (lite.width, lite.height)
            yield PlacedLite(lite.label, x, y, width, height, turned, lite.arched)
        along += face.along * group.step
