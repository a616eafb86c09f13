"""From a plain document to a shop, or to everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.check import HouseError, problems_of
from sashwright.window.problem import Problem
from sashwright.window.shop import SUPPLY_TABLES, Defect, GlassOffer, Shop, StockSheet


class ShopError(HouseError):
    """A shop's document is not valid; ``problems`` lists everything found."""


def shop_from(document: Mapping[str, Any], knowledge: Knowledge) -> Shop:
    """Read and cross-check a shop. Raises ``ShopError`` with all problems at once."""
    said = document.get("units", "us")
    context = {"system": said if said in ("us", "metric") else "us"}
    try:
        shop = Shop.model_validate(dict(document), context=context)
    except ValidationError as error:
        raise ShopError(list(problems_of(error))) from None
    if problems := list(shop_problems(shop, knowledge)):
        raise ShopError(problems)
    return shop


def shop_problems(shop: Shop, knowledge: Knowledge) -> Iterator[Problem]:
    """Rows that no table has, and defects and trims that leave nothing."""
    for field, table, key in _rows_named(shop):
        try:
            row = knowledge.find(table, key)
        except KnowledgeError as error:
            expected = str(error).partition(", expected ")[2].rstrip(".") or str(error)
            yield Problem(field, repr(key), expected)
            continue
        if table == "rate" and row.kind != "an hour":
            yield Problem(field, repr(key), "a skill that is paid by the hour")
    for name in ("boards", "strips"):
        for label, board in getattr(shop, name).items():
            yield from _beyond(f"{name}.{label}", board.defects, board.length)
    least = shop.table.least_strip + shop.table.kerf
    for name in ("sheets", "glass"):
        for label, sheet in getattr(shop, name).items():
            yield from _untrimmable(f"{name}.{label}.trim", sheet, least)


def _untrimmable(field: str, sheet: StockSheet | GlassOffer, least: float) -> Iterator[Problem]:
    if 2 * sheet.trim >= min(sheet.width, sheet.height):
        yield Problem(field, "more than the sheet has", "what is cut off each of its edges")
    elif 0 < sheet.trim < least - 1e-9:
        yield Problem(
            field,
            f"{sheet.trim * 1000:.3g} mm",
            f"none, or at least {least * 1000:.3g} mm, which breaks off cleanly",
        )


def _beyond(field: str, defects: Sequence[Defect], length: float) -> Iterator[Problem]:
    for at, defect in enumerate(defects):
        if defect.end > length + 1e-9:
            yield Problem(
                f"{field}.defects.{at}", "a defect beyond the board's end", "places on the board"
            )


def _rows_named(shop: Shop) -> Iterator[tuple[str, str, str]]:
    for skill in shop.hours:
        yield f"hours.{skill}", "rate", skill
    for name in ("boards", "strips", "lumber"):
        for label, board in getattr(shop, name).items():
            yield f"{name}.{label}.species", "wood", board.species
    for name in ("sheets", "glass"):
        for label, sheet in getattr(shop, name).items():
            yield f"{name}.{label}.glass", "glass", sheet.glass
    for label, weight in shop.weights.items():
        yield f"weights.{label}.material", "weight_material", weight.material
    for drawer, table in SUPPLY_TABLES.items():
        for key in getattr(shop.supplies, drawer):
            yield f"supplies.{drawer}.{key}", table, key
