"""How much of each way of the air is open in each hour, by what people do."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sashwright.chapters.building.air import AirSide
from sashwright.chapters.building.openings import Opens
from sashwright.chapters.building.scenario import Scenario
from sashwright.physics.hourly_year import HOURS

Array = NDArray[np.float64]
Whole64 = NDArray[np.int64]


def fractions(
    air_side: AirSide, opens: Mapping[str, Opens], scenario: Scenario, where: Whole64
) -> Array:
    """Of each link in the hours ``where``, (hours, links) [-]."""
    found = np.ones((len(where), len(air_side.links)))
    state = np.broadcast_to(np.asarray(scenario.state, dtype=np.int64), (HOURS,))[where]
    for place, each in enumerate(scenario.states):
        mine = state == place
        for link, share in air_side.crack_shares(each.builds).items():
            found[mine, link] = share
    for gap in air_side.gaps:
        shut = gap.which != "door"
        found[:, gap.link] = 0.0 if shut else _door(air_side, scenario, int(gap.of), where)
    gaps = {(gap.of, gap.which): gap for gap in air_side.gaps}
    for number in {*scenario.lowered, *scenario.raised}:
        down, up = (
            _at(given.get(number, 0.0), where) for given in (scenario.lowered, scenario.raised)
        )
        over, under = opens[number].free(down, up)
        for which, clear in (("upper", over), ("lower", under)):
            moving = gaps.get((number, which))
            if moving is not None:
                found[:, moving.link] = np.minimum(clear / moving.full, 1.0)
    return found


def _door(air_side: AirSide, scenario: Scenario, at: int, where: Whole64) -> Array:
    usual = air_side.plan.doors[at].usual == "open"
    open_ = _at(scenario.doors.get(at, float(usual)), where)
    return np.where(open_ > 0, 1.0, air_side.shut_share(at))


def _at(values: ArrayLike, where: Whole64) -> Array:
    """What holds in those hours, of a value for all or a row of them."""
    found = np.asarray(values, dtype=np.float64)
    return found[where] if found.ndim else np.full(len(where), float(found))
