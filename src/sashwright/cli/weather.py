"""The options ``--weather`` and ``--climate``, and the weather that they and the house lead to."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import gathered, require_file

if TYPE_CHECKING:
    from sashwright.knowledge.climate import Place
    from sashwright.physics.daily import DailyClimate
    from sashwright.physics.hourly_year import HourlyYear
    from sashwright.window.spec import House


OTHERWISE = "--climate PLACE or --weather FILE gives one for this once."


class Weather:
    """A year of weather hour by hour, and the place if it is one of the gazetteer."""

    def __init__(self, year: HourlyYear, place: Place | None) -> None:
        self.year = year
        self.place = place

    def daily(self, house: House) -> DailyClimate:
        from sashwright.record.outdoors import daily_of

        return daily_of(self.year, house)


@dataclass(frozen=True)
class Asked:
    """What the command line says of the weather: a place, or a file, or nothing."""

    place: str | None
    file: Path | None

    def __post_init__(self) -> None:
        if self.place is not None and self.file is not None:
            raise usage("--climate and --weather both give the weather; name one of them.")

    def weather(self, house: House) -> Weather:
        """The weather asked for, or else that of the house; ends the command without one."""
        from sashwright.record.outdoors import NoWeather, named, outdoors_of

        if self.file is not None:
            return Weather(year_from(self.file), None)
        try:
            found = outdoors_of(house) if self.place is None else named(self.place)
        except NoWeather as error:
            if self.place is not None:
                raise usage(str(error)) from None
            raise Failure(f"{error} {OTHERWISE}") from None
        return Weather(found.year, found.place)

    def weather_or_none(self, house: House) -> Weather | None:
        """As ``weather``; where the house itself has none, a word on stderr and none."""
        if self.file is not None or self.place is not None:
            return self.weather(house)
        try:
            return self.weather(house)
        except Failure as error:
            error.show()
            return None


weather_options = gathered(
    "asked",
    Asked,
    click.option(
        "--climate",
        "place",
        metavar="PLACE",
        help="Weather of this place, not of the one that the house names.",
    ),
    click.option(
        "--weather",
        "file",
        metavar="FILE",
        type=click.Path(path_type=Path),
        help="A year of hourly weather of your own: an EPW or TMY3 file.",
    ),
)
"""What a command may be told about the weather; it gets it as ``asked``."""


def year_from(path: Path) -> HourlyYear:
    """A year of weather from a file; ends the command with what is wrong with it."""
    from sashwright.record.hourly import WeatherFileError, read_hourly

    require_file(path, (".epw", ".csv", ".tm2"))
    try:
        return read_hourly(path)
    except WeatherFileError as error:
        raise Failure(str(error)) from None
