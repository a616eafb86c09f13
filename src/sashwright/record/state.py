"""What can change about a house, its families and windows, and what is attached to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Literal

Kind = Literal["house", "family", "window", "photo", "order", "visit"]
NAMES: Mapping[str, str] = {"photo": "photograph"} | {
    kind: kind for kind in ("house", "family", "window", "order", "visit")
}
"""What each kind is called in a sentence."""

Document = dict[str, Any]
"""The JSON form of a part of the specification, lengths and masses as text with their units."""


@dataclass(frozen=True, slots=True)
class State:
    """All that can change about a kept row; what revisions hold.

    ``key`` names a family; a house has none, and a window is named by the number in its document.
    ``order`` is its place among its kind.
    """

    document: Document
    key: str = ""
    order: int = 0

    def to_json(self) -> Document:
        return asdict(self)
