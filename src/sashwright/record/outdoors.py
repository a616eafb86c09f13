"""The weather a house stands in: its named place found in the gazetteer, and a typical year made of it.

Pure files and sums, no database: the command line uses it as well as the pages.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sashwright.chapters.fit import household_of
from sashwright.chapters.weather import year_of
from sashwright.knowledge.climate import Place
from sashwright.knowledge.climate_load import gazetteer
from sashwright.knowledge.tables import KnowledgeError
from sashwright.physics.daily import DailyClimate, daily
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.indoor import indoor_climate
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.window.spec import House


class NoWeather(ValueError):  # noqa: N818
    """A house without a climate, or with one nobody knows; the message says what to write."""


@dataclass(frozen=True, slots=True)
class Outdoors:
    """A place, and its typical year hour by hour."""

    place: Place
    year: HourlyYear

    def daily(self, house: House) -> DailyClimate:
        """Daily means outside, and inside as the house is kept."""
        return daily_of(self.year, house)


def daily_of(year: HourlyYear, house: House) -> DailyClimate:
    """Daily means of a year outside, and inside as the house is kept."""
    vapour = saturation_pressure(year.dew_point)
    indoor = indoor_climate(year.temperature, vapour, household_of(house))
    return daily(year, indoor)


def outdoors_of(house: House) -> Outdoors:
    """The weather of a house by its ``climate``. Raises ``NoWeather``."""
    if not house.climate.strip():
        raise NoWeather(
            "Found no climate for the house, expected the name of a place such as 'Portland, Maine'."
        )
    return named(house.climate)


def outdoors_or_none(house: House) -> Outdoors | None:
    """The same, for those who say more with the weather and do without."""
    try:
        return outdoors_of(house)
    except NoWeather:
        return None


@lru_cache(maxsize=16)
def named(words: str) -> Outdoors:
    """The weather of a place by its name, station number or coordinates. Raises ``NoWeather``."""
    try:
        place = gazetteer().find(words)
    except KnowledgeError as error:
        raise NoWeather(str(error)) from None
    return Outdoors(place, year_of(place))
