"""The fields of a form, described once from the specification: what each is, shows and reads.

A form field is found by its path (``sash.moulding.width``) in a family, a window or a house, and in
the partial models that carry differences. Values are shown in the reader's own units and written into
the document with their unit, so that nothing depends on who looks.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sashwright import units
from sashwright.knowledge.work_tables import Material, Rate
from sashwright.knowledge.worth_tables import Measure
from sashwright.web import words
from sashwright.window.condition import Found
from sashwright.window.leaves import model_in, quantity_in, without_none
from sashwright.window.quantities import COMPASS, Angle, Direction, Length, Mass, Percent, Quantity
from sashwright.window.rooms import Door, Room
from sashwright.window.spec import Family, House, Lites, Wall, Window

Kind = Literal[
    "length", "mass", "angle", "percent", "bearing", "whole", "number", "year",
    "text", "prose", "choice", "yes or no", "row", "key", "lites", "shares", "quantity", "money",
]  # fmt: skip

KIND_OF: Mapping[type[Quantity], Kind] = {
    Length: "length",
    Mass: "mass",
    Angle: "angle",
    Percent: "percent",
    Direction: "bearing",
}
EXAMPLES: Mapping[Kind, tuple[str, str]] = {
    "length": ("34 3/8", "873"),
    "mass": ("18 lb 6", "8.35"),
    "angle": ("14", "14"),
    "percent": ("12", "12"),
    "bearing": ("SE", "SE"),
    "lites": ("3x2", "3x2"),
    "shares": ("1, 2, 1", "1, 2, 1"),
}
"""What an empty field shows, in US and in metric."""

UNITS: Mapping[Kind, tuple[str, str]] = {
    "length": ("in", "mm"),
    "mass": ("lb", "kg"),
    "angle": ("°", "°"),
    "percent": ("%", "%"),
}
"""What a bare number means, shown behind the field."""

MOST_MONEY = 10_000_000
"""More is a slip of the finger."""
LONGEST = 4000
"""Letters that any one field may hold; the specification says less for most."""


class FieldError(ValueError):
    """What was typed cannot be kept; the message is the sentence to show at the field."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form."""

    path: str
    label: str
    help: str
    kind: Kind
    optional: bool = False
    most: int = 1
    """More than one where the field holds a list."""
    choices: tuple[str, ...] = ()
    table: str = ""
    quantity: Quantity | None = None
    keys: tuple[str, ...] = field(default=())
    """Rows of the table that can be chosen here, where not all can."""

    @property
    def many(self) -> bool:
        return self.most > 1

    def under(self, prefix: str) -> Field:
        """The same field as a difference: under ``prefix``, and free to be left out."""
        return replace(self, path=f"{prefix}.{self.path}", optional=True)


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that belong together, under one heading."""

    title: str
    fields: tuple[Field, ...]


# --- describing -------------------------------------------------------------------


@cache
def family_groups() -> tuple[Group, ...]:
    return _groups(
        words.FAMILY_GROUPS, Family, apart=("name", "upper", "lower", "hardware", "typical")
    )


@cache
def window_groups() -> tuple[Group, ...]:
    # When and by whom a sash was measured is noted by the bench.
    noted = tuple(f"measured.{which}.{name}" for which in ("upper", "lower") for name in _NOTED)
    return _groups(words.WINDOW_GROUPS, Window, apart=("number", "changes", "condition", *noted))


@cache
def house_groups() -> tuple[Group, ...]:
    # What work costs has a field for each row of a table.
    apart = ("walls", "families", "windows", "typical", "pricing", "running.costs")
    return _groups(words.HOUSE_GROUPS, House, apart=apart)


_NOTED = ("when", "who")


@cache
def sash_groups() -> tuple[Group, ...]:
    """The family's groups that describe a sash, with paths as they are inside one."""
    groups = []
    for group in family_groups():
        inside = tuple(
            replace(item, path=item.path.removeprefix("sash."))
            for item in group.fields
            if item.path.startswith("sash.")
        )
        if inside:
            groups.append(Group(group.title, inside))
    return tuple(groups)


def wall_fields(names: Iterable[str]) -> list[Field]:
    """Which way each wall looks, how long it is, what rain and what noise reach it."""
    described = [(replace(_describe(name, Wall, name), help=words.WALL_HELP[name]), says)
                 for name, says in words.WALL_LABELS.items()]  # fmt: skip
    return [
        replace(item, path=f"walls.{name}.{item.path}", label=f"{name}{says}")
        for name in names
        for item, says in described
    ]


def cost_fields(measures: Iterable[Measure]) -> list[Field]:
    """What work on one window of the ordinary size costs by the shop's own quotes."""
    return [
        Field(
            f"running.costs.{row.key}",
            row.name,
            f"Allowed: {row.cost_low:g} to {row.cost_high:g} {row.currency}.",
            "number",
            optional=True,
        )
        for row in measures
    ]


@cache
def pricing_fields() -> tuple[Field, ...]:
    """How a job is priced, but for its rates, its allowances and its options."""
    return tuple(_field(House, f"pricing.{name}") for name in words.PRICING_FIELDS)


