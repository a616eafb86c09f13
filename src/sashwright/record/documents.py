"""Between the plain documents that are kept and the typed specification.

Documents are kept in full, but for fields without a value, so that they keep their meaning when a
default of the program changes. Written twice, a document comes out the same, so two of them can be
compared as text.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel, ValidationError

from sashwright.record.attached.order import OrderForm
from sashwright.record.attached.photo import PhotoNote
from sashwright.record.attached.visit import VisitForm
from sashwright.record.errors import Refused, refused
from sashwright.record.state import Document, Kind
from sashwright.units import System
from sashwright.window import spec
from sashwright.window.check import problems_of

_MODELS: Mapping[Kind, type[BaseModel]] = {
    "house": spec.House,
    "family": spec.Family,
    "window": spec.Window,
    "photo": PhotoNote,
    "order": OrderForm,
    "visit": VisitForm,
}
# Kept in rows of their own.
_APART: Mapping[Kind, set[str]] = {"house": {"families", "windows"}}


def system_of(document: Mapping[str, Any]) -> System:
    """What a bare number means in a house with this document."""
    return "metric" if document.get("units") == "metric" else "us"


def canonical(kind: Kind, document: Mapping[str, Any], system: System) -> Document:
    """A document read, checked field by field and written again. Raises ``Refused``.

    ``system`` says what a bare number means, and which units are written where both are exact.
    """
    given = {key for key in _APART.get(kind, ()) if document.get(key)}
    if given:
        raise refused(min(given), "them with the house", "each to be saved by itself")
    try:
        model = _MODELS[kind].model_validate(dict(document), context={"system": system})
    except ValidationError as error:
        raise Refused(problems_of(error)) from None
    return written(kind, model, system)


def written(kind: Kind, model: BaseModel, system: System) -> Document:
    """The document of a part of the specification. Raises ``Refused`` for what no database keeps."""
    if isinstance(model, spec.House):
        model = _round_the_compass(model)
    document = model.model_dump(
        mode="json", context={"system": system}, exclude_none=True, exclude=_APART.get(kind)
    )
    if "\\u0000" in json.dumps(document):
        raise refused(kind, "a character of no meaning (NUL)", "text that can be read")
    return document


def rewritten(kind: Kind, document: Document, system: System) -> Document:
    """A kept document in the units of the house; as it is where an older program wrote it so."""
    try:
        return canonical(kind, document, system)
    except Refused:
        return document


def house_of(
    house: Document, families: Mapping[str, Document], windows: Iterable[Document]
) -> spec.House:
    """A house put together from its documents. Raises ``Refused`` where one is not well formed."""
    whole = {**house, "families": families, "windows": tuple(windows)}
    try:
        read = spec.House.model_validate(whole, context={"system": system_of(house)})
    except ValidationError as error:
        raise Refused(problems_of(error)) from None
    return _round_the_compass(read)


def _round_the_compass(house: spec.House) -> spec.House:
    """The house with its walls from north by east: not every database keeps the order of names."""
    walls = sorted(house.walls.items(), key=lambda item: (item[1].faces, item[0]))
    return house.model_copy(update={"walls": dict(walls)})
