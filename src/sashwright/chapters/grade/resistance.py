"""What one part of a window bears: the one shape in which glass, wood and storm sash say it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from sashwright.chapters.answer import Step

Kind = Literal["glass", "strength", "stiffness"]
"""Glass that breaks, wood that breaks, wood that bends further than glass may be held by."""

DOES: Mapping[Kind, str] = {"glass": "breaks", "strength": "breaks", "stiffness": "bends too far"}


@dataclass(frozen=True, slots=True)
class Resistance:
    """Pressure that a part bears [Pa], and the area that its own wind counts on [m2].

    ``on`` is the part's name on the drawing, ``name`` its name in a sentence.
    """

    on: str
    kind: Kind
    name: str
    capacity: float
    area: float
    outward_only: bool = False
    facts: Mapping[str, Any] = field(default_factory=dict)
    steps: Sequence[Step] = ()


def least(found: Sequence[Resistance]) -> Resistance | None:
    """The one that gives way first; None where there is none."""
    return min(found, key=lambda each: each.capacity, default=None)
