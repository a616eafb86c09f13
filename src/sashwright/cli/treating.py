"""The command ``treat``: what each window needs, by which rule, and the alternatives beside each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.chapters.words import counted
from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer

Row = Mapping[str, Any]


@click.command()
@asks
def treat(question: Question) -> None:
    """What each window needs: class of repair, tasks, hours, and the alternatives.

    Rules, tasks and hours are tables that a shop may write over: treatment, task, scope.

    \b
    Examples:
      sashwright treat larkspur.toml
      sashwright treat larkspur.toml --window 104
    """
    from sashwright.chapters.treat import treat as ask

    house, knowledge, system, wanted = question.subject
    answer = ask(house, knowledge, wanted, system)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
        return
    say.show(say.table(_COLUMNS, _rows(answer.windows)))
    values = answer.values
    say.show(
        "",
        f"As chosen: {hours(values)} hours, {hours(values, 'hours_low')} to "
        f"{hours(values, 'hours_high')}, in all.",
        "",
        *say.finding_lines(answer.findings),
    )
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


def hours(row: Row, which: str = "hours") -> str:
    return f"{row[which]:.1f}"


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "Class", "Priority", "Found", "Chosen", "Hours", "It may be", "Dries")


def _rows(windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        if window.values:
            yield window.number, *_cells(window.values)


def _cells(values: Row) -> tuple[str, ...]:
    way = next(each for each in values["alternatives"] if each["key"] == values["chosen"])
    found = values["condition"]
    first = min(found, key=lambda each: each["priority"] or "Z", default=None)
    more = f", and {len(found) - 1} more" if len(found) > 1 else ""
    return (
        values["class"] or NONE,
        values["priority"] or NONE,
        NONE if first is None else f"{first['name'].lower()} on {_part(first['on'])}{more}",
        way["name"] + ("" if values["decision"] else " (not decided)"),
        hours(way),
        f"{hours(way, 'hours_low')} to {hours(way, 'hours_high')}",
        f"{way['drying_days']:.0f} days" if way["drying_days"] else NONE,
    )


def _part(name: str) -> str:
    plain = name if name in ("frame.paint", "frame.frame") else name.removeprefix("frame.")
    return plain.replace(".", " ").replace("_", " ")


# --- one window -------------------------------------------------------------------


def _card(page: Page, window: WindowAnswer) -> None:
    if window.values:
        say.show(*_card_lines(window.values))
    pages.close(page, window)


def _card_lines(values: Row) -> Iterator[Any]:
    if values["condition"]:
        yield say.table(
            ("Found on", "What", "How bad", "From", "Class", "Priority"),
            (
                (
                    _part(each["on"]),
                    each["name"].lower(),
                    each["severity"],
                    each["from"],
                    each["class"] or NONE,
                    each["priority"] or NONE,
                )
                for each in values["condition"]
            ),
        )
        yield ""
    yield say.table(
        ("Alternative", "Tasks", "Hours", "It may be", "Dries"),
        (
            (
                ("* " if way["key"] == values["chosen"] else "  ") + way["name"],
                str(len(way["tasks"])),
                hours(way),
                f"{hours(way, 'hours_low')} to {hours(way, 'hours_high')}",
                f"{way['drying_days']:.0f} days" if way["drying_days"] else NONE,
            )
            for way in values["alternatives"]
        ),
    )
    way = next(each for each in values["alternatives"] if each["key"] == values["chosen"])
    yield ""
    yield say.table(
        (way["name"], "At", "Amount", "Hours", "Who", "Where"),
        (_task(task) for task in way["tasks"]),
    )


def _task(task: Row) -> tuple[str, ...]:
    return (
        task["name"],
        task["of"] or "window",
        counted(task["charged"], task["unit"]),
        f"{task['hours']:.2f}",
        task["skill"],
        task["where"],
    )
