"""What a cutting plan says: what cannot be cut, what to buy, how good it is, and how it was worked out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sashwright.chapters.answer import Finding, Step
from sashwright.chapters.make.plan import Plan
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.shop import Shop

if TYPE_CHECKING:
    from sashwright.chapters.make.plans import GlassGroup, LumberGroup

GOOD = 0.01
"""A plan within so much of the best that there can be is called good [-]."""
SEARCH = "first fit, column generation, whole-number programme"
MOST = 4
"""Kinds of missing pieces told one by one."""


def plan_findings(
    values: Mapping[str, Any],
    lumber: Sequence[LumberGroup],
    glass: Sequence[GlassGroup],
    knowledge: Knowledge,
    words: Words,
) -> Iterator[Finding]:
    """The gravest first: what is missing, what to buy, then the rest."""
    yield from _missing(values["missing"], knowledge, words)
    yield from _to_buy(values, knowledge, words)
    for group in lumber:
        name = _wood(group.species, group.quarters, knowledge)
        yield from _good(f"wood.{group.species}.{group.quarters}", name, group.plan)
        yield from _clear(name, group)
    for pane in glass:
        name = str(knowledge.find("glass", pane.glass).name)
        yield from _good(f"glass.{pane.glass}", name, pane.plan)
    if values["ordered_panes"]:
        count = sum(row["count"] for row in values["ordered_panes"])
        yield Finding(
            "note",
            "glass",
            f"{_count(count, 'pane is', 'panes are')} sealed or coated: ordered to size, not cut.",
            "units and coatings come from the maker",
            "common practice",
        )
    if any(lite.arched for pane in glass for lite in pane.lites):
        yield Finding(
            "note",
            "glass.arched",
            "Arched lites are broken as the rectangle round them first, and then cut to their template.",
            "the plan is of straight breaks from edge to edge",
            "geometry",
        )


def _missing(
    rows: Sequence[Mapping[str, Any]], knowledge: Knowledge, words: Words
) -> Iterator[Finding]:
    """Pieces that cannot be cut, those of one wood or glass and one reason together."""
    groups: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
    for row in rows:
        wood = row["kind"] == "wood"
        name = (
            _wood(row["species"], row["quarters"], knowledge)
            if wood
            else str(knowledge.find("glass", row["glass"]).name)
        )
        groups.setdefault((name, row["why"]), []).append(row)
    for (name, why), group in groups.items():
        count = sum(row["count"] for row in group)
        told = [f"{row['label']}, {_size(row, words)}" for row in group[:MOST]]
        more = f"; and {len(group) - MOST} kinds more" if len(group) > MOST else ""
        yield Finding(
            "fail",
            f"missing.{group[0]['kind']}",
            f"{name}: {_count(count, 'piece', 'pieces')} cannot be cut ({'; '.join(told)}{more}).",
            why,
            "the shop's stock and price list",
        )


def _size(row: Mapping[str, Any], words: Words) -> str:
    first, second = ("length_m", "width_m") if row["kind"] == "wood" else ("width_m", "height_m")
    return f"{words.length(row[first])} by {words.length(row[second])}"


def _to_buy(values: Mapping[str, Any], knowledge: Knowledge, words: Words) -> Iterator[Finding]:
    for row in values["buy_boards"]:
        name = _wood(row["species"], row["quarters"], knowledge)
        size = f"{words.length(row['width_m'])} by {_long(row['length_m'], words)}"
        what = "board" if row["ripped"] else "strip"
        clear = "clear " if row["clear"] else ""
        yield Finding(
            "note",
            f"buy.{row['label']}",
            f"To be bought: {_count(row['count'], f'{clear}{what}', f'{clear}{what}s')} of {name}, {size}, "
            f"for {values['currency']} {row['cost']:,.2f}.",
            "the stock does not suffice, or would be cut to waste",
            "the shop's price list",
        )
    for row in values["buy_sheets"]:
        name = knowledge.find("glass", row["glass"]).name
        size = f"{words.length(row['width_m'])} by {words.length(row['height_m'])}"
        yield Finding(
            "note",
            f"buy.{row['label']}",
            f"To be bought: {_count(row['count'], 'sheet', 'sheets')} of {name}, {size}, for "
            f"{values['currency']} {row['cost']:,.2f}.",
            "the sheets at hand do not suffice, or would be cut to waste",
            "the shop's price list",
        )


def _good(on: str, name: str, plan: Plan) -> Iterator[Finding]:
    if plan.gap is None:
        yield Finding(
            "caution",
            on,
            f"{name}: how good the plan is cannot be said, as not all pieces could be placed.",
            "a bound holds for all pieces together",
            "judgement",
        )
        return
    saved = f", {plan.saved:.0%} less than longest first would" if plan.saved > 0.005 else ""
    if plan.proven:
        says = f"{name}: no plan of this kind costs less{saved}."
    else:
        says = (
            f"{name}: the plan costs at most {plan.gap:.1%} more than the best of its kind{saved}."
        )
    because = "the bound that the search proved"
    if not plan.exact:
        because += "; sizes that share no grid were rounded to the safe side"
    yield Finding("ok" if plan.gap <= GOOD else "note", on, says, because, SEARCH)


def _clear(name: str, group: LumberGroup) -> Iterator[Finding]:
    """Long parts that would be better of clear wood and are not."""
    wished = {part.label for part in group.parts if part.clear == "wish"}
    common = sum(
        cut.label in wished
        for each in group.plan.boards
        if not each.board.clear
        for strip in each.strips
        for cut in strip.cuts
    )
    if common:
        yield Finding(
            "note",
            f"wood.{group.species}.{group.quarters}.clear",
            f"{name}: {_count(common, 'long part comes', 'long parts come')} from common boards; choose "
            "where the knots fall.",
            "clear wood of this kind is not at hand, or dearer than the shop allows for it",
            "the shop's saw rules",
        )


def plan_steps(
    lumber: Sequence[LumberGroup], glass: Sequence[GlassGroup], shop: Shop, knowledge: Knowledge
) -> Iterator[Step]:
    """Yield, cost, bound and gap of each wood and glass."""
    for group in lumber:
        name, plan = _wood(group.species, group.quarters, knowledge), group.plan
        parts = sum(each.parts_feet for each in plan.boards)
        yield Step(
            f"yield of {name}",
            "board feet of the parts / board feet of the boards",
            {"parts_board_feet": parts, "boards_board_feet": plan.board_feet},
            plan.wood_yield,
            "-",
            "board feet: thickness in quarters / 4 x width in x length ft / 12",
        )
        yield from _gap_step(name, plan, shop)
    for pane in glass:
        name, sheets = str(knowledge.find("glass", pane.glass).name), pane.plan
        yield Step(
            f"yield of {name}",
            "area of the lites / area of the sheets",
            {"sheets": len(sheets.sheets)},
            sheets.glass_yield,
            "-",
            "geometry",
        )
        yield from _gap_step(name, sheets, shop)


def _gap_step(name: str, plan: Plan, shop: Shop) -> Iterator[Step]:
    if plan.gap is not None and plan.bound is not None:
        yield Step(
            f"gap of the plan for {name}",
            "(cost - bound) / cost",
            {
                "cost": round(plan.cost, 4),
                "bound": round(plan.bound, 4),
                "longest_first_cost": round(plan.first_fit_cost, 4),
                "currency": shop.currency,
                "stock_worth_percent": shop.saw.stock_worth,
            },
            plan.gap,
            "-",
            f"{SEARCH}; P. C. Gilmore and R. E. Gomory 1961, 1963",
        )


def _wood(species: str, quarters: int, knowledge: Knowledge) -> str:
    return f"{knowledge.find('wood', species).name} {quarters}/4"


def _long(metres: float, words: Words) -> str:
    if words.system == "us":
        return f"{metres / 0.3048:.4g} ft"
    return f"{metres:.4g} m"


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
