"""The command ``climate``: the weather of a place by month, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import exits, say
from sashwright.cli.exits import Unclear, usage
from sashwright.cli.options import json_option
from sashwright.cli.pages import NONE
from sashwright.cli.weather import year_from

if TYPE_CHECKING:
    from rich.table import Table

    from sashwright.chapters.answer import Answer
    from sashwright.chapters.climate import Site
    from sashwright.knowledge.climate import Near, Place, Spot
    from sashwright.knowledge.climate_load import Gazetteer
    from sashwright.units import System

FOOT = 0.3048
MILE = 1609.344
MILE_AN_HOUR = 0.44704
"""[m] and [m/s]; exact."""
NEAR = 6
"""Stations that ``--near`` lists."""
LISTED = 12
"""Places that a word may mean, listed when it means several."""

HINT = """\
Name a place, and its climate by month is shown:
  sashwright climate Portland, Maine        a town and its state
  sashwright climate 43.65,-70.30           the station nearest to a point, north and east
  sashwright climate 726060                 a station by its number
  sashwright climate my-weather.epw         a weather file of your own
  sashwright climate Portland, ME --near    and the stations around it

Write the name into the house file:  climate = "Portland, Maine"
"""


@click.command()
@click.argument("words", nargs=-1, metavar="[PLACE]")
@json_option
@click.option("--near", is_flag=True, help="List the nearest stations as well.")
@click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Show °F and miles an hour, or °C and m/s.",
)
@click.pass_context
def climate(
    ctx: click.Context, words: tuple[str, ...], as_json: bool, near: bool, system: System
) -> None:
    """Weather of a place by month, and how damp wood gets there.

    PLACE is a town with its state, a station's number, latitude and longitude, or a
    weather file of your own (EPW or TMY3). Without it, it tells how to search.

    \b
    Examples:
      sashwright climate Portland, Maine
      sashwright climate 43.65,-70.30 --near
    """
    asked = " ".join(words).strip()
    if not asked:
        click.echo(HINT, nl=False)
        return
    answer = _answer(asked, near, system)
    if as_json:
        say.print_json(answer.to_dict())
    else:
        _show(answer, system)
    ctx.exit(exits.FOUND if answer.worst == "fail" else exits.OK)


# --- finding the place ------------------------------------------------------------


def _answer(asked: str, near: bool, system: System) -> Answer:
    from sashwright.chapters.climate import Site, describe
    from sashwright.knowledge.climate import coordinates
    from sashwright.knowledge.climate_load import gazetteer

    places = gazetteer()
    if _is_file(asked):
        return _of_file(places, Path(asked), near, system)
    point = coordinates(asked)
    place = _place(places, asked)
    site: Site | None = None if point is None else Site(*point)
    at = (place.latitude, place.longitude) if point is None else point
    return describe(place, site=site, nearby=_around(places, place, at, near), system=system)


def _is_file(asked: str) -> bool:
    path = Path(asked)
    return path.is_file() or path.suffix.lower() in (".epw", ".csv", ".tm2")


def _of_file(places: Gazetteer, path: Path, near: bool, system: System) -> Answer:
    """The climate of a weather file: means of its months, degree days counted in it."""
    from sashwright.chapters.climate import describe
    from sashwright.record.file_place import COUNTED, place_of

    place = place_of(year_from(path), path)
    at = (place.latitude, place.longitude)
    nearby = _around(places, place, at, near)
    answer = describe(place, nearby=nearby, system=system)
    working = [
        replace(step, inputs={**step.inputs, "from": COUNTED}) if "from" in step.inputs else step
        for step in answer.working
    ]
    return replace(answer, values={**answer.values, "degree_days_from": COUNTED}, working=working)


def _place(places: Gazetteer, asked: str) -> Place:
    """The one place that the words mean; ends the command with those that they may mean."""
    from sashwright.knowledge.tables import KnowledgeError

    try:
        return places.find(asked)
    except KnowledgeError as error:
        matches = places.search(asked)
        if not matches:
            raise usage(str(error)) from None
        raise _several(str(error), matches) from None


def _several(sentence: str, matches: Sequence[Spot]) -> Unclear:
    """The end of a command whose words mean several places: they are listed by their numbers."""
    listed = [f"  {spot.key}  {spot.full_name}" for spot in matches[:LISTED]]
    more = len(matches) - LISTED
    return Unclear([sentence, *listed, *([f"  and {more} more"] if more > 0 else [])])


def _around(places: Gazetteer, place: Place, at: tuple[float, float], wanted: bool) -> list[Near]:
    """Stations nearest to a point, the place's own left out; their rise is over the place."""
    if not wanted:
        return []
    found = places.near(*at, place.elevation, NEAR + 1)
    return [near for near in found if near.spot.key != place.key][:NEAR]


