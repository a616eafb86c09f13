"""Measurements on photographs kept with them, and values of a window taken from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import User
from pydantic import ValidationError

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.record.attached.photo import Measure
from sashwright.record.documents import canonical, rewritten
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import Refused, Stored, refused
from sashwright.record.measuring import Measured, measured
from sashwright.record.merge import with_fields
from sashwright.record.models import Photograph, Window
from sashwright.record.photographs import photograph, photographs
from sashwright.record.rows import shown, stored
from sashwright.record.saving import save_fields
from sashwright.record.state import Document
from sashwright.units import System
from sashwright.window.check import problems_of

LENGTHS: Mapping[str, str] = {
    "width": "width of the sash opening",
    "height": "height of the sash opening",
    "meeting_height": "meeting rails above the sill",
    "changes.sash.stile": "width of the stiles",
    "changes.sash.top_rail": "width of the top rail",
    "changes.sash.meeting_rail": "width of the meeting rails",
    "changes.sash.bottom_rail": "width of the bottom rail",
    "changes.sash.muntin": "width of the muntins",
    "changes.frame.casing_width": "width of the outside casing",
}
"""Fields of a window that a length on a photograph can be, by their paths."""
ANGLES: Mapping[str, str] = {"changes.frame.sill_slope": "slope of the sill"}


@dataclass(frozen=True, slots=True)
class FromPhotograph:
    """A value of a window that was read off a photograph and still stands: by which, and how good."""

    key: str
    says: str


def read_measure(fields: Mapping[str, Any], system: System) -> Measure:
    """A measurement as a page sends it. Raises ``Refused``."""
    try:
        return Measure.model_validate(dict(fields), context={"system": system})
    except ValidationError as error:
        raise Refused(problems_of(error)) from None


def measure_photograph(slug: str, key: str, measure: Measure, words: Words) -> Measured:
    """What was marked on a photograph, measured. Raises ``NotThere``, ``NotYet`` while marks are missing."""
    row = photograph(slug, key)
    return measured(measure, row.width, row.height, words)


def keep_measure(
    slug: str, key: str, measure: Measure, who: User, *, use_as: str = ""
) -> tuple[Stored, Measured]:
    """Keep a measurement with its photograph, and give its value to a field of the window shown.

    ``use_as`` is one of ``LENGTHS`` or ``ANGLES``. Both are one change. Raises ``NotThere``, ``NotYet``, and
    ``Refused`` where the photograph shows no window or the window would contradict itself.
    """
    with editing(slug, who) as edit:
        row = edit.attached("photo", key)
        assert isinstance(row, Photograph), "rows are found by their kind"
        words = Words(edit.system)
        found = measured(measure, row.width, row.height, words)
        kept = measure.model_copy(update={"says": found.says, "used_as": use_as, "used": ""})
        said = f"measured on a photograph: {found.says}"
        if use_as:
            window = _window_of(edit, row)
            value = _value(found, use_as, words)
            name = {**LENGTHS, **ANGLES}[use_as]
            document = with_fields(window.document, {use_as: value})
            edit.rewrite(window, canonical("window", document, edit.system))
            kept = kept.model_copy(update={"used": value})
            said = f"window {window.number}: {name} {value}, from a photograph"
        now = rewritten("photo", row.document, edit.system)
        written = kept.model_dump(mode="json", context={"system": edit.system}, exclude_none=True)
        measures = [*now.get("measures", []), written]
        edit.rewrite(row, canonical("photo", {**now, "measures": measures}, edit.system))
        edit.finish(said)
        return shown(row, edit.system), found


def _window_of(edit: Edit, row: Photograph) -> Window:
    if row.window is None or row.window.gone:
        raise refused("window", "a photograph of no window", "one that says which window it shows")
    return edit.window(row.window.number)


def _value(found: Measured, use_as: str, words: Words) -> str:
    """The value as it is written down: no finer than it was measured."""
    fields = ANGLES if found.kind == "angle" else LENGTHS
    if use_as not in fields or found.kind == "spacing":
        raise refused("use_as", repr(use_as), "a field that this can be")
    value = found.results[0].value
    if found.kind == "angle":
        return f"{value:.1f}°"
    step = units.INCH / 16 if words.system == "us" else 0.001
    return units.exact_length(round(value / step) * step, words.system)


def remove_measure(slug: str, key: str, index: int, base_version: int, who: User) -> Stored:
    """Take a measurement away; the value that a window took from it stays. Raises as ``save`` does."""
    document = stored(slug, "photo", key).document
    measures = list(document.get("measures", []))
    if not 0 <= index < len(measures):
        raise refused("measure", str(index), "one of this photograph's")
    del measures[index]
    says = "measurement on a photograph removed"
    return save_fields(slug, "photo", key, {"measures": measures}, base_version, who, says)


def from_photographs(slug: str, number: str) -> dict[str, FromPhotograph]:
    """Fields of a window, by path, whose value was read off a photograph and has not been changed since.

    Raises ``NotThere``.
    """
    document = stored(slug, "window", number).document
    system = stored(slug, "house").document.get("units", "us")
    found: dict[str, FromPhotograph] = {}
    for row in photographs(slug, number):
        for measure in row.measures:
            now = _at(document, measure.used_as) if measure.used_as else None
            if now is not None and _same(now, measure.used, system):
                found[measure.used_as] = FromPhotograph(row.key, measure.says)
    return found


def _at(document: Document, path: str) -> Any:
    at: Any = document
    for step in path.split("."):
        at = at.get(step) if isinstance(at, Mapping) else None
    return at


def _same(one: Any, other: str, system: System) -> bool:
    try:
        read = units.parse_angle if other.endswith("°") else units.parse_length
        return abs(read(one, system) - read(other, system)) < 1e-9
    except ValueError:
        return False
