"""The pieces a sash is made of, as they come off the bench."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from sashwright.window.bands import Solid

Owner = Literal["upper", "lower", "storm", "screen"]
"""What a piece belongs to."""


@dataclass(frozen=True, slots=True)
class Part:
    """A wooden piece, finished: sizes [m], volume and first moments in the sash's place (z from its face)."""

    sash: Owner
    name: str
    kind: Literal["stile", "rail", "bar"]
    length: float
    """Overall, tenons and horns included."""
    shoulder: float
    """Between the shoulders at the sight line; of a stile, its whole length."""
    width: float
    thickness: float
    solid: Solid
    joint: str


@dataclass(frozen=True, slots=True)
class Pane:
    """One piece of glass: cut size [m]; height at the crown where ``springing`` is given."""

    sash: Owner
    column: int
    row: int
    glass: str
    width: float
    height: float
    thickness: float
    solid: Solid
    springing: tuple[float, float] | None = None
    """Heights of the left and right edges of an arched pane [m]."""
    radius: float | None = None


@dataclass(frozen=True)
class SashParts:
    """All pieces of one sash."""

    which: Owner
    parts: tuple[Part, ...]
    panes: tuple[Pane, ...]
    putty: Solid
    painted_area: float
    """Both faces of the wood, without the sliding edges [m2]."""

    @cached_property
    def wood(self) -> Solid:
        return total(part.solid for part in self.parts)

    @property
    def glass(self) -> Solid:
        return total(pane.solid for pane in self.panes)

    @cached_property
    def glass_area(self) -> float:
        """Of one layer of panes [m2]."""
        return sum(pane.solid.volume / pane.thickness for pane in self.panes) / self.layers

    @property
    def layers(self) -> int:
        """Panes one behind the other in each lite."""
        return sum(pane.column == pane.row == 0 for pane in self.panes)


def total(items: Iterable[Solid]) -> Solid:
    """Solids added up."""
    volume = x = y = z = 0.0
    for item in items:
        volume += item.volume
        x += item.x
        y += item.y
        z += item.z
    return Solid(volume, x, y, z)
