"""Salvaged weights, what a sash asks of its two, and the plan that assigns them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.window.layout import Which
from sashwright.window.pocket import EPSILON


@dataclass(frozen=True, slots=True)
class Weight:
    """One weight of the bin: number chalked on it, mass [kg], length with its eye and thickness [m]."""

    number: str
    mass: float
    length: float
    size: float
    shape: Literal["round", "square"] = "round"
    material: str = "cast-iron"


@dataclass(frozen=True, slots=True)
class Room:
    """Weights up to so thick may be so long, over the whole travel [m]."""

    thickest: float
    longest: float


@dataclass(frozen=True, slots=True)
class SashNeed:
    """What one sash asks of its two weights."""

    window: str
    which: Which
    each: float
    """Target of each weight [kg]."""
    tolerance: float
    """How far each weight may be off it [kg]."""
    apart: float
    """How far the two may be from each other [kg]."""
    rooms: tuple[Room, ...]
    buys: float = 0.0
    """Thickness of a weight bought for it, which is made to the target [m]."""
    materials: tuple[str, ...] | None = None
    """Materials it may hang on; any where not said."""
    shapes: tuple[str, ...] | None = None
    """Likewise of shapes."""

    def takes(self, weight: Weight) -> bool:
        """Whether the weight alone could hang here."""
        return (
            abs(weight.mass - self.each) <= self.tolerance + EPSILON
            and (self.materials is None or weight.material in self.materials)
            and (self.shapes is None or weight.shape in self.shapes)
            and any(
                weight.size <= room.thickest + EPSILON and weight.length <= room.longest + EPSILON
                for room in self.rooms
            )
        )


@dataclass(frozen=True, slots=True)
class HungPair:
    """The two weights of one sash; None where one is bought, made to the target."""

    sash: SashNeed
    left: Weight | None
    right: Weight | None

    @property
    def bought(self) -> int:
        return (self.left is None) + (self.right is None)

    @property
    def deviation(self) -> float:
        """How far the weights are off the target, both together [kg]."""
        return sum(abs(w.mass - self.sash.each) for w in (self.left, self.right) if w is not None)


@dataclass(frozen=True, slots=True)
class BinPlan:
    """A pair for every sash, in the order they were given."""

    pairs: tuple[HungPair, ...]
    least_bought: int
    """No plan buys fewer weights."""
    least_deviation: float | None
    """No plan that buys as few is nearer the targets [kg]; None where that is not known."""
    proven: bool
    """Whether no plan is better."""

    @property
    def bought(self) -> tuple[tuple[SashNeed, int], ...]:
        """Sash that weights are bought for, and how many."""
        return tuple((pair.sash, pair.bought) for pair in self.pairs if pair.bought)

    @property
    def weights_bought(self) -> int:
        return sum(pair.bought for pair in self.pairs)

    @property
    def deviation(self) -> float:
        """Of all weights from the bin [kg]."""
        return sum(pair.deviation for pair in self.pairs)
