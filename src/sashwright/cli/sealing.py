"""The command ``seal``: air path by path, what to do first, what each way of tightening is worth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks
from sashwright.cli.weather import Asked, weather_options

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer

Row = Mapping[str, Any]
STEPS = 3
"""Things to do that a card names: what comes after them saves little."""


@click.command()
@asks
@weather_options
def seal(
    question: Question,
    asked: Asked,
) -> None:
    """Air that gets by the shut windows, path by path, and what each step saves.

    Flows are at 75 Pa, the head of a wind of 25 mph (40 km/h), as windows are tested.

    \b
    Examples:
      sashwright seal larkspur.toml
      sashwright seal larkspur.toml --window 104 --working
    """
    from sashwright.chapters.seal import seal as ask

    house, knowledge, system, wanted = question.subject
    weather = asked.weather_or_none(house)
    year, place = (None, None) if weather is None else (weather.year, weather.place)
    answer = ask(house, knowledge, wanted, system, year=year, place=place)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
        return
    total = answer.values["totals"][0]["flow_75_m3_s"] if answer.values["totals"] else 0.0
    say.show(say.table(_COLUMNS, _rows(page, answer.windows, total)))
    say.show("", *_house(page, answer.values), "", *say.finding_lines(answer.findings))
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "Leaks", "It may be", "Storm on", "Of all", "Most at", "Do first")


def _rows(page: Page, windows: Sequence[WindowAnswer], total: float) -> Iterator[Sequence[str]]:
    for window in windows:
        if window.values:
            yield window.number, *_cells(page, window.values, total)


def _cells(page: Page, values: Row, total: float) -> tuple[str, ...]:
    found = values["as_found"]
    behind = _named(values["scenarios"], "as found", storm=True)
    worst = next(path for path in values["paths"] if path["path"] == values["worst_path"])
    share = found["flow_75_m3_s"] / total
    return (
        page.flow(found["flow_75_m3_s"]),
        _range(page, found),
        page.flow(behind["flow_75_m3_s"]) if values["storm"]["there"] else NONE,
        f"{100 * share:.0f} %",
        f"{worst['words'].removeprefix('the ')}, {100 * worst['share']:.0f} %",
        values["steps"][0]["does"] if values["steps"] else NONE,
    )


def _range(page: Page, scenario: Row) -> str:
    low, high = (page.flow(scenario[f"flow_75_{end}_m3_s"]) for end in ("low", "high"))
    return f"{low.split()[0]} to {high.split()[0]}"


def _named(scenarios: Sequence[Row], name: str, *, storm: bool) -> Row:
    return next(s for s in scenarios if s["name"] == name and s["storm"] is storm)


def _house(page: Page, values: Row) -> Iterator[Any]:
    """What each way of tightening does for all the windows together."""
    plain = [row for row in values["totals"] if not row["storm"]]
    yield "All windows together, at 75 Pa"
    exchange = values["air_exchange"]
    winter = (
        {}
        if exchange is None
        else {
            row["name"]: row["heating_mean_m3_s"]
            for row in exchange["scenarios"]
            if not row["storm"]
        }
    )
    head = ("", "Alone", "Every storm on", "Of as found", *(("Heating season",) if winter else ()))
    found = plain[0]["flow_75_m3_s"] if plain else 0.0
    yield say.table(head, (_total(page, values, row, found, winter) for row in plain))
    if exchange is not None:
        what = "windows" if exchange["of"] == "windows" else "whole house"
        yield (
            f"Heating season: mean flow through the {what}, storms off, by the weather: "
            f"{exchange['weather']}."
        )


def _total(
    page: Page, values: Row, row: Row, found: float, winter: Mapping[str, float]
) -> tuple[str, ...]:
    behind = _named(values["totals"], row["name"], storm=True)
    share = row["flow_75_m3_s"] / found if found else 0.0
    season = (page.flow(winter[row["name"]]),) if row["name"] in winter else ()
    return (
        row["name"],
        page.flow(row["flow_75_m3_s"]),
        page.flow(behind["flow_75_m3_s"]),
        f"{100 * share:3.0f} % {pages.bar(share, 12)}",
        *season,
    )


# --- one window -------------------------------------------------------------------


def _card(page: Page, window: WindowAnswer) -> None:
    if window.values:
        say.show(*_card_lines(page, window.values))
    pages.close(page, window)


def _card_lines(page: Page, values: Row) -> Iterator[Any]:
    found = values["as_found"]
    paths = sorted(values["paths"], key=lambda path: -path["flow_75_m3_s"])
    yield say.table(("Where", "State", "At 75 Pa", "Share"), (_path(page, path) for path in paths))
    storm = _named(values["scenarios"], "as found", storm=True)["flow_75_m3_s"]
    there = "with its storm sash" if values["storm"]["there"] else "a storm sash would leave"
    yield (
        f"Together {page.flow(found['flow_75_m3_s'])}, by the range of the tables "
        f"{_range(page, found)}; {there} {page.flow(storm)}."
    )
    yield ""
    if values["steps"]:
        yield say.table(
            ("To do, each by itself", "Saves", "Share"),
            (
                (
                    step["does"],
                    page.flow(step["saves_75_m3_s"]),
                    f"{100 * step['saves_share']:.0f} %",
                )
                for step in values["steps"][:STEPS]
            ),
        )
        yield ""
    yield say.table(
        ("Put in order", "Alone", "Storm on", "New window's limit", "EN 12207"),
        (
            _scenario(page, values["scenarios"], row)
            for row in values["scenarios"]
            if not row["storm"]
        ),
    )


def _path(page: Page, path: Row) -> tuple[str, ...]:
    return (
        path["words"].removeprefix("the "),
        path["state_name"],
        page.flow(path["flow_75_m3_s"]),
        f"{100 * path['share']:3.0f} % {pages.bar(path['share'])}",
    )


def _scenario(page: Page, scenarios: Sequence[Row], row: Row) -> tuple[str, ...]:
    behind = _named(scenarios, row["name"], storm=True)
    reached = row["en_12207"]["overall"]
    return (
        row["name"],
        page.flow(row["flow_75_m3_s"]),
        page.flow(behind["flow_75_m3_s"]),
        "meets it" if row["meets_rated_limit"] else "leaks more",
        f"class {reached}" if reached else "no class",
    )
