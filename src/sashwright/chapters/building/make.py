"""From the specification of a house to its :class:`Building`."""

from __future__ import annotations

from sashwright.chapters.building.envelope import Behind
from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.house import Building
from sashwright.chapters.building.planned import plan_of
from sashwright.chapters.heat.leak import seal_all
from sashwright.chapters.heat.whole import Whole
from sashwright.chapters.seal.window import Factor, Sealed
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

_NO_FACTOR = Factor()


class BuildingError(ValueError):
    """A house that cannot be followed through the year; the message says what is missing."""


def building(house: House, knowledge: Knowledge, year: HourlyYear) -> Building:
    """A house made ready for a year of weather.

    Parameters
    ----------
    house, knowledge
        The specification and the tables. Windows whose sizes contradict each other are left out.
    year : HourlyYear
        Weather.

    Raises
    ------
    BuildingError
        For a house without windows or rooms that could be followed.
    KnowledgeError
        For an unknown row of the fabric table.
    """
    plan = plan_of(house)
    laid: dict[str, Placed] = {}
    wrong: dict[str, str] = {}
    for window, placed in place_each(house, knowledge):
        if isinstance(placed, Placed):
            try:
                _ = (
                    Sealed(placed, _NO_FACTOR).found,
                    placed.knowledge.find("covering", placed.family.covering),
                )
                if placed.family.storm != "none":
                    _ = placed.storm_sash
            except (LayoutError, KnowledgeError) as error:
                wrong[window.number] = str(error)
            else:
                laid[window.number] = placed
        else:
            wrong[window.number] = str(placed)
    sealed = seal_all(house, laid)
    windows = tuple(
        Glazed(
            number,
            plan.room_of[number],
            house.walls[placed.window.wall].faces,
            Whole(placed),
            sealed[number],
        )
        for number, placed in laid.items()
        if number in plan.room_of and placed.window.wall in house.walls
    )
    if not plan.zones or not windows:
        raise BuildingError(
            f"{house.name}: found no window that stands in a room, expected at least one."
        )
    made = Building(house, knowledge, year, plan, windows, wrong)
    _ = made.opaque
    # All columns of the weather are named before its temperatures are taken.
    for each in windows:
        made.exposures.column(Behind("plane", each.faces, 90.0, 0.0))
    return made
