"""What people do with a house: what hangs before its windows, which sash and doors stand open, heating."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from sashwright.chapters.building.glass import WindowState
from sashwright.chapters.heat.builds import Key


@dataclass(frozen=True)
class HouseState:
    """How all windows stand: what hangs before each, screens, coverings."""

    name: str
    windows: tuple[tuple[str, WindowState], ...]

    def of(self, number: str) -> WindowState:
        return dict(self.windows)[number]

    @property
    def builds(self) -> dict[str, Key]:
        return {number: state.build for number, state in self.windows}


@dataclass(frozen=True, eq=False)
class Scenario:
    """What people do with a house through the year's 8,760 hours.

    ``state`` is the place in ``states`` of each hour. ``lowered`` and ``raised`` say how far the upper sash
    of a window, by its number, is down and its lower sash up [m]; windows not named stay shut. ``doors`` says
    by the door's place in the plan whether it stands open; others stand as usual. ``heat_to`` and
    ``cool_to`` [°C] hold for the heated rooms; -inf and inf for none.
    """

    states: tuple[HouseState, ...]
    state: ArrayLike = 0
    lowered: Mapping[str, ArrayLike] = field(default_factory=dict)
    raised: Mapping[str, ArrayLike] = field(default_factory=dict)
    doors: Mapping[int, ArrayLike] = field(default_factory=dict)
    heat_to: ArrayLike = -np.inf
    cool_to: ArrayLike = np.inf
