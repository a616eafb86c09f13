"""Answers that need more than one window: the weather, the whole house's tests, marks and walk.

They are kept until anything in the house changes, so that pages of one house share them.
"""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.grade import grade
from sashwright.chapters.grade.chapter import house_factor
from sashwright.chapters.heat import heat
from sashwright.chapters.heat.say import CONVENTIONS
from sashwright.chapters.price import price
from sashwright.chapters.price.hours import Done
from sashwright.chapters.seal import seal
from sashwright.chapters.seal.window import Factor
from sashwright.chapters.season import marks_of, season
from sashwright.chapters.treat import treat
from sashwright.chapters.treat.beside import beside
from sashwright.knowledge.climate import Place
from sashwright.physics.hourly_year import HourlyYear
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.jobs import jobs_elsewhere
from sashwright.record.outdoors import NoWeather, Outdoors, outdoors_of
from sashwright.web.asking import Asked
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

_ONE_AT_A_TIME = threading.Lock()
"""Opening plans and keeping or replacing are seconds of work for all of the machine: whoever asks meanwhile
waits, and finds it done."""


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
    slug: str = ""

    @cached_property
    def seal(self) -> Answer:
        year, place = self._year_and_place
        return seal(self.house, knowledge(), system=self.system, year=year, place=place)

    @cached_property
    def season(self) -> Answer:
        year, place = self._year_and_place
        return season(self.house, knowledge(), system=self.system, year=year, place=place)

    @cached_property
    def grade(self) -> Answer:
        return grade(self.house, knowledge(), system=self.system)

    @cached_property
    def heat(self) -> Answer:
        return self._heat(None)

    def heat_window(self, number: str) -> WindowAnswer:
        """The warmth of one window: the rest of the house is only worked out for its own page."""
        if "heat" in self.__dict__:
            return next(each for each in self.heat.windows if each.number == number)
        if number not in self._heats:
            self._heats[number] = self._heat([number]).windows[0]
        return self._heats[number]

    def _heat(self, numbers: list[str] | None) -> Answer:
        year, place = self._year_and_place
        return heat(self.house, knowledge(), numbers, self.system, year=year, place=place)

    @cached_property
    def _heats(self) -> dict[str, WindowAnswer]:
        return {}

    @cached_property
    def breathe(self) -> Answer | None:
        """How the house ventilates, after some seconds of search; None without weather."""
        from sashwright.chapters.breathe import breathe, chapter  # noqa: PLC0415 - slow to load

        if self.weather.outdoors is None:
            return None
        with _ONE_AT_A_TIME:
            return breathe(
                self.house,
                knowledge(),
                self.system,
                year=self.weather.outdoors.year,
                seconds=chapter.SECONDS,
            )

    def breathe_hour(self, season: str, hour: int, plan: str) -> Mapping[str, Any] | None:
        """The air of one hour of a season's warm day, by one of the plans that were compared."""
        from sashwright.chapters.breathe import breathe_hour, chapter  # noqa: PLC0415

        if self.weather.outdoors is None:
            return None
        with _ONE_AT_A_TIME:
            return breathe_hour(
                self.house,
                knowledge(),
                season=season,
                hour=hour,
                plan=plan,
                year=self.weather.outdoors.year,
                seconds=chapter.SECONDS,
            )

    def worth(self, *, repair_due: bool = False) -> Answer | None:
        """Keep or replace, after some seconds; None without weather."""
        from sashwright.chapters.worth import chapter  # noqa: PLC0415 - slow to load

        if self.weather.outdoors is None:
            return None
        with _ONE_AT_A_TIME:
            if repair_due not in self._worths:
                self._worths[repair_due] = chapter.worth(
                    self.house,
                    knowledge(),
                    self.system,
                    year=self.weather.outdoors.year,
                    draws=chapter.DRAWS,
                    repair_due=repair_due,
                )
        return self._worths[repair_due]

    @cached_property
    def _worths(self) -> dict[bool, Answer]:
        return {}

    @cached_property
    def treat(self) -> Answer:
        return treat(self.house, knowledge(), system=self.system)

    def treat_window(self, number: str) -> WindowAnswer:
        """What one window needs, with the other chapters' figures beside each alternative."""
        quoted = {number: self._beside(number)}
        asked = treat(self.house, knowledge(), [number], self.system, beside=quoted)
        return asked.windows[0]

    def _beside(self, number: str) -> Mapping[str, Mapping[str, Any]]:
        # What keeping or replacing is worth is told where somebody has waited for it already.
        worth = self._worths.get(False)
        asked = number, worth is not None
        if asked not in self._quoted:
            placed = self.placed.get(number)
            prices = price(self.house, knowledge(), [number], jobs=self.jobs).windows[0].values
            self._quoted[asked] = (
                {}
                if placed is None
                else beside(
                    placed,
                    self.house,
                    factor=self._factor,
                    conventions=(CONVENTIONS[self.system],),
                    prices=prices,
                    worth=None if worth is None else worth.values,
                )
            )
        return self._quoted[asked]

    @cached_property
    def _quoted(self) -> dict[tuple[str, bool], Mapping[str, Mapping[str, Any]]]:
        return {}

    @cached_property
    def placed(self) -> Mapping[str, Placed]:
        """Every window that can be laid out."""
        found = place_each(self.house, knowledge())
        return {window.number: placed for window, placed in found if isinstance(placed, Placed)}

    @cached_property
    def _factor(self) -> Factor:
        """What two fan tests say of all joints."""
        tested = self.house.air.before is not None and self.house.air.after is not None
        return house_factor(self.house, self.placed) if tested else Factor()

    @cached_property
    def jobs(self) -> Sequence[Done]:
        """Finished tasks at the other houses of the shop: estimates learn from them too."""
        return jobs_elsewhere(self.slug)

    @cached_property
    def price(self) -> Answer:
        return price(self.house, knowledge(), jobs=self.jobs)

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
    return Whole(house, weather_of(house), system, slug)


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


def grade_of(slug: str, asked: Asked) -> Answer:
    """Wind and rain on one window: the storeys of the whole house, its walls and its fan tests count."""
    whole = whole_of(slug, asked.system)
    return grade(whole.house, knowledge(), [asked.window.number], asked.system)


def heat_of(slug: str, asked: Asked) -> WindowAnswer:
    """The warmth of one window: the wind on the house and its fan tests count for all of its windows."""
    return whole_of(slug, asked.system).heat_window(asked.window.number)
