"""The command ``breathe``: how the house should be opened, and what that is worth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.options import (
    house_argument,
    json_option,
    knowledge_option,
    subject,
    units_option,
    working_option,
)
from sashwright.cli.weather import Asked, weather_options

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer

Row = Mapping[str, Any]
SECONDS = 10.0


@click.command()
@house_argument
@json_option
@units_option
@working_option
@knowledge_option
@weather_options
@click.option(
    "--seconds",
    type=click.FloatRange(0, 3600),
    default=SECONDS,
    show_default=True,
    help="How long to search for a plan, about.",
)
@click.pass_context
def breathe(
    ctx: click.Context,
    house_file: Path,
    as_json: bool,
    units_asked: str | None,
    working: bool,
    shop_files: tuple[Path, ...],
    seconds: float,
    asked: Asked,
) -> None:
    """How the house ventilates: which sash to open when, and what comfort that brings.

    Rooms, warmth and air are followed hour by hour through the months without heating.

    \b
    Examples:
      sashwright breathe larkspur.toml
      sashwright breathe larkspur.toml --climate "Sacramento, CA"
    """
    from sashwright.chapters.breathe import breathe as ask

    house, knowledge, system, _ = subject(house_file, shop_files, units_asked, ())
    weather = asked.weather(house)
    answer = ask(house, knowledge, system, year=weather.year, place=weather.place, seconds=seconds)
    pages.finish(ctx, answer, as_json, lambda: _show(answer, working))


def _show(answer: Answer, working: bool) -> None:
    values = answer.values
    if values.get("card"):
        for season in values["card"]:
            say.show(*_card(season), "")
        say.show(say.table(_COLUMNS, _plans(values["plans"])), "")
        say.show(f"Of the hours that people are in their rooms. Weather: {values['weather']}.", "")
    say.show(*say.finding_lines(answer.findings))
    if working:
        pages.working_of(answer)


_COLUMNS = (
    "", "Comfortable", "Too warm", "Too cool", "Air changes an hour", "Moves a day",
)  # fmt: skip


def _plans(plans: Sequence[Row]) -> Iterator[tuple[str, ...]]:
    for plan in plans:
        yield (
            plan["name"],
            f"{100 * plan['comfortable_share']:3.0f} % {pages.bar(plan['comfortable_share'], 12)}",
            f"{100 * plan['overheated_share']:.0f} %",
            f"{100 * plan['cold_share']:.0f} %",
            f"{plan['air_changes_h']:.1f}",
            f"{plan['moves_per_day']:.0f}",
        )


def _card(season: Row) -> Iterator[str]:
    yield f"{season['months']} ({season['season']}, {season['days']} days without heating)"
    for line in season["always"]:
        yield f"  {line}"
    if not any(part["positions"] for part in season["parts"]):
        return
    for part in season["parts"]:
        hours = f"{part['from_hour']} to {part['to_hour']} h"
        yield f"  {part['part'].capitalize()}, {hours}"
        for line in part["lines"]:
            yield f"    {line}"
