"""Cutting plans and the bin of weights in words and pictures, ready for a template."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.drawing.binplot import bin_plot
from sashwright.drawing.cutplan import board_drawing
from sashwright.drawing.cutplan import long as bare
from sashwright.drawing.glasscut import sheet_drawing
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.words import Words, count
from sashwright.web.pictures import svg
from sashwright.web.present import SIDES, name

BOARD_PX = 6.1
SHEET_PX = 4.4
BIN_PX = 5.6
"""Pixels to the paper millimetre."""


@dataclass(frozen=True, slots=True)
class SumRow:
    """One wood or glass: how much, how well, how sure."""

    what: str
    pieces: str
    stock: str
    bought: str
    share: str
    gap: str
    saved: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One board or sheet, drawn."""

    order: int
    name: str
    about: str
    place: str
    bought: bool
    svg: SafeString
    keep: str


@dataclass(frozen=True, slots=True)
class Stack:
    """All boards of one wood and thickness, or all sheets of one glass, in the order of cutting."""

    title: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One line of what is to be bought."""

    count: int
    what: str
    size: str
    cost: str


def sums(answer: Answer, knowledge: Knowledge) -> list[SumRow]:
    """A row for each wood and glass."""
    rows = []
    for row in answer.values["lumber"]:
        stock = f"{count(row['boards'], 'board')}, {row['board_feet']:.1f} bf"
        rows.append(
            _sum(f"{name(knowledge, 'wood', row['species'])} {row['quarters']}/4", row, stock)
        )
    for row in answer.values["glass"]:
        rows.append(
            _sum(name(knowledge, "glass", row["glass"]), row, count(row["sheets"], "sheet"))
        )
    return rows


def _sum(what: str, row: Mapping[str, Any], stock: str) -> SumRow:
    gap = "unknown" if row["gap"] is None else "none" if row["proven"] else f"{row['gap']:.1%}"
    saved = f"{row['saved']:.0%}" if row["saved"] else ""
    bought = str(row["bought"]) if row["bought"] else ""
    return SumRow(what, str(row["pieces"]), stock, bought, f"{row['yield']:.0%}", gap, saved)


def stacks(answer: Answer, knowledge: Knowledge, system: units.System) -> list[Stack]:
    """Boards by wood and thickness."""
    found: dict[str, list[Piece]] = {}
    for at, row in enumerate(answer.values["boards"]):
        title = f"{name(knowledge, 'wood', row['species'])} {row['quarters']}/4"
        about = f"{bare(row['width_m'], system)} by {bare(row['length_m'], system)}"
        about += ", clear" if row["clear"] else ""
        drawn = svg(board_drawing(row, system), f"board-{at}", px_per_mm=BOARD_PX)
        keep = [
            f"{bare(o['far_m'] - o['near_m'], system)} by {bare(o['to_m'] - o['from_m'], system)}"
            for o in row["offcuts"]
        ]
        found.setdefault(title, []).append(_piece(row, about, drawn, keep))
    return [Stack(title, tuple(pieces)) for title, pieces in found.items()]


def panes(answer: Answer, knowledge: Knowledge, system: units.System) -> list[Stack]:
    """Sheets by glass."""
    found: dict[str, list[Piece]] = {}
    for at, row in enumerate(answer.values["sheets"]):
        title = name(knowledge, "glass", row["glass"])
        about = f"{bare(row['width_m'], system)} by {bare(row['height_m'], system)}"
        drawn = svg(sheet_drawing(row, system), f"sheet-{at}", px_per_mm=SHEET_PX)
        keep = [
            f"{bare(o['width_m'], system)} by {bare(o['height_m'], system)}" for o in row["offcuts"]
        ]
        found.setdefault(title, []).append(_piece(row, about, drawn, keep))
    return [Stack(title, tuple(pieces)) for title, pieces in found.items()]


def _piece(row: Mapping[str, Any], about: str, drawn: SafeString, keep: Sequence[str]) -> Piece:
    return Piece(
        row["order"], row["piece"], about, row["place"], row["bought"], drawn, "; ".join(keep)
    )


def to_buy(answer: Answer, knowledge: Knowledge, system: units.System) -> list[ToBuy]:
    """The shopping list of the plans."""
    currency = answer.values["currency"]
    lines = []
    for row in answer.values["buy_boards"]:
        what = f"{name(knowledge, 'wood', row['species'])} {row['quarters']}/4"
        what += ", clear" if row["clear"] else ""
        size = f"{bare(row['width_m'], system)} by {_run(row['length_m'], system)}"
        lines.append(ToBuy(row["count"], what, size, f"{currency} {row['cost']:,.2f}"))
    for row in answer.values["buy_sheets"]:
        size = f"{bare(row['width_m'], system)} by {bare(row['height_m'], system)}"
        what = name(knowledge, "glass", row["glass"])
        lines.append(ToBuy(row["count"], what, size, f"{currency} {row['cost']:,.2f}"))
    return lines


def _run(metres: float, system: units.System) -> str:
    """A length as the yard sells it."""
    return f"{metres / 0.3048:.4g} ft" if system == "us" else bare(metres, system)


# --- the bin --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Hung:
    """The two weights of one sash, as text."""

    number: str
    which: str
    target: str
    left: str
    right: str
    off: str
    buy: str
    first: bool
    """Whether it is the first of its window."""
    fails: bool = False


def hung(answer: Answer, words: Words) -> list[Hung]:
    """Every hung sash of the house."""
    rows = []
    for window in answer.windows:
        sides = [which for which in SIDES if window.values.get(which)]
        for which in sides:
            values = window.values[which]
            rows.append(
                Hung(
                    window.number,
                    which,
                    words.mass(values["weight_each_kg"]),
                    _weight(values["left"], words),
                    _weight(values["right"], words),
                    words.mass(abs(values["off_kg"])) if values["buy"] < 2 else "",
                    _bought(values, words),
                    which == sides[0],
                    bool(values["buy"]) and values["buy_stock"] is None,
                )
            )
    return rows


def _weight(weight: Mapping[str, Any] | None, words: Words) -> str:
    return "" if weight is None else f"{weight['number']} ({words.mass(weight['mass_kg'])})"


def _bought(values: Mapping[str, Any], words: Words) -> str:
    if not values["buy"]:
        return ""
    if values["buy_stock"] is None:
        return "none fits"
    return f"{values['buy']} of {words.mass(values['weight_each_kg'])}"


def bin_picture(answer: Answer) -> SafeString:
    """All weights, hung side by side."""
    rows = [
        {"number": w.number, "values": w.values} for w in answer.windows if any(w.values.values())
    ]
    return svg(bin_plot(rows), "bin", px_per_mm=BIN_PX)


def from_bin(answer: Answer, number: str, which: str, words: Words) -> str:
    """One sentence for the bench: which numbers of the bin hang on a sash."""
    window = next((each for each in answer.windows if each.number == number), None)
    values = window.values.get(which) if window is not None else None
    if not values or not answer.values["weights"]:
        return ""
    numbers = [w["number"] for w in (values["left"], values["right"]) if w]
    if len(numbers) == 2:
        return f"From the bin, nos. {numbers[0]} and {numbers[1]}"
    if numbers:
        return f"From the bin, no. {numbers[0]}; buy one of {words.mass(values['weight_each_kg'])}"
    return "Nothing in the bin is near enough"
