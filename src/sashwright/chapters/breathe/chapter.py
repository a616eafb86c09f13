"""How does the house ventilate, and how should it be opened? The answer for a house."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.breathe.best import Compared, compare
from sashwright.chapters.breathe.card import card
from sashwright.chapters.breathe.findings import house_findings
from sashwright.chapters.breathe.limits import SIDES, Limits
from sashwright.chapters.breathe.pictures import calendar_values, hour_values, pictured_hour
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.breathe.seasons import PARTS, Calendar, months_words
from sashwright.chapters.breathe.working import steps
from sashwright.chapters.building import Building, BuildingError, building
from sashwright.chapters.weather import year_of
from sashwright.chapters.words import Words
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.spec import House

SECONDS = 10.0
"""For the search, on one core of a usual laptop."""


def breathe(
    house: House,
    knowledge: Knowledge,
    system: units.System | None = None,
    *,
    year: HourlyYear | None = None,
    place: Place | None = None,
    seconds: float = SECONDS,
) -> Answer:
    """How a house should be opened, and what that is worth.

    Parameters
    ----------
    house, knowledge
        The specification and the tables.
    system : {"us", "metric"}, optional
        Of the sentences; the house's own where not given.
    year : HourlyYear, optional
        Weather hour by hour.
    place : Place, optional
        Its typical year, where no year is given.
    seconds : float
        About how long the search for the plan may take; turned into a number of plans to be followed, so that
        the same house and the same ``seconds`` give the same plan on any machine.

    Raises
    ------
    ValueError
        Without weather.

    Notes
    -----
    A house that cannot be followed is answered with what is missing; it never raises for one.
    """
    if year is None:
        if place is None:
            raise ValueError("breathe: found no weather, expected a year or a place")
        year = year_of(place)
    words = Words(system or house.units)
    try:
        made = building(house, knowledge, year)
    except BuildingError as error:
        return Answer("breathe", house.name, [], {}, [_missing(str(error))])
    household = Household(made, Calendar(year), Limits(made))
    if not household.calendar.seasons:
        return Answer("breathe", house.name, [], _house(household), [_never(year.source)])
    compared = compared_plans(Asked(house, knowledge, year), household, seconds)
    return Answer(
        "breathe",
        house.name,
        _windows(household, compared),
        _values(household, compared, words),
        list(house_findings(household, compared, words)),
        list(steps(household, compared)),
    )


class Asked:
    """A house and its weather as a key of what has been searched: alike by value of the house."""

    def __init__(self, house: House, knowledge: Knowledge, year: HourlyYear) -> None:
        self.words = house.model_dump_json()
        self.knowledge, self.year = knowledge, year

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Asked)
            and self.words == other.words
            and self.knowledge is other.knowledge
            and self.year is other.year
        )

    def __hash__(self) -> int:
        return hash((self.words, id(self.knowledge), id(self.year)))


class _Work:
    """A search that is worked out when its key is new; the household is no part of the key."""

    def __init__(self, asked: Asked, household: Household) -> None:
        self.asked, self.household = asked, household

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Work) and self.asked == other.asked

    def __hash__(self) -> int:
        return hash(self.asked)


def compared_plans(asked: Asked, household: Household, seconds: float) -> Compared:
    return _known(_Work(asked, household), seconds)


MOST = 4
"""Houses whose plans are kept in memory: some 80 MB each."""


@lru_cache(maxsize=MOST)
def _known(work: _Work, seconds: float) -> Compared:
    return compare(work.household, seconds)


def _missing(says: str) -> Finding:
    return Finding("fail", "house", says, "air needs rooms with windows", "survey")


def _never(source: str) -> Finding:
    return Finding(
        "note",
        "house",
        "Not here: there are hardly any days without heating in which windows could cool or warm the house.",
        source,
        "ANSI/ASHRAE Standard 55, section 5.4",
    )


# --- values ---------------------------------------------------------------------------


def _house(household: Household) -> dict[str, Any]:
    made: Building = household.building
    return {
        "weather": made.year.source,
        "assumed": list(made.plan.assumed),
        "heated_volume_m3": made.plan.heated_volume,
        "rooms": [
            {
                "room": zone.key,
                "storey": zone.storey,
                "area_m2": zone.area,
                "height_m": zone.height,
                "floor_m": zone.floor,
                "use": zone.use,
                "heated": zone.heated,
            }
            for zone in made.zones
        ],
        "seasons": [
            {
                "name": season.name,
                "months": months_words(season),
                "month_numbers": [month + 1 for month in season.months],
                "days": season.days,
                "wind_from_deg": household.calendar.wind_from(season),
            }
            for season in household.calendar.seasons
        ],
    }


def _values(household: Household, compared: Compared, words: Words) -> dict[str, Any]:
    best = compared.best
    hour = pictured_hour(best)
    return _house(household) | {
        "plans": [lived.values() for lived in compared.all],
        "best": best.plan.name,
        "taken_from": dict(compared.taken),
        "plans_followed": compared.tried,
        "card": card(household, best.plan, words),
        "calendar": calendar_values(best),
        "calendar_shut": calendar_values(compared.named("all shut")),
        "hour": hour_values(best, hour),
        "hour_shut": hour_values(compared.named("all shut"), hour),
    }


def _windows(household: Household, compared: Compared) -> Sequence[WindowAnswer]:
    """What each window can open, what holds it, and how the plan sets it."""
    made = household.building
    cards = card(household, compared.best.plan, Words("metric"))
    found = []
    for glazed in made.windows:
        number = glazed.number
        opens = made.opens[number]
        over, under = opens.widest if opens.can_open else (0.0, 0.0)
        values = {
            "room": glazed.zone,
            "faces_deg": glazed.faces,
            "clear_width_m": opens.width,
            "clear_upper_m": over,
            "clear_lower_m": under,
            "limits": {
                which: {
                    part: {
                        "most_m": household.limits.all[number, which, part].most,
                        "why": household.limits.all[number, which, part].why,
                    }
                    for part in PARTS
                }
                for which in SIDES
            },
            "plan": [
                {"season": row["season"], "part": part["part"], **position}
                for row in cards
                for part in row["parts"]
                for position in part["positions"]
                if position["window"] == number
            ],
        }
        found.append(WindowAnswer(number, values))
    return found
