"""What to order? All that a job needs, less what lies in stock and what is on order, by kind of supplier."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step
from sashwright.chapters.make.needs import Need, needs_of
from sashwright.chapters.words import HAIR, Words
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import SUPPLIERS
from sashwright.window.spec import House

NAMES: Mapping[str, str] = {
    "lumber": "Lumber",
    "glass": "Glass",
    "hardware": "Hardware and cord",
    "paint": "Paint and putty",
    "weights": "Weights",
    "weatherstrip": "Weatherstrip",
    "storm hardware": "Storm hardware",
    "other": "Other things",
}
"""Kinds of supplier."""
WHOLE_UNITS = frozenset({"piece", "pane", "set", "cartridge", "window"})
"""Units of which no part can be bought."""


def orders(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    stock: Mapping[str, float] | None = None,
    ordered: Mapping[str, float] | None = None,
    received: Mapping[str, float] | None = None,
    needs: Sequence[Need] | None = None,
) -> Answer:
    """What the job needs, has, has ordered and still has to order.

    Parameters
    ----------
    stock
        Amounts by item, in the units of the needs.
    ordered
        By item, in all orders that stand, whether it came or not.
    received
        By item, the part of it that came.
    needs
        As :func:`needs_of` gives them, where they are at hand.

    Raises ``KeyError`` for a window that the house has not.
    """
    words = Words(system or house.units)
    if needs is None:
        needs = needs_of(house, knowledge, numbers, words)
    stock, ordered, received = stock or {}, ordered or {}, received or {}
    lines = [_line(each, stock, ordered, received) for each in needs]
    strange = sorted(set(ordered) - {each.item for each in needs})
    kinds = {
        kind: {
            "name": NAMES[kind],
            "lines": mine,
            "to_order": sum(row["to_order"] > 0 for row in mine),
        }
        for kind in SUPPLIERS
        if (mine := [row for row in lines if row["supplier"] == kind])
    }
    values = {
        "kinds": kinds,
        "lines": len(lines),
        "to_order": sum(row["to_order"] > 0 for row in lines),
        "on_order": sum(row["on_order"] > 0 for row in lines),
        "no_longer_needed": strange,
    }
    findings = list(_findings(lines, strange))
    return Answer("orders", house.name, [], values, findings, list(_steps(lines)))


def _line(
    need: Need,
    stock: Mapping[str, float],
    ordered: Mapping[str, float],
    received: Mapping[str, float],
) -> dict[str, Any]:
    whole = need.unit in WHOLE_UNITS
    wanted = _up(need.quantity) if whole else need.quantity
    here = min(stock.get(need.item, 0.0), wanted)
    came = received.get(need.item, 0.0)
    asked = max(ordered.get(need.item, 0.0), came)
    left = wanted - here - asked
    left = 0.0 if left <= HAIR * max(wanted, 1.0) else left
    return {
        "item": need.item,
        "supplier": need.supplier,
        "says": need.says,
        "unit": need.unit,
        "windows": list(need.windows),
        "need": wanted,
        "in_stock": here,
        "on_order": asked - came,
        "received": came,
        "to_order": _up(left) if whole else left,
        "source": need.source,
    }


def _up(quantity: float) -> float:
    """Up to the next whole one, but not for the last bits of a sum."""
    # Without the last sum none at all would be minus nought.
    return float(-(-(quantity - HAIR) // 1)) + 0.0


def _findings(lines: Sequence[Mapping[str, Any]], strange: Sequence[str]) -> Iterator[Finding]:
    if not lines:
        yield Finding(
            "note", "orders", "Nothing is needed: the alternatives taken ask for nothing to be bought.",
            "what was decided at each window, or is usual there", "treat chapter",
        )  # fmt: skip
    missing = [row for row in lines if row["to_order"] > 0]
    if missing:
        yield Finding(
            "note",
            "orders",
            f"{len(missing)} of {len(lines)} things are still to be ordered.",
            "need less stock, less what is on order or came",
            "sum",
        )
    elif lines:
        yield Finding(
            "ok",
            "orders",
            "Everything is in stock, on order or there.",
            "each line by itself",
            "sum",
        )
    weights = [row for row in lines if row["supplier"] == "weights"]
    if weights:
        yield Finding(
            "caution",
            "weights",
            "Weigh each sash finished, with its glass in, before its weights are ordered.",
            "weights by the computed mass of a sash may be off by more than the closing bias",
            "common practice",
        )
    if strange:
        yield Finding(
            "note",
            "orders",
            f"On order, but not needed any more: {', '.join(strange)}.",
            "the work at a window was changed since",
            "the record",
        )


def _steps(lines: Sequence[Mapping[str, Any]]) -> Iterator[Step]:
    for row in lines:
        yield Step(
            f"to order: {row['says']}",
            "need - in stock - on order - received, not below none",
            {name: row[name] for name in ("need", "in_stock", "on_order", "received")},
            row["to_order"],
            row["unit"],
            row["source"],
        )
