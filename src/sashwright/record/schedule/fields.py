"""The fields of a window that a column can hold, by their dotted paths, and what people call them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sashwright.window.leaves import model_in, quantity_in, without_none
from sashwright.window.quantities import Length, Mass, Quantity
from sashwright.window.spec import Lites, Window

Kind = Literal[
    "quantity", "text", "date", "choice", "yes or no", "whole", "number", "lites", "list", "rows",
    "nothing",
]  # fmt: skip
"""``rows`` is a list of tables, ``nothing`` a part of the window that is there but says nothing."""

SIZE, LITES = "width x height", "upper / lower"
"""Columns that hold two fields in one cell: ``32 x 62 1/2``, and ``6/6``."""

LABELS: Mapping[str, str] = {
    SIZE: "Width × height",
    LITES: "Lites, upper / lower",
    "along": "Along the wall",
    "head.shape": "Head",
    "head.rise": "Rise of the head",
    "meeting_height": "Meeting rail height",
    "upper": "Lites, upper sash",
    "lower": "Lites, lower sash",
    "beside": "Shares a mullion with",
    "mark": "Mark cut into it",
    "condition.like": "Found like window",
    "condition.on": "Surveyed on",
    "condition.by": "Surveyed by",
    "condition.sound": "Sound parts",
    "condition.found": "Findings",
    "decision.alternative": "Decision",
    "spent": "Hours spent",
    "use.bedroom": "Someone sleeps in the room",
}


@dataclass(frozen=True, slots=True)
class SheetField:
    """A field: ``path`` in the document of a window, and what its cells hold."""

    path: str
    kind: Kind
    label: str
    choices: tuple[str, ...] = ()
    quantity: Quantity | None = None

    @property
    def head(self) -> str:
        """What an export writes above its column: people read the words, the program the brackets."""
        return f"{self.label} [{self.path}]"

    @property
    def takes_units(self) -> bool:
        """Whether a bare number in it may be of another unit than the house's own."""
        return isinstance(self.quantity, (Length, Mass))

    @property
    def group(self) -> str:
        """Where it stands in a list of all fields."""
        first, _, rest = self.path.partition(".")
        return first.capitalize() if rest and first in _GROUPS else "Window"


_GROUPS = ("measured", "condition", "use", "decision", "changes")


@cache
def fields() -> Mapping[str, SheetField]:
    """All fields by path, in the order of the specification, those that hold two in one cell last."""
    found = [*_leaves(Window, "")]
    found += [SheetField(path, "text", LABELS[path]) for path in (SIZE, LITES)]
    return {field.path: field for field in found}


def _leaves(model: type[BaseModel], prefix: str) -> Iterator[SheetField]:
    for name, info in model.model_fields.items():
        path = f"{prefix}{name}"
        annotation, _ = without_none(info.annotation)
        inner = annotation if isinstance(annotation, type) else None
        if inner is not None and issubclass(inner, BaseModel) and inner is not Lites:
            yield SheetField(path, "nothing", label_of(path))
            yield from _leaves(inner, f"{path}.")
        else:
            yield _leaf(path, annotation, info)


def _leaf(path: str, annotation: Any, info: FieldInfo) -> SheetField:
    label, quantity = label_of(path), quantity_in(annotation, info)
    bare = get_args(annotation)[0] if get_origin(annotation) is Annotated else annotation
    if quantity is not None:
        return SheetField(path, "quantity", label, quantity=quantity)
    if get_origin(bare) is tuple:
        rows = model_in(get_args(bare)[0]) is not None
        return SheetField(path, "rows" if rows else "list", label)
    if get_origin(bare) is Literal:
        return SheetField(path, "choice", label, choices=tuple(map(str, get_args(bare))))
    if bare is Lites:
        return SheetField(path, "lites", label)
    plain: dict[Any, Kind] = {bool: "yes or no", int: "whole", float: "number"}
    kind = plain.get(bare, "date" if path.rpartition(".")[2] in _DAYS else "text")
    return SheetField(path, kind, label)


_DAYS = ("on", "moisture_on")


def label_of(path: str) -> str:
    """What a field is called: by its own name, or by the words of its path."""
    if path in LABELS:
        return LABELS[path]
    first, _, rest = path.partition(".")
    words = path.replace(".", " ").replace("_", " ")
    if first == "changes" and rest:
        return f"Differs: {words.partition(' ')[2]}"
    if first in ("use", "measured") and rest:
        words = rest.replace(".", " ").replace("_", " ") + (", measured" * (first == "measured"))
    return words[:1].upper() + words[1:]


def field_within(path: str, known: Mapping[str, Any]) -> str | None:
    """Of some paths the one that a problem's field is, is part of, or holds."""
    steps = path.split(".")
    for count in range(len(steps), 0, -1):
        if ".".join(steps[:count]) in known:
            return ".".join(steps[:count])
    return next((each for each in known if each.startswith(f"{path}.")), None)
