"""Values for pictures: one hour's air through the house, and the calendar of comfort."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.breathe.compare import Lived
from sashwright.physics.hourly_year import DAYS, HOURS, hour_name
from sashwright.physics.network import Solution, solve
from sashwright.physics.psychrometrics import air_density

Array = NDArray[np.float64]

EVENING = 21
"""The hour of the warmest day that is pictured: windows open, warm rooms, cooling air."""
STILL = 0.005
"""Difference of density below which a room has no neutral level [kg/m3]."""
LEAST_FLOW = 1e-4
"""A flow that a picture shows [kg/s]."""


def pictured_hour(lived: Lived) -> int:
    """The evening of the day whose mean is warmest among those that are followed; an hour of the year."""
    year = lived.household.building.year
    counted = lived.at[lived.counted]
    days = np.unique(counted // 24)
    means = year.temperature.reshape(DAYS, 24).mean(axis=1)
    return int(24 * days[np.argmax(means[days])] + EVENING)


def hour_values(lived: Lived, hour: int) -> dict[str, Any]:
    """Air through every link, temperatures and neutral levels of all rooms in one hour of the year."""
    building, place = lived.household.building, int(np.searchsorted(lived.at, hour))
    network = building.air_side.network
    felt, year = lived.felt, building.year
    forth, back = felt.forth[place], felt.back[place]
    solution = _pressures(lived, hour, place)
    outdoors = float(year.temperature[hour])
    return {
        "hour": hour,
        "name": hour_name(hour),
        "outdoors_c": outdoors,
        "wind_m_s": float(year.wind_speed[hour]),
        "wind_from_deg": float(year.wind_direction[hour]),
        "rooms": [
            {
                "room": zone.key,
                "storey": zone.storey,
                "air_c": float(felt.air[place, at]),
                "operative_c": float(felt.operative[place, at]),
                "fresh_kg_s": float(felt.fresh[place, at]),
                "air_changes_h": float(felt.fresh[place, at] / 1.2 / zone.volume * 3600),
                "pressure_pa": float(solution.pressures[0, at]),
                "neutral_level_m": _neutral(
                    float(felt.air[place, at]),
                    outdoors,
                    float(year.pressure[hour]),
                    float(solution.pressures[0, at]),
                    zone.floor,
                ),
                "floor_m": zone.floor,
                "ceiling_m": zone.ceiling,
            }
            for at, zone in enumerate(building.zones)
        ],
        "links": [
            {
                "name": link.name,
                "from": link.start,
                "to": link.end,
                "kind": type(link).__name__.lower(),
                "forth_kg_s": float(forth[at]),
                "back_kg_s": float(back[at]),
            }
            for at, link in enumerate(network.links)
            if max(forth[at], back[at]) > LEAST_FLOW
        ],
    }


def _pressures(lived: Lived, hour: int, place: int) -> Solution:
    building = lived.household.building
    at = np.array([hour])
    moved = building.moved(building.fractions(lived.scenario, at), at)
    return solve(
        building.air_side.network,
        temperatures=lived.felt.air[place][None, :],
        outdoor_temperature=building.year.temperature[at],
        wind_pressure=moved.wind,
        fraction=moved.fraction,
        pressure=building.year.pressure[at],
    )


def _neutral(
    inside: float, outside: float, pressure: float, over: float, level: float
) -> float | None:
    """Height over the ground at which a room presses like still air outdoors [m]; None for a level that is no
    more than a guess."""
    nothing = np.zeros(())
    apart = float(
        air_density(np.array(outside), nothing, np.array(pressure))
        - air_density(np.array(inside), nothing, np.array(pressure))
    )
    if abs(apart) < STILL:
        return None
    return level - over / (9.81 * apart)


def calendar_values(lived: Lived) -> dict[str, Any]:
    """Share of the occupied rooms that are comfortable, by day and hour; None where it is not judged.

    ``share`` has 365 rows of 24; ``hot`` likewise the share that is too warm.
    """
    occupied = lived.judged.occupied
    count = occupied.sum(axis=1)
    share = _spread(lived, (occupied * lived.judged.comfortable).sum(axis=1), count)
    hot = _spread(lived, (occupied * (lived.judged.over > 0)).sum(axis=1), count)
    return {"plan": lived.plan.name, "share": share, "hot": hot}


def _spread(lived: Lived, sums: Array, count: Array) -> list[list[float | None]]:
    year = np.full(HOURS, np.nan)
    mine = lived.counted & (count > 0)
    year[lived.at[mine]] = sums[mine] / count[mine]
    return [
        [None if np.isnan(each) else round(float(each), 3) for each in day]
        for day in year.reshape(DAYS, 24)
    ]
