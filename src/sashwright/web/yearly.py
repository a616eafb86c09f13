"""Answers that need more than one window: the weather, the whole house's tests, marks and walk.

They are kept until anything in the house changes, so that pages of one house share them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.seal import seal
from sashwright.chapters.season import marks_of, season
from sashwright.knowledge.climate import Place
from sashwright.physics.hourly_year import HourlyYear
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.outdoors import NoWeather, Outdoors, outdoors_of
from sashwright.web.asking import Asked
from sashwright.window.spec import House


@dataclass(frozen=True, slots=True)
class Weather:
    """The weather of a house, or why there is none."""

    outdoors: Outdoors | None
    says: str = ""


def weather_of(house: House) -> Weather:
    try:
        return Weather(outdoors_of(house))
    except NoWeather as error:
        return Weather(None, str(error))


@dataclass(frozen=True)
class Whole:
    """A house with what chapters say of all of it."""

    house: House
    weather: Weather
    system: units.System

    @cached_property
    def seal(self) -> Answer:
        year, place = self._year_and_place
        return seal(self.house, knowledge(), system=self.system, year=year, place=place)

    @cached_property
    def season(self) -> Answer:
        year, place = self._year_and_place
        return season(self.house, knowledge(), system=self.system, year=year, place=place)

    @property
    def _year_and_place(self) -> tuple[HourlyYear | None, Place | None]:
        outdoors = self.weather.outdoors
        return (None, None) if outdoors is None else (outdoors.year, outdoors.place)


def whole_of(slug: str, system: units.System) -> Whole:
    """A house and its answers; asked again only when something in the house changes."""
    return _whole(slug, store.changed_at(slug), system, id(knowledge()))


@lru_cache(maxsize=4)
def _whole(slug: str, changed: datetime, system: units.System, tables: int) -> Whole:
    house = store.load_house(slug)
    return Whole(house, weather_of(house), system)


# --- one window among the others ------------------------------------------------------


def seal_of(slug: str, house: House, asked: Asked) -> WindowAnswer:
    """The air through one window, scaled by the fan tests of its house where there are two."""
    if house.air.before is None or house.air.after is None:
        return asked.seal()
    answers = whole_of(slug, asked.system).seal.windows
    return next(answer for answer in answers if answer.number == asked.window.number)


def season_of(slug: str, house: House, asked: Asked) -> WindowAnswer:
    """Storm and screen of one window, with the mark that the walk through the house gives it."""
    mark = asked.window.mark or marks_of(store.load_house(slug))[asked.window.number]
    return asked.season(mark, house.changeover)
