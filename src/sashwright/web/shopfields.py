"""The fields of what a shop has: boards, sheets, weights, what can be bought, rules."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic_core import PydanticUndefined

from sashwright import units
from sashwright.web import fields
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import Form, Shown
from sashwright.window import shop
from sashwright.window.shop import Shop

LABELS: Mapping[str, str] = {
    "quarters": "Thickness, quarters",
    "clear": "Clear wood",
    "defects": "Knots and splits, from to",
    "cost": "Worth, each",
    "place": "Where it lies",
    "trim": "Bad edge, all round",
    "size": "Thick or square",
    "length": "Long",
    "width": "Wide",
    "height": "High",
    "mass": "The scale says",
    "widths": "Widths sold",
    "lengths": "Lengths sold",
    "kerf": "Kerf",
    "rip_kerf": "Kerf of a rip",
    "end_trim": "Off each end",
    "edge_trim": "Off each edge",
    "keep_length": "Keep off-cuts from",
    "keep_width": "and so wide",
    "from_wider": "Rip from wider strips",
    "clear_worth": "Clear wood may be dearer by",
    "stock_worth": "Stock counts for",
    "least_strip": "Narrowest break",
    "tolerance": "Off the target, each",
    "apart": "The two of a sash apart",
}
TABLES: Mapping[str, str] = {"species": "wood", "glass": "glass", "material": "weight_material"}
LISTS = frozenset({"defects", "widths", "lengths"})
"""Fields that hold a list, typed as one text with commas between."""
MONEY = frozenset({"cost", "price"})
_HELP: Mapping[str, str] = {
    "defects": "Along the board from its marked end: 27 to 30, 81 to 84.",
    "widths": "Such as 6, 8, 10; none where the mill rips to the parts' widths.",
    "lengths": "Such as 8 ft, 10 ft, 12 ft.",
}


@dataclass(frozen=True, slots=True)
class Drawer:
    """One kind of thing that goes by labels."""

    name: str
    title: str
    one: str
    model: type[BaseModel]
    stem: str
    fields: tuple[str, ...]
    says: str = ""


_WOOD = (
    "species",
    "quarters",
    "width",
    "length",
    "count",
    "clear",
    "defects",
    "cost",
    "place",
    "note",
)
DRAWERS: Mapping[str, Drawer] = {
    each.name: each
    for each in (
        Drawer(
            "boards", "Boards", "board", shop.StockBoard, "B", _WOOD,
            "As they came from the mill: sawn to length and ripped. Off-cuts of a plan come in too.",
        ),
        Drawer(
            "strips", "Strips", "strip", shop.StockStrip, "S", _WOOD,
            "Ripped to a part's width already, or left from another job: sawn to length only.",
        ),
        Drawer(
            "sheets", "Glass", "sheet", shop.StockSheet, "G",
            ("glass", "width", "height", "count", "trim", "cost", "place", "note"),
            "Whole sheets, off-cuts, and old panes to use again.",
        ),
        Drawer(
            "weights", "Weights", "weight", shop.BinWeight, "",
            ("mass", "length", "size", "shape", "material", "note"),
            "At the scale: chalk the number on it, weigh it, lay the rule beside it.",
        ),
        Drawer(
            "lumber", "Lumber to buy", "kind of lumber", shop.Lumber, "L",
            ("species", "quarters", "widths", "lengths", "price", "clear"),
            "What the yard sells, and for how much a board foot.",
        ),
        Drawer(
            "glass", "Glass to buy", "size of sheet", shop.GlassOffer, "P",
            ("glass", "width", "height", "price", "trim"),
            "Sheets that can be ordered, and what one costs.",
        ),
    )
}  # fmt: skip

RULES: Mapping[str, tuple[str, type[BaseModel], tuple[str, ...]]] = {
    "saw": ("The saw", shop.SawRules, tuple(shop.SawRules.model_fields)),
    "table": (
        "The glass table", shop.TableRules,
        ("least_strip", "kerf", "keep_length", "keep_width", "stock_worth"),
    ),
    "bin": ("The bin of weights", shop.BinRules, tuple(shop.BinRules.model_fields)),
}  # fmt: skip
HEAD = ("name", "telephone", "mail", "foot")


@cache
def drawer_fields(name: str) -> tuple[Field, ...]:
    """The fields of one thing in a drawer."""
    drawer = DRAWERS[name]
    return tuple(_field(drawer.model, each) for each in drawer.fields)


@cache
def rule_fields(name: str) -> tuple[Field, ...]:
    """The fields of one set of rules."""
    _, model, names = RULES[name]
    return tuple(_field(model, each) for each in names)


@cache
def head_fields() -> tuple[Field, ...]:
    """The letterhead, but for its address."""
    found = (_field(shop.Letterhead, each) for each in HEAD)
    return tuple(replace(item, kind="prose") if item.path == "foot" else item for item in found)


def _field(model: type[BaseModel], name: str) -> Field:
    found = fields.stock_field(model, name)
    found = replace(found, label=LABELS.get(name, found.label), help=_HELP.get(name, found.help))
    if name in LISTS:
        found = replace(found, kind="text", most=1, quantity=None, optional=True)
    elif name in MONEY:
        found = replace(found, kind="money")
    elif name in TABLES:
        found = replace(found, kind="row", table=TABLES[name])
    elif name == "quarters":
        found = replace(found, choices=tuple(map(str, found.choices)))
    return found


# --- showing and reading --------------------------------------------------------------


def shown(
    form: Form,
    items: Sequence[Field],
    model: BaseModel | None,
    prefix: str,
    blank: type[BaseModel] | None = None,
) -> list[Shown]:
    """Fields as a model has them, or as a new one of ``blank`` would, ready for a form of their own."""
    made = []
    for item in items:
        each = replace(form.show(item, model), id=f"{prefix}-{item.path}")
        value = getattr(model, item.path, None)
        if model is None and blank is not None:
            default = blank.model_fields[item.path].default
            value = None if default is PydanticUndefined else default
        if item.path in LISTS:
            each = replace(each, texts=(list_text(value or (), form.system),))
        elif model is None and value is not None:
            each = replace(each, texts=tuple(fields.texts(item, value, form.system)) or ("",))
        made.append(each)
    return made


def list_text(values: Sequence[Any], system: units.System) -> str:
    """Lengths, or defects, as one text: ``6, 8, 10`` or ``27 to 30, 81 to 84``."""
    return ", ".join(_one(value, system) for value in values)


def _one(value: Any, system: units.System) -> str:
    if isinstance(value, shop.Defect):
        return f"{_bare(value.start, system)} to {_bare(value.end, system)}"
    return _bare(value, system)


def _bare(metres: float, system: units.System) -> str:
    unit = "in" if system == "us" else "mm"
    return units.exact_length(round(metres, 9), system).removesuffix(f" {unit}")


def read(
    items: Sequence[Field], given: Callable[[str], Sequence[str]], system: units.System
) -> dict[str, Any]:
    """What was typed, for the document; None takes a value away. Raises ``FieldError``, with the label."""
    found: dict[str, Any] = {}
    for item in items:
        typed = given(item.path)
        try:
            if item.path in LISTS:
                pieces = re.split(r"[,;]", typed[0] if typed else "")
                found[item.path] = [piece.strip() for piece in pieces if piece.strip()]
                continue
            value = fields.read(item, typed, system)
        except FieldError as error:
            says = str(error)
            raise FieldError(f"{item.label}: {says[:1].lower()}{says[1:]}") from None
        if item.path == "quarters" and value is not None:
            value = int(value)
        found[item.path] = value
    return found


def free_label(stock: Shop, drawer: str) -> str:
    """The next label that nothing in the drawer has, going on from the highest."""
    stem, taken = DRAWERS[drawer].stem, getattr(stock, drawer)
    numbers = [
        int(label.removeprefix(stem))
        for label in taken
        if label.startswith(stem) and label.removeprefix(stem).isdigit()
    ]
    return f"{stem}{max(numbers, default=0) + 1}"
