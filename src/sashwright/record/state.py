"""What can change about a house, a family or a window."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any, Literal

Kind = Literal["house", "family", "window"]
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
