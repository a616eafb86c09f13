"""One window: its paths as found, what each state of it passes, what a fan test says of that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.seal.flows import Barrier, flows_of, screen_of, storm_of
from sashwright.chapters.seal.limits import RATED_PRESSURE, STEPS
from sashwright.chapters.seal.paths import BY_NAME, Leak, PathName, leaks_of
from sashwright.chapters.seal.states import remedy, scenarios
from sashwright.physics.leakage import REFERENCE_PRESSURE
from sashwright.window.cracks import Cracks, cracks_of
from sashwright.window.resolve import Placed

Array = NDArray[np.float64]

HOUSE_PRESSURE = 50.0
"""Of the fan test of a house [Pa]."""
ALL_PRESSURES: Array = np.array([REFERENCE_PRESSURE, HOUSE_PRESSURE, RATED_PRESSURE, *STEPS])
"""At which every state is worked out [Pa]: the first three by name, then those of the European test."""
AT_4, AT_50, AT_75 = 0, 1, 2

FactorSource = Literal["tables", "window test", "house test"]


@dataclass(frozen=True, slots=True)
class Factor:
    """By how much all paths of a window are scaled, and what says so."""

    value: float = 1.0
    source: FactorSource = "tables"


@dataclass(frozen=True, slots=True)
class Flows:
    """What the states of a window pass with one thing, or nothing, before it; (states, pressures)."""

    whole: Array
    low: Array
    high: Array
    unit: Array
    """Without the joint of frame and wall."""


@dataclass(frozen=True)
class Sealed:
    """A window and all that follows from its joints."""

    placed: Placed
    factor: Factor

    @cached_property
    def cracks(self) -> Cracks:
        return cracks_of(self.placed.layout)

    @cached_property
    def states(self) -> Mapping[str, Sequence[Leak]]:
        """The paths in every state, the one as found first."""
        named = scenarios(self.placed.layout, self.placed.knowledge)
        return {
            name: leaks_of(self.cracks, state, self.factor.value) for name, state in named.items()
        }

    @property
    def names(self) -> list[str]:
        return list(self.states)

    @property
    def found(self) -> Sequence[Leak]:
        return self.states["as found"]

    @cached_property
    def storm(self) -> Barrier:
        return storm_of(self.placed.family, self.cracks, self.placed.knowledge)

    @cached_property
    def alone(self) -> Flows:
        """Without a storm sash."""
        return self._flows(None)

    @cached_property
    def with_storm(self) -> Flows:
        return self._flows(self.storm)

    @cached_property
    def screened(self) -> float:
        """What the window as found passes at the rated pressure behind an insect screen [m3/s]."""
        cloth = screen_of(self.cracks, self.placed.knowledge)
        return float(flows_of([self.found], np.array([RATED_PRESSURE]), cloth)[0, 0])

    def _flows(self, barrier: Barrier | None) -> Flows:
        states = list(self.states.values())
        few = ALL_PRESSURES[:3]
        return Flows(
            flows_of(states, ALL_PRESSURES, barrier),
            flows_of(states, few, barrier, "low"),
            flows_of(states, few, barrier, "high"),
            flows_of(states, ALL_PRESSURES, barrier, wall=False),
        )

    def row(self, name: str) -> int:
        """Where a state stands in the arrays."""
        return self.names.index(name)

    @cached_property
    def path_flows(self) -> Mapping[PathName, float]:
        """Flow of each path as found at the rated pressure, no storm before it [m3/s]."""
        return {
            leak.place.name: float(leak.coefficient * RATED_PRESSURE**leak.exponent)
            for leak in self.found
        }

    @cached_property
    def steps(self) -> list[Remedy]:
        """What one step at one path alone would save of the state as found, most first."""
        knowledge = self.placed.knowledge
        steps = []
        for leak in self.found:
            does, row = remedy(leak.place, leak.row, knowledge)
            if row.key == leak.row.key:
                continue
            kept = leak.amount * row.area * self.factor.value
            saved = self.path_flows[leak.place.name] * (1 - kept / leak.area)
            steps.append(Remedy(leak.place.name, does, row.key, saved))
        return sorted(steps, key=lambda step: -step.saves)

    @property
    def worst_path(self) -> PathName:
        """The path that most air takes as found."""
        flows = self.path_flows
        return max(flows, key=lambda name: flows[name])


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing to do at one path, and what it saves at the rated pressure [m3/s]."""

    path: PathName
    does: str
    row: str
    saves: float

    @property
    def words(self) -> str:
        return BY_NAME[self.path].words


def factor_of(placed: Placed, house: Factor) -> Factor:
    """The window's own fan test before the house's, before the tables."""
    test = placed.window.measured.air
    if test is None:
        return house
    plain = Sealed(placed, Factor())
    expected = flows_of([plain.found], np.array([test.pressure]), wall=test.covers == "opening")
    return Factor(float(test.flow / expected[0, 0]), "window test")
