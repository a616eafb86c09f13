"""The house through a year, hour by hour, with given air flows."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.compiled import compiled
from sashwright.physics.house_heat.course import Course, Out, blank, note
from sashwright.physics.house_heat.factors import Factors
from sashwright.physics.house_heat.given import Flows, Hours
from sashwright.physics.house_heat.kernel import at_rest, step_hour

Array = NDArray[np.float64]

WARM_UP = 744
"""Steps at the end of the series that are run before its start: a month, as ISO 52016-1 does."""


def simulate(
    f: Factors, during: Hours, air: Flows, *, start: float = 20.0, warm_up: int = WARM_UP
) -> Course:
    """The course of the house with given air flows.

    Parameters
    ----------
    f : Factors
        The house; its step is that of the series.
    during : Hours
        What happens to it.
    air : Flows
        Air flows.
    start : float
        Temperature of everything before the warm-up [°C].
    warm_up : int
        Steps from the end of the series that are run before it.

    Raises
    ------
    RuntimeError
        When in some step heating and cooling could not be told apart.
    """
    count = len(during.outdoors)
    out = blank(f, count)
    failed = _run(f, during, air, start, min(warm_up, count), out)
    if failed >= 0:
        raise RuntimeError(f"step {failed}: heating and cooling could not be told apart")
    return Course(*out, flows=air)


@compiled
def _run(f: Factors, during: Hours, air: Flows, start: float, warm_up: int, out: Out) -> int:
    """Fill ``out``; the step that failed, or -1."""
    count = len(during.outdoors)
    now = at_rest(f, start)
    for at in range(-warm_up, count):
        h = at % count
        if step_hour(f, during, h, air.fresh[h], air.between[h], now) == 0:
            return h
        if at >= 0:
            note(f, during, h, air.fresh[h], air.between[h], now, out)
    return -1
