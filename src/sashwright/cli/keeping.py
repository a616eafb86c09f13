"""The command ``keep``: what comes next at the windows of a house, and when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.exits import usage
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer

SHOWN = 10
"""Years in the table of a house."""


@click.command()
@asks
@click.option("--on", "on", metavar="DATE", help="Reckon from this day; otherwise from today.")
@click.option(
    "--ics",
    "calendar",
    metavar="FILE.ics",
    type=click.Path(path_type=Path),
    help="Write a calendar file for a telephone.",
)
def keep(
    question: Question,
    on: str | None,
    calendar: Path | None,
) -> None:
    """What comes next: looking over, paint, putty, cords, storms and screens, year by year.

    It knows what the house file says of the survey and of finished work; visits are kept in the record.

    \b
    Examples:
      sashwright keep larkspur.toml
      sashwright keep larkspur.toml --ics larkspur.ics
      sashwright keep larkspur.toml --window 104 --working
    """
    from datetime import datetime

    from sashwright.chapters.keep import keep as ask
    from sashwright.record.outdoors import outdoors_or_none

    house, knowledge, system, wanted = question.subject
    outdoors = outdoors_or_none(house)
    today = on or datetime.now().astimezone().date().isoformat()
    try:
        answer = ask(
            house,
            knowledge,
            wanted,
            system,
            today=today,
            place=None if outdoors is None else outdoors.place,
            year=None if outdoors is None else outdoors.year,
        )
    except ValueError as error:
        raise usage(str(error)) from None
    if calendar is not None:
        from sashwright.cli.writing import deliver
        from sashwright.papers.calendarfile import keep_calendar

        deliver(keep_calendar(answer), calendar)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
        return
    say.show(say.table(("Year", "What", "Windows"), _years(answer)))
    changes = answer.values["changes"]
    if changes:
        told = (f"{row['name']} from {row['from']} to {row['by']}" for row in changes[:2])
        say.show("", f"Next changes: {'; '.join(told)}.")
    say.show("", *say.finding_lines(answer.findings))
    pages.in_all(answer)
    pages.all_working(page, answer.windows)


def _years(answer: Answer) -> Iterator[Sequence[str]]:
    from sashwright.papers.orderwords import windows

    for year in answer.values["years"][:SHOWN]:
        for at, row in enumerate(year["rows"]):
            yield "" if at else str(year["year"]), row["name"], windows(row["windows"], 8)


def _card(page: Page, window: WindowAnswer) -> None:
    if window.values:
        say.show(
            say.table(
                ("What", "Every", "Last", "Known by", "Due", "Between"),
                (_item(row) for row in window.values["items"]),
            )
        )
    pages.close(page, window)


def _item(row: Mapping[str, Any]) -> Sequence[str]:
    from sashwright.chapters.keep.clocks import SAID

    between = NONE
    if row["due_early"] and row["due_early"] != row["due_late"]:
        between = f"{row['due_early'][:4]} to {row['due_late'][:4]}"
    return (
        row["name"],
        every(row["life_years"]),
        row["last"] or NONE,
        "; ".join(row["faults"]) or SAID[row["known_by"]],
        row["due"] or NONE,
        between,
    )


def every(years: float) -> str:
    """``year``, ``7 years``, ``6.5 years``: how often."""
    text = f"{years:.1f}".removesuffix(".0")
    return "year" if text == "1" else f"{text} years"
