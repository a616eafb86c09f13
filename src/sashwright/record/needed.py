"""What a house of the record needs, with the shop's stock and the orders that stand counted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.make.orders import orders as ask
from sashwright.chapters.make.stocked import stock_of
from sashwright.record.facts import knowledge
from sashwright.record.houses import load_house
from sashwright.record.orders import on_order, orders
from sashwright.record.shop import load_shop
from sashwright.window.spec import House


def needed(slug: str, system: units.System | None = None, house: House | None = None) -> Answer:
    """What a house needs, has and has ordered; ``house`` is it, where it is at hand.

    Raises ``NotThere``.
    """
    ordered, received = on_order(orders(slug))
    return ask(
        load_house(slug) if house is None else house,
        knowledge(),
        system=system,
        stock=stock_of(load_shop(), knowledge()),
        ordered=ordered,
        received=received,
    )


def missing_lines(
    answer: Answer, kind: str, bought: Callable[[float, str], float] = lambda amount, _: amount
) -> list[dict[str, Any]]:
    """Lines of an order for all that is still to be ordered from one kind of supplier.

    ``bought`` rounds an amount, in its unit, to what is asked for.
    """
    found = answer.values["kinds"].get(kind)
    return [
        {
            "item": row["item"], "says": row["says"],
            "quantity": bought(row["to_order"], row["unit"]),
            "unit": row["unit"], "windows": row["windows"],
        }
        for row in (found["lines"] if found else ())
        if row["to_order"] > 0
    ]  # fmt: skip
