"""Cutting plans as rows: one for each board and sheet in the order of cutting, and the sums."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sashwright.chapters.make.boards import LumberPart
from sashwright.chapters.make.breaks import Region, broken
from sashwright.chapters.make.glass_plan import CutSheet, GlassPlan
from sashwright.chapters.make.lumber_plan import CutBoard, LumberPlan
from sashwright.chapters.make.panes import Sheet
from sashwright.chapters.make.rough import board_feet
from sashwright.chapters.make.stock import table_of
from sashwright.window.shop import Shop

if TYPE_CHECKING:
    from sashwright.chapters.make.plans import GlassGroup, LumberGroup


def board_rows(
    plan: LumberPlan, parts: Sequence[LumberPart], shop: Shop
) -> Iterator[dict[str, Any]]:
    """Boards with their cuts; those with the longest clear parts first, then what is at hand."""
    clear = {part.label for part in parts if part.clear != "no"}
    rows = [_board(each, clear, shop) for each in plan.boards]
    rows.sort(key=lambda row: (-row["long_clear_m"], row["bought"], -row["longest_m"]))
    yield from _numbered(rows)


def _board(each: CutBoard, clear: set[str], shop: Shop) -> dict[str, Any]:
    board = each.board
    cuts = [cut for strip in each.strips for cut in strip.cuts]
    return {
        **_taken(board.label, shop, bought=board.count is None),
        "species": board.species,
        "quarters": board.quarters,
        "width_m": board.width,
        "length_m": board.length,
        "ripped": board.rip,
        "clear": board.clear,
        "cost": round(board.price, 2),
        "board_feet": board.board_feet,
        "parts_feet": each.parts_feet,
        "yield": each.parts_feet / board.board_feet,
        "longest_m": max((cut.end - cut.start for cut in cuts), default=0.0),
        "long_clear_m": max(
            (cut.end - cut.start for cut in cuts if cut.label in clear), default=0.0
        ),
        "defects_m": [list(defect) for defect in board.defects],
        "strips": [
            {"near_m": strip.near, "far_m": strip.far, "from_m": strip.start, "to_m": strip.end,
             "cuts": [
                 {"label": cut.label, "from_m": cut.start, "to_m": cut.end, "width_m": cut.width}
                 for cut in strip.cuts
             ]}
            for strip in each.strips
        ],
        "offcuts": [
            {"from_m": piece.start, "to_m": piece.start + piece.length, "near_m": piece.near,
             "far_m": piece.near + piece.width}
            for piece in each.offcuts
        ],
    }  # fmt: skip


def _taken(named: str, shop: Shop, *, bought: bool) -> dict[str, Any]:
    """Where a board or sheet comes from; ``named`` by its drawer and what is chalked on it."""
    drawer, _, label = named.partition("/")
    in_stock = None if bought else getattr(shop, drawer)[label]
    return {
        "piece": label,
        "drawer": drawer,
        "label": label,
        "bought": bought,
        "of": 1 if in_stock is None else in_stock.count,
        "place": "" if in_stock is None else in_stock.place,
    }


def _numbered(rows: Sequence[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Rows with their order; boards alike are told apart as B12 1/3, B12 2/3."""
    met: Counter[tuple[str, str]] = Counter()
    for order, row in enumerate(rows, 1):
        met[row["drawer"], row["label"]] += 1
        if row["of"] > 1 and not row["bought"]:
            row["piece"] = f"{row['label']} no. {met[row['drawer'], row['label']]}"
        row["order"] = order
        yield row


def sheet_rows(plan: GlassPlan, shop: Shop) -> Iterator[dict[str, Any]]:
    """Sheets with their lites and breaks; old panes and what is at hand first, then the fullest."""
    rows = [_sheet(each, shop) for each in plan.sheets]
    rows.sort(key=lambda row: (row["bought"], -row["yield"]))
    yield from _numbered(rows)


