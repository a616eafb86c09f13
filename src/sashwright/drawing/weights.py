"""The weights of a window as the hang chapter answers them, in metres, for drawing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from sashwright.chapters.answer import WindowAnswer
from sashwright.window.layout import Which


@dataclass(frozen=True, slots=True)
class Weight:
    """One of a sash's two weights and its cord: sizes and heights above the sill [m]."""

    shape: Literal["round", "square"]
    size: float
    length: float
    """With its eye."""
    mass: float
    """[kg]"""
    material: str
    offset: float
    """From the back of the pulley stile to where the weight hangs."""
    cord_front: float
    """From the face of the pulley stile to the cord before it."""
    pulley: float
    knot: float
    """Height of the knot with the sash closed."""
    top_closed: float
    top_open: float
    travel: float
    floor: float

    @property
    def bottom_closed(self) -> float:
        return self.top_closed - self.length

    @property
    def bottom_open(self) -> float:
        return self.top_open - self.length


def weight_of(hang: WindowAnswer | None, which: Which) -> Weight | None:
    """The weight of a sash; nothing where the sash is fixed or no weight fits its pocket."""
    values = hanging_of(hang, which)
    if values is None or values.get("weight_shape") not in ("round", "square"):
        return None
    places = values.get("positions") or {}

    def metres(source: Mapping[str, Any], key: str) -> float | None:
        value = source.get(key)
        return None if value is None else float(value) / 1000

    found = {
        "size": metres(values, "weight_size_mm"),
        "length": metres(values, "weight_length_mm"),
        "offset": metres(places, "weight_offset_mm"),
        "cord_front": metres(places, "cord_front_mm"),
        "pulley": metres(places, "pulley_height_mm"),
        "knot": metres(places, "knot_height_closed_mm"),
        "top_closed": metres(places, "weight_top_closed_mm"),
        "top_open": metres(places, "weight_top_open_mm"),
        "travel": metres(values, "travel_mm"),
        "floor": metres(places, "pocket_floor_mm"),
    }
    known = {key: value for key, value in found.items() if value is not None}
    if len(known) < len(found):
        return None
    return Weight(
        shape=values["weight_shape"],
        mass=float(values.get("weight_each_kg") or 0.0),
        material=str(values.get("weight_material") or ""),
        **known,
    )


def hanging_of(hang: WindowAnswer | None, which: Which) -> Mapping[str, Any] | None:
    """The hang chapter's values of one sash; nothing for a fixed one."""
    values = None if hang is None else hang.values.get(which)
    return values if isinstance(values, Mapping) else None
