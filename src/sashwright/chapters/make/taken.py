"""The shop after a plan was cut: boards and sheets out, off-cuts worth keeping in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.window.quantities import inches
from sashwright.window.shop import Shop, StockBoard, StockSheet, StockStrip

SUFFIXES = "abcdefghijklmnopqrstuvwxyz"
RIPPABLE = 0.1
"""An off-cut of a ripped board at least so wide is a board again [m]; a narrower one is a strip."""


class NotInStock(ValueError):  # noqa: N818
    """The plan uses what the shop no longer has; the message is the sentence to show."""


@dataclass(frozen=True, slots=True)
class Taken:
    """The shop as it is then, and what was booked."""

    shop: Shop
    boards_out: int
    sheets_out: int
    offcuts_in: int

    @property
    def says(self) -> str:
        return (
            f"{_count(self.boards_out, 'board')} and {_count(self.sheets_out, 'sheet')} out, "
            f"{_count(self.offcuts_in, 'off-cut')} in"
        )


def after_cutting(shop: Shop, values: Mapping[str, Any]) -> Taken:
    """Book the boards and sheets of a plan (the values of ``cutting_plans``) out, and its off-cuts in.

    What was bought for the plan was never in stock; only its off-cuts come in. Raises ``NotInStock`` where
    the stock has less than the plan takes; then nothing counts.
    """
    stock: dict[str, dict[str, Any]] = {
        name: dict(getattr(shop, name)) for name in ("boards", "strips", "sheets")
    }
    out = {"boards": 0, "sheets": 0}
    for kind in ("boards", "sheets"):
        for row in values[kind]:
            if not row["bought"]:
                _take_out(stock[row["drawer"]], row["label"])
                out[kind] += 1
    step = inches(1 / 16) if shop.units == "us" else 0.001
    kept = 0
    for row in values["boards"]:
        kept += _put_in_boards(stock, row, step)
    for row in values["sheets"]:
        kept += _put_in_sheets(stock["sheets"], row, step)
    return Taken(shop.model_copy(update=stock), out["boards"], out["sheets"], kept)


def _take_out(drawer: dict[str, Any], label: str) -> None:
    if label not in drawer:
        raise NotInStock(f"The plan takes {label}, which the shop no longer has.")
    one = drawer[label]
    if one.count > 1:
        drawer[label] = one.model_copy(update={"count": one.count - 1})
    else:
        del drawer[label]


def _put_in_boards(stock: dict[str, dict[str, Any]], row: Mapping[str, Any], step: float) -> int:
    for piece in row["offcuts"]:
        length, width = piece["to_m"] - piece["from_m"], piece["far_m"] - piece["near_m"]
        board = row["ripped"] and width >= RIPPABLE
        drawer = stock["boards" if board else "strips"]
        model = StockBoard if board else StockStrip
        drawer[_name(row["piece"], stock)] = model(
            species=row["species"],
            quarters=row["quarters"],
            width=_down(width, step),
            length=_down(length, step),
            clear=row["clear"],
            place=row["place"],
            note=f"off-cut of {row['piece']}",
        )
    return len(row["offcuts"])


def _put_in_sheets(drawer: dict[str, Any], row: Mapping[str, Any], step: float) -> int:
    pieces: Sequence[Mapping[str, Any]] = row["offcuts"]
    for piece in pieces:
        drawer[_name(row["piece"], {"sheets": drawer})] = StockSheet(
            glass=row["glass"],
            width=_down(piece["width_m"], step),
            height=_down(piece["height_m"], step),
            place=row["place"],
            note=f"off-cut of {row['piece']}",
        )
    return len(pieces)


def _down(length: float, step: float) -> float:
    """What the tape reads, rounded down."""
    return math.floor(length / step + 1e-6) * step


def _name(piece: str, stock: Mapping[str, Mapping[str, Any]]) -> str:
    """``B12a``, ``B12b``, and so on: the first that nothing has."""
    stem = piece.replace(" no. ", "-")[:20]
    return next(
        name for name in _names(stem) if not any(name in drawer for drawer in stock.values())
    )


def _names(stem: str) -> Iterator[str]:
    yield from (f"{stem}{letter}" for letter in SUFFIXES)
    yield from (f"{stem}{first}{second}" for first in SUFFIXES for second in SUFFIXES)


def _count(number: int, word: str) -> str:
    return f"{number} {word if number == 1 else word + 's'}"
