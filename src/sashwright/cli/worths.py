"""The command ``worth``: keep the windows or replace them, in energy, money and carbon."""

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
from sashwright.cli.pages import NONE, Page
from sashwright.cli.weather import Asked, weather_options

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer

Row = Mapping[str, Any]
BARS = 5
"""Inputs that are listed by how much they matter."""


@click.command()
@house_argument
@json_option
@units_option
@working_option
@weather_options
@click.option(
    "--draws",
    type=click.IntRange(0, 100_000),
    default=1000,
    show_default=True,
    help="Of all that is not known for sure; 0 for the likely figures alone.",
)
@click.option("--repair-due", is_flag=True, help="The windows cannot stay as they are.")
@knowledge_option
@click.pass_context
def worth(
    ctx: click.Context,
    house_file: Path,
    as_json: bool,
    units_asked: str | None,
    working: bool,
    asked: Asked,
    draws: int,
    repair_due: bool,
    shop_files: tuple[Path, ...],
) -> None:
    """Keep the windows, and how, or replace them: energy, money and carbon over the years.

    Costs of work are allowances until the house file has quotes (running.costs).

    \b
    Examples:
      sashwright worth larkspur.toml
      sashwright worth larkspur.toml --repair-due --working
    """
    from sashwright.chapters.worth import worth as ask

    house, knowledge, system, _ = subject(house_file, shop_files, units_asked, ())
    weather = asked.weather(house)
    answer = ask(house, knowledge, system, year=weather.year, draws=draws, repair_due=repair_due)
    page = Page(house, knowledge, system, working)
    pages.finish(ctx, answer, as_json, lambda: _show(page, answer))


def _show(page: Page, answer: Answer) -> None:
    if answer.values:
        say.show(*_lines(answer.values), "")
    say.show(*say.finding_lines(answer.findings))
    if page.working:
        click.echo("\n" + "\n".join(say.step_lines(answer.working)))


def _lines(values: Row) -> Iterator[Any]:
    yield f"{values['question']} Compared with: {values['baseline']}."
    yield ""
    yield say.table(_COLUMNS, (_row(values, row) for row in values["alternatives"]))
    yield (
        f"Over {values['years']} years at {100 * values['discount']:g} % interest, energy rising "
        f"{100 * values['fuel_rise']:g} % a year; * costs least."
    )
    margin = values["margin"]
    if "keeping_costs_less_share" in margin:
        yield (
            f"{values['draws']:,} draws: keeping costs less than replacing in "
            f"{100 * margin['keeping_costs_less_share']:.0f} of 100."
        )
    if values["inputs"]:
        yield ""
        yield say.table(
            ("What decides how far apart they are", "Of the spread", "Replacing costs more by"),
            (_input(each) for each in values["inputs"][:BARS]),
        )
    studies = [each for each in values["studies"] if each["like_ours"]]
    if studies:
        yield ""
        yield say.table(
            ("Published, for windows like these", "Found", "Here", ""),
            (_study(each) for each in studies),
        )


_COLUMNS = (
    "", "Now", "Energy a year", "Through the years", "It may be", "Pays back", "CO2 a year", "Landfill",
)  # fmt: skip


def _row(values: Row, row: Row) -> tuple[str, ...]:
    mark = " *" if row["key"] == values["cheapest"] else ""
    ranges = row["ranges"]
    back = row["energy_payback_years"]
    base = row["key"] == values["base"]
    return (
        row["name"] + mark,
        _money(row["first_cost"]) if row["first_cost"] else NONE,
        _money(row["energy_cost"]),
        _money(row["net_present_cost"]),
        _span(ranges["net_present_cost"]) if ranges else NONE,
        NONE if base else "never" if back is None else f"{back:.0f} years",
        f"{row['carbon_a_year_kg'] / 1000:.2f} t",
        f"{row['landfill_kg'] / 1000:.1f} t",
    )


def _money(value: float) -> str:
    return f"{value:,.0f}"


def _span(found: Mapping[str, float]) -> str:
    return f"{_money(found['low'])} to {_money(found['high'])}"


def _input(each: Row) -> tuple[str, ...]:
    return (
        each["words"],
        f"{100 * each['share']:3.0f} % {pages.bar(each['share'])}",
        f"{_money(each['margin_at_low'])} to {_money(each['margin_at_high'])}",
    )


def _study(each: Row) -> tuple[str, ...]:
    return (
        f"{each['study']}: {each['of']}, {each['quantity']}",
        _figures(each, (each["low"], each["high"])),
        "never" if each["ours"] is None else _figures(each, (each["ours"],)),
        each["lies"],
    )


def _figures(each: Row, figures: Sequence[float]) -> str:
    share = each["unit"] == "-"
    words = [
        f"{100 * value:.0f} %" if share else f"{value:.2g}" if value < 10 else f"{value:.0f}"
        for value in dict.fromkeys(figures)
    ]
    return " to ".join(words)
