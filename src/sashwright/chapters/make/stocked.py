"""What a shop has of the things that jobs need, by the names that lists of needs use."""

from __future__ import annotations

from collections.abc import Mapping

from sashwright.chapters.make.rough import board_feet
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.shop import Shop

DRAWERS: Mapping[str, tuple[str, str]] = {
    "cords": ("cord", "suspension"),
    "weatherstrip": ("strip", "weatherstrip"),
    "pulleys": ("pulley", "pulley"),
    "hardware": ("hardware", "hardware"),
    "putty": ("putty", "putty"),
    "materials": ("material", "material"),
}
"""How the drawers of a shop's supplies are called in a list of needs, and the table of their rows."""


def stock_of(shop: Shop, knowledge: Knowledge) -> dict[str, float]:
    """Amounts by item, in the units of a list of needs.

    Boards by species and thickness in board feet, defects and widths not looked at: the cutting plan does
    that. Sheets of glass and salvaged weights are left out, for only the plans for glass and for the bin
    can tell what they give.
    """
    found: dict[str, float] = {}

    def add(item: str, amount: float) -> None:
        found[item] = found.get(item, 0.0) + amount

    for board in (*shop.boards.values(), *shop.strips.values()):
        wood = _key(knowledge, "wood", board.species)
        each = board_feet(board.quarters, board.width, board.length)
        add(f"lumber/{wood}/{board.quarters}", board.count * each)
    for drawer, (name, table) in DRAWERS.items():
        for key, amount in getattr(shop.supplies, drawer).items():
            add(f"{name}/{_key(knowledge, table, key)}", float(amount))
    return found


def _key(knowledge: Knowledge, table: str, key: str) -> str:
    """The row's own key, whatever alias the shop wrote."""
    try:
        return str(knowledge.find(table, key).key)
    except KnowledgeError:
        return key