def _sheet(each: CutSheet, shop: Shop) -> dict[str, Any]:
    sheet = each.sheet
    found = broken(each, table_of(shop))
    return {
        **_taken(sheet.label, shop, bought=sheet.count is None),
        "glass": sheet.glass,
        "width_m": sheet.width,
        "height_m": sheet.height,
        "trim_m": sheet.trim,
        "cost": round(sheet.price, 2),
        "yield": each.used,
        "upright": each.upright,
        "lites": [
            {"label": lite.label, "x_m": lite.x, "y_m": lite.y, "width_m": lite.width,
             "height_m": lite.height, "turned": lite.turned, "arched": lite.arched}
            for lite in each.lites
        ],
        "breaks": [
            {"order": one.order, "upright": one.upright, "at_m": one.at, "from_m": one.start,
             "to_m": one.end, "level": one.level}
            for one in found.breaks
        ],
        "offcuts": [
            {"x_m": piece.left, "y_m": piece.low, "width_m": piece.width, "height_m": piece.height}
            for piece in (_sound(each, sheet) for each in found.waste)
            if _worth_keeping(piece, shop)
        ],
    }  # fmt: skip


def _sound(piece: Region, sheet: Sheet) -> Region:
    """A piece without the sheet's bad edges."""
    right, high = sheet.width - sheet.trim, sheet.height - sheet.trim
    return Region(piece.left, piece.low, min(piece.right, right), min(piece.high, high))


def _worth_keeping(piece: Region, shop: Shop) -> bool:
    short, long = sorted((piece.width, piece.height))
    return short >= shop.table.keep_width - 1e-9 and long >= shop.table.keep_length - 1e-9


def bought_rows(rows: Sequence[Mapping[str, Any]], alike: Sequence[str]) -> list[dict[str, Any]]:
    """What is to be bought: alike together, with count and cost."""
    found: dict[tuple[Any, ...], dict[str, Any]] = {}
    for row in rows:
        if row["bought"]:
            key = (row["label"], *(row[name] for name in alike))
            line = found.setdefault(
                key,
                {"label": row["label"], "count": 0, "each": row["cost"]}
                | {name: row[name] for name in alike},
            )
            line["count"] += 1
    return [line | {"cost": round(line["count"] * line["each"], 2)} for line in found.values()]


def lumber_sum(group: LumberGroup) -> dict[str, Any]:
    """One wood and thickness: how much, how well, how sure."""
    plan = group.plan
    kept = sum(board_feet(group.quarters, piece.width, piece.length) for piece in plan.offcuts)
    return {
        "species": group.species,
        "quarters": group.quarters,
        "pieces": sum(part.count for part in group.parts),
        "parts_feet": sum(each.parts_feet for each in plan.boards),
        "boards": len(plan.boards),
        "board_feet": plan.board_feet,
        "yield": plan.wood_yield,
        "kept_feet": kept,
        "bought": sum(plan.bought.values()),
        **_sure(plan),
    }


def sheet_sum(group: GlassGroup) -> dict[str, Any]:
    """One glass: how much, how well, how sure."""
    plan = group.plan
    return {
        "glass": group.glass,
        "pieces": sum(lite.count for lite in group.lites),
        "lites_m2": sum(each.used * each.sheet.area for each in plan.sheets),
        "sheets": len(plan.sheets),
        "sheets_m2": sum(each.sheet.area for each in plan.sheets),
        "yield": plan.glass_yield,
        "bought": sum(plan.bought.values()),
        **_sure(plan),
    }


def _sure(plan: LumberPlan | GlassPlan) -> dict[str, Any]:
    return {
        "cost": plan.cost,
        "bound": plan.bound,
        "gap": plan.gap,
        "proven": plan.proven,
        "first_fit_cost": plan.first_fit_cost,
        # First fit may cost less by leaving pieces out.
        "saved": plan.saved if plan.saved >= 0 else None,
        "exact": plan.exact,
    }