# --- showing it -------------------------------------------------------------------


def _show(answer: Answer, system: System) -> None:
    values = answer.values
    say.show(*_about(values["place"], system), "", _months(values, system), "")
    say.show(*_year(values, system))
    if values["nearby"]:
        say.show("", _stations(values["nearby"], system))
    say.show("", *say.finding_lines(answer.findings))


def _about(place: Mapping[str, Any], system: System) -> Iterator[str]:
    name = f"{place['name']}, {place['region']}" if place["region"] else place["name"]
    # A file is named already.
    number = f", number {place['key']}" if place["country"] else ""
    yield (
        f"{name}: {_degrees(place['latitude_deg'], 'NS')}, {_degrees(place['longitude_deg'], 'EW')}, "
        f"{_height(place['elevation_m'], system)} above the sea{number}"
    )
    yield f"From: {place['source']}; {place['period']}"
    if place["credit"]:
        yield place["credit"]


def _degrees(angle: float, signs: str) -> str:
    return f"{abs(angle):.2f} {signs[angle < 0]}"


def _height(metres: float, system: System) -> str:
    return f"{metres / FOOT:,.0f} ft" if system == "us" else f"{metres:,.0f} m"


def _months(values: Mapping[str, Any], system: System) -> Table:
    speed = "mph" if system == "us" else "m/s"
    degree = "°F" if system == "us" else "°C"
    head = ("", f"Mean {degree}", "Highest", "Lowest", "Humidity", f"Wind {speed}", "From",
            "Sun kWh/m2", "Wood outdoors")  # fmt: skip
    return say.table(head, (_month(month, system) for month in values["months"]))


def _month(month: Mapping[str, Any], system: System) -> tuple[str, ...]:
    return (
        month["month"][:3],
        *(_temperature(month[f"temperature{which}_c"], system) for which in ("", "_max", "_min")),
        f"{100 * month['humidity']:.0f} %",
        _speed(month["wind_m_s"], system),
        month["wind_from"] or NONE,
        f"{month['global_kwh_m2_day']:.1f}",
        f"{100 * month['outdoor_moisture_content']:.1f} %",
    )


def _temperature(celsius: float, system: System) -> str:
    return f"{celsius * 1.8 + 32 if system == 'us' else celsius:.0f}"


def _speed(metres_a_second: float, system: System) -> str:
    return f"{metres_a_second / MILE_AN_HOUR if system == 'us' else metres_a_second:.1f}"


def _year(values: Mapping[str, Any], system: System) -> Iterator[str]:
    unit, letter = ("°F", "f") if system == "us" else ("K", "k")
    heating, cooling = (values[f"{which}_degree_days_{letter}"] for which in ("heating", "cooling"))
    base = "65 °F" if system == "us" else "18.3 °C"
    yield (
        f"Degree days at {base}, {unit} day: heating {heating:,.0f}, cooling {cooling:,.0f} "
        f"({values['degree_days_from']})"
    )


def _stations(nearby: Sequence[Mapping[str, Any]], system: System) -> Table:
    return say.table(
        ("Number", "Nearest stations", "Distance", "Height over it"),
        (
            (
                near["key"],
                near["name"],
                _distance(near["distance_m"], system),
                NONE if near["rise_m"] is None else _rise(near["rise_m"], system),
            )
            for near in nearby
        ),
    )


def _distance(metres: float, system: System) -> str:
    return f"{metres / MILE:.0f} miles" if system == "us" else f"{metres / 1000:.0f} km"


def _rise(metres: float, system: System) -> str:
    sign = "+" if metres >= 0 else "−"
    return f"{sign}{_height(abs(metres), system)}"
