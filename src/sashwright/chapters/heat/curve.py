"""U of a window behind a storm against the width of the space between, by both methods."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.heat.glass import Space, Stack, centre, u_en
from sashwright.physics.glazing import Gap

Array = NDArray[np.float64]

WIDTHS = tuple(
    float(each) / 1000
    for each in (*range(3, 16), 16, 18, 20, 22, 25, 28, 32, 36, 40, 50, 60, 75, 90, 110, 130, 150)
)
"""At which the curve is drawn [m]."""
QUARTER_INCH, FOUR_INCHES = 0.00635, 0.1016
"""Two spaces to mark [m]: of the thinnest insulated unit, and of a storm set far off."""
HEIGHT = 1.0
"""Of the glass that the curve is drawn for [m]: of the handbook's tables."""


@dataclass(frozen=True, slots=True)
class Curve:
    """U at the centre of the glass against the space [W/(m2 K)]."""

    widths: tuple[float, ...]
    en: tuple[float, ...]
    na: tuple[float, ...]
    best_en: float
    best_na: float
    """The narrowest width that insulates as well as any, to half a percent [m]."""
    least_en: float
    least_na: float

    def marked(self, width: float) -> tuple[float, float]:
        """U by both methods at a width [m], read off the curve."""
        at = np.log(width)
        logs = np.log(self.widths)
        return float(np.interp(at, logs, self.en)), float(np.interp(at, logs, self.na))


ALIKE = 1.005
"""U that is no worse to tell: half a percent."""


@lru_cache(maxsize=256)
def curve_of(stack: Stack, space: int) -> Curve:
    """The curve of a stack, the width of its space number ``space`` going from 3 to 150 mm."""
    en = tuple(u_en(widened(stack, space, width)) for width in WIDTHS)
    na = tuple(centre(widened(stack, space, width), HEIGHT).u for width in WIDTHS)
    return Curve(WIDTHS, en, na, _best(en), _best(na), min(en), min(na))


def widened(stack: Stack, space: int, width: float) -> Stack:
    """The stack with one of its spaces of another width."""
    spaces = list(stack.spaces)
    old = spaces[space]
    spaces[space] = Space(Gap(width, old.gap.gas, old.gap.share), old.kind)
    return replace(stack, spaces=tuple(spaces))


def _best(values: tuple[float, ...]) -> float:
    least = min(values)
    return next(w for w, u in zip(WIDTHS, values, strict=True) if u <= ALIKE * least)