def rate_fields(rates: Iterable[Rate], materials: Iterable[Material]) -> list[Field]:
    """What the house pays for an hour and for a unit of material, in place of the tables."""
    hours = [(f"pricing.rates.{row.key}", row) for row in rates if row.kind == "an hour"]
    bought = [(f"pricing.materials.{row.key}", row) for row in materials]
    return [
        Field(path, row.name, row.note, "money", optional=True)
        for path, row in (*hours, *bought)
        if "." not in row.key
    ]


@cache
def room_fields() -> tuple[Field, ...]:
    """What a room says, with paths as they are inside it."""
    return _inside("room", Room, words.ROOM_FIELDS)


@cache
def door_fields() -> tuple[Field, ...]:
    """What a door says but for the rooms it joins, with paths as they are inside it."""
    return _inside("door", Door, words.DOOR_FIELDS)


@cache
def found_fields() -> tuple[Field, ...]:
    """How far a finding goes and what was read at it, with paths as they are inside it."""
    return _inside("found", Found, words.FOUND_FIELDS)


@cache
def stock_field(model: type[BaseModel], name: str) -> Field:
    """One field of something the shop has, with its path as it is inside of it."""
    return replace(_describe(f"stock.{name}", model, name), path=name)


def _inside(what: str, model: type[BaseModel], names: Iterable[str]) -> tuple[Field, ...]:
    described = [_describe(f"{what}.{name}", model, name) for name in names]
    return tuple(replace(item, path=item.path.removeprefix(f"{what}.")) for item in described)


def all_fields(groups: Iterable[Group]) -> dict[str, Field]:
    return {item.path: item for group in groups for item in group.fields}


def _groups(
    table: Sequence[tuple[str, str]], model: type[BaseModel], apart: Sequence[str]
) -> tuple[Group, ...]:
    """The groups of the table, and whatever the specification holds besides under its own heading.

    What stands ``apart`` has a place of its own on the page.
    """
    groups = {title: paths.split() for title, paths in table}
    placed = {path for paths in groups.values() for path in paths}
    for path in _paths(model):
        within = any(f"{path}.".startswith(f"{place}.") for place in apart)
        if path not in placed and not within:
            groups.setdefault(words.title_of(path), []).append(path)
    return tuple(
        Group(title, tuple(_field(model, path) for path in paths))
        for title, paths in groups.items()
    )


def _paths(model: type[BaseModel], prefix: str = "") -> Iterator[str]:
    """Paths of all fields that a person can type into."""
    for name, info in model.model_fields.items():
        annotation, optional = without_none(info.annotation)
        inner = model_in(annotation)
        if inner is None or inner is Lites:
            yield prefix + name
        elif isinstance(annotation, type) and not optional:
            yield from _paths(inner, f"{prefix}{name}.")
        # A list of models, or one that may be missing, needs more than a field.


def _field(model: type[BaseModel], path: str) -> Field:
    *outer, name = path.split(".")
    for step in outer:
        inner = model_in(model.model_fields[step].annotation)
        if inner is None:
            raise LookupError(f"{path}: {step} has no fields of its own")
        model = inner
    return _describe(path, model, name)


def _describe(path: str, model: type[BaseModel], name: str) -> Field:
    info = model.model_fields[name]
    annotation, optional = without_none(info.annotation)
    found = Field(
        path=path,
        label=words.LABELS.get(path) or name.replace("_", " ").capitalize(),
        help=words.HELP.get(path) or (info.description or "").partition("\n")[0],
        kind="text",
        optional=optional,
    )
    many = get_origin(annotation) is tuple
    if many:
        annotation = get_args(annotation)[0]
    quantity = quantity_in(annotation, info)
    if quantity is not None:
        found = replace(found, kind=KIND_OF.get(type(quantity), "quantity"), quantity=quantity)
    elif get_origin(annotation) is Literal:
        found = replace(found, kind="choice", choices=get_args(annotation))
    elif annotation is bool:
        found = replace(found, kind="yes or no", choices=("yes", "no"))
    elif words.table_of(path):
        found = replace(found, kind="row", table=words.table_of(path))
    else:
        found = replace(found, kind=_plain_kind(path, annotation, many))
    return replace(found, most=_most(info, found)) if many and found.kind != "shares" else found


def _plain_kind(path: str, annotation: Any, many: bool) -> Kind:
    if get_origin(annotation) is Annotated and not many:
        annotation = get_args(annotation)[0]
    if model_in(annotation) is Lites:
        return "lites"
    if many:
        return "shares"
    if annotation is int:
        return "year" if path == "built" else "whole"
    if annotation is float:
        return "number"
    if path in words.PROSE:
        return "prose"
    return "key" if path in ("family", "wall", "beside") else "text"


def _most(info: FieldInfo, found: Field) -> int:
    limit = next((item.max_length for item in info.metadata if hasattr(item, "max_length")), None)
    return limit or len(found.choices) or 3


# --- showing ----------------------------------------------------------------------


def value_at(model: BaseModel | None, path: str) -> Any:
    """The value at a path, or None where a step is missing."""
    value: Any = model
    for step in path.split("."):
        if value is None:
            return None
        value = value.get(step) if isinstance(value, Mapping) else getattr(value, step, None)
    return value


