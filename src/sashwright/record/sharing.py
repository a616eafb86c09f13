"""Windows that name another by its number: what follows when that one is renumbered or taken away.

A window names the one beside it, with which it shares a mullion pocket, and the one whose findings hold for
it too. The prices of a house name windows as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from sashwright.knowledge.tables import KnowledgeError
from sashwright.record.documents import canonical
from sashwright.record.edit import Edit
from sashwright.record.facts import knowledge
from sashwright.record.merge import with_fields
from sashwright.record.models import Window
from sashwright.record.state import Document
from sashwright.units import System
from sashwright.window import spec
from sashwright.window.components import Piece, named, pieces_of
from sashwright.window.condition import Found
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import place
from sashwright.window.surveyed import Surveyed, surveyed


def follow(edit: Edit, old: str, new: str) -> None:
    """Have all that names a window by its old number name it by the new one."""
    for row in edit.windows.values():
        fields = {path: new for path in ("beside", "condition.like") if _at(row, path) == old}
        if fields:
            edit.rewrite(row, with_fields(_document(edit, row), fields))
    _follow_in_prices(edit, old, new)


def let_go(edit: Edit, number: str) -> None:
    """Have no window name one that goes: its neighbour stands alone, shared findings become own ones."""
    sharing = [row for row in edit.windows.values() if _at(row, "condition.like") == number]
    house = edit.as_planned() if sharing else None
    for row in edit.windows.values():
        if _at(row, "beside") == number:
            edit.rewrite(row, with_fields(_document(edit, row), {"beside": None}))
    for row in sharing:
        assert house is not None, "put together where any window shares findings"
        own = _document(edit, row)["condition"].get("found", [])
        found = [*own, *_taken_over(house, row.number, edit.system)]
        fields = {"condition.found": found, "condition.like": None}
        document = with_fields(_document(edit, row), fields)
        edit.rewrite(row, canonical("window", document, edit.system))


def _at(row: Window, path: str) -> Any:
    value: Any = row.document
    for name in path.split("."):
        value = value.get(name) if isinstance(value, dict) else None
    return value


def _document(edit: Edit, row: Window) -> Document:
    state = edit.becomes(row)
    return row.document if state is None else state.document


def _follow_in_prices(edit: Edit, old: str, new: str) -> None:
    state = edit.becomes(edit.house)
    pricing = {} if state is None else state.document.get("pricing", {})
    allowances = [
        {**each, "window": new} if each.get("window") == old else each
        for each in pricing.get("allowances", ())
    ]
    options = [
        {**each, "windows": [new if n == old else n for n in each.get("windows", ())]}
        if old in each.get("windows", ())
        else each
        for each in pricing.get("options", ())
    ]
    fresh = {**pricing, "allowances": allowances, "options": options}
    if state is not None and (allowances or options) and fresh != pricing:
        edit.rewrite(edit.house, {**state.document, "pricing": fresh})


# --- findings taken over ----------------------------------------------------------


def _taken_over(house: spec.House, number: str, system: System) -> Iterator[Document]:
    """What holds for a window by another's findings, so said that it holds by its own just as much."""
    try:
        placed = place(house, number, knowledge())
        held = surveyed(placed.layout, house, placed.knowledge)
    except (LayoutError, KnowledgeError):
        # Where its sizes contradict each other nobody can say which parts it has: all of them then.
        yield from (_plain(found, system) for found in _of_the_other(house, number))
        return
    pieces = pieces_of(placed.layout)
    for each in held:
        if each.source == "like":
            for found in _on_parts(each, len(named(each.found.on, pieces))):
                yield _plain(found, system)


def _of_the_other(house: spec.House, number: str) -> Iterator[Found]:
    windows = {window.number: window for window in house.windows}
    other = windows.get(windows[number].condition.like or "")
    for found in other.condition.found if other else ():
        yield found.model_copy(update=_NOT_ALONG)


_NOT_ALONG: dict[str, Any] = {"moisture": None, "probe": None, "note": "", "photos": ()}
"""Readings, notes and photographs are the other window's own."""


def _on_parts(held: Surveyed, whole: int) -> Iterator[Found]:
    """A finding as it is, or one for each part where some of its parts are sound or told of already."""
    if len(held.pieces) == whole:
        yield _clipped(held.found, held.pieces)
        return
    share = len(held.pieces)
    for index, piece in enumerate(held.pieces):
        found = held.found.model_copy(
            update={
                "on": piece.name,
                "length": held.found.length and held.found.length / share,
                "area": held.found.area and held.found.area / share,
                "count": _share(held.found.count, share, index),
            }
        )
        yield _clipped(found, [piece])


def _share(count: int | None, parts: int, index: int) -> int | None:
    """A whole number shared out, at least one to each."""
    return None if count is None else max(count // parts + (index < count % parts), 1)


def _clipped(found: Found, pieces: Sequence[Piece]) -> Found:
    """No more of a part than this window has of it."""
    length = sum(piece.length for piece in pieces)
    update: dict[str, Any] = {}
    if found.length is not None and length and found.length > length:
        update["length"] = length
    if found.count is not None and 1 < len(pieces) < found.count:
        update["count"] = len(pieces)
    return found.model_copy(update=update)


def _plain(found: Found, system: System) -> Document:
    plain: Document = found.model_dump(mode="json", context={"system": system}, exclude_none=True)
    return plain
