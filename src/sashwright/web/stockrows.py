"""What the shop has, in words, ready for the tables and forms of its pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.http import QueryDict

from sashwright import units
from sashwright.chapters.make.rough import board_feet
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.words import Words
from sashwright.units import INCH
from sashwright.web import shopfields
from sashwright.web.fields import FieldError
from sashwright.web.forms import Shown
from sashwright.web.present import name
from sashwright.window.shop import SUPPLY_TABLES, BinWeight, Shop

SQUARE_FOOT = (12 * INCH) ** 2


@dataclass(frozen=True, slots=True)
class StockRow:
    """One thing in a drawer, as text; numbers of its cells stand to the right."""

    label: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """How much there is of one kind."""

    what: str
    number: str
    amount: str
    drawer: str


COLUMNS: Mapping[str, tuple[str, ...]] = {
    "boards": ("Wood", "Quarters", "Wide", "Long", "How many", "Knots", "Lies", "Note"),
    "strips": ("Wood", "Quarters", "Wide", "Long", "How many", "Knots", "Lies", "Note"),
    "sheets": ("Glass", "Wide", "High", "How many", "Bad edge", "Lies", "Note"),
    "weights": ("Mass", "Long", "Section", "Of", "Note"),
    "lumber": ("Wood", "Quarters", "Widths", "Lengths", "A board foot"),
    "glass": ("Glass", "Wide", "High", "A sheet"),
}


def columns(drawer: str) -> tuple[str, ...]:
    return COLUMNS[drawer]


def rows(
    drawer: str, things: Mapping[str, Any], knowledge: Knowledge, words: Words
) -> list[StockRow]:
    """Every thing of a drawer."""
    return [
        StockRow(label, _CELLS[drawer](thing, knowledge, words)) for label, thing in things.items()
    ]


def _wood(thing: Any, knowledge: Knowledge, words: Words) -> tuple[str, ...]:
    species = name(knowledge, "wood", thing.species) + (", clear" if thing.clear else "")
    knots = shopfields.list_text(thing.defects, words.system)
    size = (words.opening(thing.width * 1000), words.opening(thing.length * 1000))
    return (
        species, f"{thing.quarters}/4", *size, _times(thing.count), knots, thing.place, thing.note
    )  # fmt: skip


def _sheet(thing: Any, knowledge: Knowledge, words: Words) -> tuple[str, ...]:
    size = (words.glass(thing.width * 1000), words.glass(thing.height * 1000))
    trim = words.glass(thing.trim * 1000) if thing.trim else ""
    return (
        name(knowledge, "glass", thing.glass), *size, _times(thing.count), trim, thing.place, thing.note
    )  # fmt: skip


def _weight(thing: BinWeight, knowledge: Knowledge, words: Words) -> tuple[str, ...]:
    return (
        words.mass(thing.mass),
        words.weight_length(thing.length * 1000),
        words.section(thing.shape, thing.size * 1000),
        name(knowledge, "weight_material", thing.material),
        thing.note,
    )


def _lumber(thing: Any, knowledge: Knowledge, words: Words) -> tuple[str, ...]:
    species = name(knowledge, "wood", thing.species) + (", clear" if thing.clear else "")
    widths = shopfields.list_text(thing.widths, words.system) or "to the part"
    feet = words.system == "us"
    lengths = [f"{length / 0.3048:g}'" if feet else f"{length:g} m" for length in thing.lengths]
    return species, f"{thing.quarters}/4", widths, ", ".join(lengths), f"{thing.price:,.2f}"


def _offer(thing: Any, knowledge: Knowledge, words: Words) -> tuple[str, ...]:
    size = (words.glass(thing.width * 1000), words.glass(thing.height * 1000))
    return name(knowledge, "glass", thing.glass), *size, f"{thing.price:,.2f}"


_CELLS: Mapping[str, Any] = {
    "boards": _wood,
    "strips": _wood,
    "sheets": _sheet,
    "weights": _weight,
    "lumber": _lumber,
    "glass": _offer,
}


def _times(count: int) -> str:
    return "" if count == 1 else str(count)


# --- summed up ------------------------------------------------------------------------


def sums(stock: Shop, knowledge: Knowledge, words: Words) -> list[Sum]:
    """Wood by species and thickness, glass by kind, the weights."""
    found = []
    for drawer in ("boards", "strips"):
        groups: dict[tuple[str, int], list[Any]] = {}
        for board in getattr(stock, drawer).values():
            groups.setdefault((board.species, board.quarters), []).append(board)
        for (species, quarters), boards in sorted(groups.items()):
            feet = sum(board_feet(b.quarters, b.width, b.length) * b.count for b in boards)
            number = sum(b.count for b in boards)
            found.append(
                Sum(
                    f"{name(knowledge, 'wood', species)} {quarters}/4",
                    f"{number} {drawer if number > 1 else drawer[:-1]}",
                    f"{feet:.0f} board feet",
                    drawer,
                )
            )
    panes: dict[str, list[Any]] = {}
    for sheet in stock.sheets.values():
        panes.setdefault(sheet.glass, []).append(sheet)
    for glass, sheets in sorted(panes.items()):
        area = sum(s.width * s.height * s.count for s in sheets)
        shown = f"{area / SQUARE_FOOT:.0f} ft²" if words.system == "us" else f"{area:.1f} m²"
        number = sum(s.count for s in sheets)
        found.append(
            Sum(
                name(knowledge, "glass", glass),
                f"{number} sheet{'s' * (number > 1)}",
                shown,
                "sheets",
            )
        )
    if stock.weights:
        mass = words.mass(sum(weight.mass for weight in stock.weights.values()))
        found.append(Sum("Salvaged weights", str(len(stock.weights)), mass, "weights"))
    return found


# --- forms ----------------------------------------------------------------------------


def typed(shown: Sequence[Shown], posted: QueryDict) -> list[Shown]:
    """Fields with what was typed into them."""
    return [replace(each, texts=(posted.get(each.path, ""),)) for each in shown]


def like_the_last(shown: Sequence[Shown], weights: Mapping[str, BinWeight]) -> list[Shown]:
    """An empty form at the scale: material and shape as of the weight entered last."""
    last = list(weights.values())[-1] if weights else None
    kept = {"material": last.material, "shape": last.shape} if last else {"material": "cast-iron"}
    return [
        replace(each, texts=(kept[each.path],)) if each.path in kept else each for each in shown
    ]


@dataclass(frozen=True, slots=True)
class Supply:
    """How much there is of one row of a table."""

    path: str
    label: str
    text: str
    unit: str

    @property
    def id(self) -> str:
        return "f-" + "".join(c if c.isalnum() else "-" for c in self.path)


_TITLES: Mapping[str, str] = {
    "cords": "Cord, chain and tape",
    "weatherstrip": "Weatherstrip",
    "pulleys": "Pulleys",
    "hardware": "Hardware",
    "putty": "Putty",
    "materials": "Points, pins, glue, paint",
}
_UNIT: Mapping[str, tuple[str, str]] = {
    "cords": ("ft", "m"),
    "weatherstrip": ("ft", "m"),
    "putty": ("lb", "kg"),
}
ELSEWHERE = frozenset({
    "putty", "glass", "low-e-glass", "board", "durable-board", "sill-board", "cord", "weight", "pulley",
    "lock", "lift", "hanger", "strip",
})  # fmt: skip
"""Rows of the material table that have a drawer of their own."""


def supply_groups(
    stock: Shop, knowledge: Knowledge, posted: QueryDict | None
) -> list[tuple[str, list[Supply], int]]:
    """Title, rows and how many of them there is some of; for each drawer of supplies."""
    found = []
    for drawer, table in SUPPLY_TABLES.items():
        have: Mapping[str, float] = getattr(stock.supplies, drawer)
        lines = []
        for key, row in getattr(knowledge, table).items():
            if key == "none" or (drawer == "materials" and key in ELSEWHERE and key not in have):
                continue
            path = f"{drawer}.{key}"
            text = _amount(drawer, have.get(key), stock.units)
            if posted is not None:
                text = posted.get(path, text)
            lines.append(Supply(path, row.name, text, _unit(drawer, row, stock.units)))
        found.append((_TITLES[drawer], lines, sum(1 for line in lines if line.text)))
    return found


def _unit(drawer: str, row: Any, system: units.System) -> str:
    if drawer == "materials":
        return str(row.unit)
    return _UNIT.get(drawer, ("", ""))[system == "metric"]


def _amount(drawer: str, value: float | None, system: units.System) -> str:
    if not value:
        return ""
    per = 1.0
    if drawer in ("cords", "weatherstrip"):
        per = 0.3048 if system == "us" else 1.0
    elif drawer == "putty":
        per = units.POUND if system == "us" else 1.0
    return f"{round(value / per, 3):g}"


def supply_changes(posted: QueryDict, knowledge: Knowledge, system: units.System) -> dict[str, Any]:
    """What was counted. Raises ``FieldError`` with the row's name."""
    changes: dict[str, Any] = {}
    for drawer, table in SUPPLY_TABLES.items():
        for key, row in getattr(knowledge, table).items():
            path = f"{drawer}.{key}"
            if path in posted:
                value = _read_amount(row.name, posted.get(path, "").strip())
                changes[f"supplies.{path}"] = _document_amount(drawer, value, system)
    return changes


def _read_amount(label: str, text: str) -> float | None:
    if not text:
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0 <= value <= 1e6:
        raise FieldError(f"{label}: found {text[:20]!r}, expected an amount from 0 up.")
    return value


def _document_amount(drawer: str, value: float | None, system: units.System) -> Any:
    if not value:
        return None
    if drawer in ("cords", "weatherstrip"):
        return f"{value:g} ft" if system == "us" else f"{value:g} m"
    if drawer == "putty":
        return f"{value:g} lb" if system == "us" else f"{value:g} kg"
    if drawer == "materials":
        return value
    return round(value)


def hours(stock: Shop, knowledge: Knowledge) -> list[Supply]:
    """Hours in a week, a field for each skill."""
    return [
        Supply(f"hours.{key}", row.name, f"{stock.hours[key]:g}" if key in stock.hours else "", "h")
        for key, row in knowledge.rate.items()
        if row.kind == "an hour"
    ]


def read_hours(posted: QueryDict, knowledge: Knowledge) -> dict[str, float | None]:
    """Hours as typed. Raises ``FieldError``."""
    return {
        key: _read_amount(row.name, posted.get(f"hours.{key}", "").strip())
        for key, row in knowledge.rate.items()
        if f"hours.{key}" in posted
    }
