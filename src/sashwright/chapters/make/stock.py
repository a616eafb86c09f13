"""The shop's stock, and what it can buy, as the cutting plans take them; what unpriced stock counts for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.make.boards import Board, LumberPart, Saw
from sashwright.chapters.make.panes import Sheet, Table
from sashwright.chapters.make.rough import board_feet
from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.shop import GlassOffer, Lumber, Shop, StockBoard, StockSheet

SQUARE_FOOT = (12 * INCH) ** 2
BOUGHT = "lumber"
"""Where a board that is to be bought comes from."""


def saw_of(shop: Shop) -> Saw:
    """The shop's saw, as the solver takes it."""
    rules = shop.saw
    return Saw(
        kerf=rules.kerf,
        rip_kerf=rules.rip_kerf,
        end_trim=rules.end_trim,
        edge_trim=rules.edge_trim,
        keep_length=rules.keep_length,
        keep_width=rules.keep_width,
        from_wider=rules.from_wider,
        wish=rules.clear_worth / 100,
    )


def table_of(shop: Shop) -> Table:
    """The shop's glass table."""
    return Table(least_strip=shop.table.least_strip, kerf=shop.table.kerf)


@dataclass(frozen=True)
class Rack:
    """What a shop can cut from. A board's or sheet's label names its drawer too: ``boards/B12``."""

    shop: Shop
    knowledge: Knowledge

    # --- lumber

    def boards(self, species: str, quarters: int, parts: Sequence[LumberPart]) -> list[Board]:
        """Boards and strips at hand of one wood and thickness, and those that can be bought for parts."""
        found = []
        for drawer, rip in (("boards", True), ("strips", False)):
            stock: dict[str, StockBoard] = getattr(self.shop, drawer)
            found += [
                self._at_hand(f"{drawer}/{label}", board, rip=rip)
                for label, board in stock.items()
                if (self._wood(board.species), board.quarters) == (species, quarters)
            ]
        return [*found, *self._for_sale(species, quarters, parts)]

    def _at_hand(self, label: str, board: StockBoard, *, rip: bool) -> Board:
        worth = float(board.cost) if board.cost is not None else self._worth(board)
        return Board(
            label,
            board.length,
            board.width,
            board.quarters,
            self._wood(board.species),
            rip,
            board.count,
            worth,
            board.clear,
            tuple((defect.start, defect.end) for defect in board.defects),
        )

    def _worth(self, board: StockBoard) -> float:
        feet = board_feet(board.quarters, board.width, board.length)
        price = self.board_foot(self._wood(board.species), board.quarters, clear=board.clear)
        return feet * price * self.shop.saw.stock_worth / 100

    def board_foot(self, species: str, quarters: int, *, clear: bool) -> float:
        """The least that a board foot of it can be bought for; where nobody sells it, as the table has it.

        Clear wood that nobody sells is worth so much more as the shop allows for it.
        """
        asked = [
            (offer.clear, float(offer.price))
            for offer in self.shop.lumber.values()
            if (self._wood(offer.species), offer.quarters) == (species, quarters)
        ]
        same = [price for is_clear, price in asked if is_clear == clear]
        if same:
            return min(same)
        any_price = min(
            (price for _, price in asked),
            default=float(self.knowledge.find("material", "board").price),
        )
        more = 1 + self.shop.saw.clear_worth / 100
        return any_price * more if clear else any_price / (more if asked else 1)

    def _for_sale(
        self, species: str, quarters: int, parts: Sequence[LumberPart]
    ) -> Iterator[Board]:
        for label, offer in self.shop.lumber.items():
            if (self._wood(offer.species), offer.quarters) != (species, quarters):
                continue
            widths = offer.widths or sorted({part.width for part in parts})
            for width in widths:
                for length in offer.lengths:
                    yield self._bought(label, offer, width, length)

    def _bought(self, label: str, offer: Lumber, width: float, length: float) -> Board:
        return Board(
            f"{BOUGHT}/{label}",
            length,
            width,
            offer.quarters,
            self._wood(offer.species),
            bool(offer.widths),
            None,
            board_feet(offer.quarters, width, length) * float(offer.price),
            offer.clear,
        )

    def _wood(self, species: str) -> str:
        return str(self.knowledge.find("wood", species).key)

    # --- glass

    def sheets(self, glass: str) -> list[Sheet]:
        """Sheets and old panes at hand of one glass, and sheets that can be bought."""
        found = [
            Sheet(
                f"sheets/{label}",
                sheet.width,
                sheet.height,
                glass,
                sheet.count,
                float(sheet.cost) if sheet.cost is not None else self._glass_worth(sheet),
                sheet.trim,
            )
            for label, sheet in self.shop.sheets.items()
            if self._glass(sheet.glass) == glass
        ]
        offers = self._offers.get(glass, {})
        return found + [
            Sheet(
                f"glass/{label}",
                offer.width,
                offer.height,
                glass,
                None,
                float(offer.price),
                offer.trim,
            )
            for label, offer in offers.items()
        ]

    def _glass_worth(self, sheet: StockSheet) -> float:
        offers = self._offers.get(self._glass(sheet.glass), {}).values()
        by_area = [float(offer.price) / (offer.width * offer.height) for offer in offers]
        rate = min(by_area) if by_area else self._table_rate
        return sheet.width * sheet.height * rate * self.shop.table.stock_worth / 100

    @property
    def _table_rate(self) -> float:
        return float(self.knowledge.find("material", "glass").price) / SQUARE_FOOT

    @cached_property
    def _offers(self) -> dict[str, dict[str, GlassOffer]]:
        found: dict[str, dict[str, GlassOffer]] = {}
        for label, offer in self.shop.glass.items():
            found.setdefault(self._glass(offer.glass), {})[label] = offer
        return found

    def _glass(self, key: str) -> str:
        return str(self.knowledge.find("glass", key).key)