def texts(item: Field, value: Any, system: units.System) -> list[str]:
    """What the field's controls show for a value: one text, or one for each of a list."""
    if value is None:
        return []
    if item.many:
        return [_text(item, single, system) for single in value]
    return [_text(item, value, system)]


def _text(item: Field, value: Any, system: units.System) -> str:
    if item.kind in ("length", "mass"):
        return _exact(item.kind, value, system)
    if item.kind == "quantity" and item.quantity is not None:
        return str(item.quantity.write(value, system))
    if item.kind in _TEXTS:
        return _TEXTS[item.kind](value)
    return f"{value:g}" if isinstance(value, float) else str(value)


_TEXTS: Mapping[Kind, Callable[[Any], str]] = {
    "bearing": lambda value: (
        f"{value:g}" if value % 22.5 else COMPASS[round(value / 22.5) % len(COMPASS)]
    ),
    "yes or no": lambda value: "yes" if value else "no",
    "lites": lambda value: f"{value.columns}x{value.rows}",
    "shares": lambda value: ", ".join(f"{share:g}" for share in value),
}


def _exact(kind: Kind, value: float, system: units.System) -> str:
    if kind == "length":
        # A nanometre is noise of the arithmetic; without it the number is one that people write.
        value = round(value, 9)
        return _bare(units.exact_length(value, system), "in" if system == "us" else "mm")
    return _bare(units.exact_mass(value, system), "" if system == "us" else "kg")


def _bare(text: str, unit: str) -> str:
    """Without the unit that a bare number has anyway."""
    return text.removesuffix(f" {unit}") if unit else text


# --- reading ----------------------------------------------------------------------


def read(item: Field, given: Sequence[str], system: units.System) -> Any:
    """The value for the document of what was typed; None for nothing.

    Raises ``FieldError`` with one sentence.
    """
    typed = [text.strip() for text in given if text.strip()]
    if any(len(text) > LONGEST for text in typed):
        raise FieldError(f"Found more than {LONGEST} letters, expected a shorter text.")
    if not typed:
        if item.many:
            return []
        if item.optional or item.kind in ("text", "prose"):
            return None
        raise FieldError(f"Found nothing, expected {_expected(item, system)}.")
    if item.many:
        return [_read(item, text, system) for text in typed]
    return _read(item, typed[0], system)


def _expected(item: Field, system: units.System) -> str:
    examples = EXAMPLES.get(item.kind)
    what = item.quantity.kind if item.quantity is not None else "a value"
    return f"{what} such as {examples[system == 'metric']}" if examples else what


def _read(item: Field, text: str, system: units.System) -> Any:
    if item.quantity is not None:
        return _read_quantity(item.quantity, text, system)
    return _READERS.get(item.kind, str)(text)


def _read_quantity(quantity: Quantity, text: str, system: units.System) -> Any:
    try:
        value = quantity.read(text, system)
    except ValueError as error:
        raise FieldError(sentence(str(error))) from None
    low, high = quantity.limits
    if not low - 1e-12 <= value <= high + 1e-12:
        raise FieldError(
            f"Found {quantity.show(value)}, expected {quantity.show(low)} to {quantity.show(high)}."
        )
    return quantity.write(value, system)


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise FieldError(f"Found {text!r}, expected a number.") from None


def _money(text: str) -> str:
    """Money as the document writes it, exact."""
    try:
        amount = Decimal(text.replace(",", ""))
    except InvalidOperation:
        amount = Decimal("NaN")
    if not amount.is_finite() or abs(amount) >= MOST_MONEY:
        raise FieldError(f"Found {text!r}, expected money such as 412.50.")
    return f"{amount:f}"


def _read_lites(text: str) -> dict[str, int]:
    match = re.fullmatch(r"(\d{1,2})\s*(?:[x×*]|by|/|\s)\s*(\d{1,2})", text.lower())
    if match is None:
        raise FieldError(f"Found {text!r}, expected lites wide by high, such as 3x2.")
    return {"columns": int(match[1]), "rows": int(match[2])}


def _read_whole(text: str) -> int:
    if not re.fullmatch(r"[-+]?\d{1,6}", text):
        raise FieldError(f"Found {text!r}, expected a whole number.")
    return int(text)


def _read_shares(text: str) -> list[float]:
    return [_number(part) for part in re.split(r"[,;:\s]+", text) if part]


_READERS: Mapping[Kind, Callable[[str], Any]] = {
    "whole": _read_whole,
    "year": _read_whole,
    "number": _number,
    "money": _money,
    "shares": _read_shares,
    "yes or no": lambda text: text == "yes",
    "lites": _read_lites,
}


def sentence(message: str) -> str:
    """A message as one sentence: capital letter first, full stop last."""
    message = message.strip().removeprefix("Value error, ")
    ending = "" if message.endswith((".", "!", "?")) else "."
    return message[:1].upper() + message[1:] + ending


def walk(groups: Iterable[Group]) -> Iterator[Field]:
    for group in groups:
        yield from group.fields
