"""A shop with its stock as one readable text file (TOML), read and written as a house file is."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sashwright.knowledge.tables import Knowledge
from sashwright.record.housefile import bytes_of, parse_checked, rows_text
from sashwright.window.shop import Shop
from sashwright.window.shop_check import shop_from

ROWS = frozenset({"boards", "strips", "sheets", "weights", "lumber", "glass"})
"""Tables with a line for each thing that goes by a label."""


def read_shop(path: str | Path, knowledge: Knowledge) -> Shop:
    """The shop that a file describes. Raises ``HouseFileError`` with all problems at once."""
    return parse_shop(bytes_of(Path(path)), str(path), knowledge)


def parse_shop(data: bytes, file: str, knowledge: Knowledge) -> Shop:
    """As ``read_shop``, of a file's bytes; ``file`` is its name for messages."""
    return parse_checked(data, file, lambda document: shop_from(document, knowledge), Shop)


def shop_document(shop: Shop) -> dict[str, Any]:
    """A shop as plain values, lengths and masses as text with units, and nothing of what is plain."""
    context = {"system": shop.units}
    document = shop.model_dump(mode="json", context=context, exclude_none=True)
    short = shop.model_dump(mode="json", context=context, exclude_none=True, exclude_defaults=True)
    # Rules are written in full, so that a file keeps its meaning when a default of the program changes.
    whole = ("units", "currency", "saw", "table", "bin")
    return {
        key: document[key] if key in whole else short[key]
        for key in document
        if key in {*whole, *short}
    }


def shop_text(shop: Shop | Mapping[str, Any]) -> str:
    """The text of a shop file."""
    return rows_text(shop_document(shop) if isinstance(shop, Shop) else shop, ROWS)
