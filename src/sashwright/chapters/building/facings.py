"""The faces of a house that the wind meets, by where they look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.rooms import Plan, apart

ROOF, UNDER = "roof", "under the floor"


@dataclass(frozen=True)
class Facings:
    """Of the rooms' outside walls and of the windows; a roof, and what lies under the floor."""

    plan: Plan
    windows: Sequence[Glazed]

    @cached_property
    def bearings(self) -> list[float]:
        """Bearings of the faces that the wind meets [degrees]."""
        found: list[float] = []
        for faces in (
            *(edge.faces for zone in self.plan.zones for edge in zone.edges),
            *(glazed.faces for glazed in self.windows),
        ):
            if not any(apart(faces, other) < 0.5 for other in found):
                found.append(faces)
        return found

    @property
    def names(self) -> list[str]:
        """Of all faces: walls first, then the roof and what is under the floor."""
        return [name_of(faces) for faces in self.bearings] + [ROOF, UNDER]

    def at(self, faces: float) -> str:
        """Name of the face that looks that way."""
        return name_of(min(self.bearings, key=lambda other: apart(other, faces)))

    def side_ratio(self, faces: float) -> float:
        """Width of a wall over that of those beside it, by the zones' edges [-]."""
        along = beside = 0.0
        for zone in self.plan.zones:
            for edge in zone.edges:
                turn = apart(edge.faces, faces)
                along += edge.length if turn < 45 or turn > 135 else 0.0
                beside += edge.length if 45 <= turn <= 135 else 0.0
        return along / beside if along and beside else 1.0


def name_of(faces: float) -> str:
    """Of the face that looks exactly there."""
    return f"facing {faces:.0f}"
