"""The command ``grade``: what wind and rain each window stands, part by part, and what raises it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer

Row = Mapping[str, Any]


@click.command()
@asks
def grade(question: Question) -> None:
    """Wind and rain that the windows stand, what gives way first, and safety.

    The design wind speed is the house file's; none is ever guessed. Screening figures: only a test
    laboratory certifies, and the local code and a licensed professional decide.

    \b
    Examples:
      sashwright grade larkspur.toml
      sashwright grade larkspur.toml --window 104 --working
    """
    from sashwright.chapters.grade import grade as ask

    house, knowledge, system, wanted = question.subject
    answer = ask(house, knowledge, wanted, system)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
    else:
        say.show(say.table(_COLUMNS, _rows(page, answer.windows)))
    say.show("", *_site(page, answer.values["site"]), "", *say.finding_lines(answer.findings))
    if not some:
        pages.gravest_together(answer)
        pages.all_working(page, answer.windows)


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "Wind asks", "It bears", "Used", "First gives way", "Rain", "Grade")


def _rows(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        if window.values:
            yield window.number, *_cells(page, window.values)


def _cells(page: Page, values: Row) -> tuple[str, ...]:
    wind, water = values["wind"], values["water"]
    asked = values["pressure"]
    return (
        NONE if asked is None else page.fine_words.pressure(asked["greatest_pa"]),
        page.fine_words.pressure(wind["capacity_pa"]),
        _share(wind["utilisation"]),
        _part(wind["governs"], wind["governs_kind"]),
        page.fine_words.pressure(water["held_pa"]),
        f"wind {wind['grade'] or NONE}, rain {water['grade'] or NONE}",
    )


def _share(used: float | None) -> str:
    return NONE if used is None else f"{100 * used:3.0f} % {pages.bar(used, 8)}"


def _part(on: str, kind: str) -> str:
    """``upper bar, sags`` of a part as the drawing names it."""
    owner, _, part = on.partition(".")
    name = part.split(".")[0].replace("_", " ")
    return f"{owner} {name}, {'sags' if kind == 'stiffness' else 'breaks'}"


def _site(page: Page, site: Row) -> Iterator[str]:
    ground = site["exposure"] or site["terrain"]
    speed = site["wind_speed_m_s"]
    words = page.fine_words
    said = "no wind speed given" if speed is None else f"{words.speed(speed)}"
    kind = "exposure" if site["exposure"] else "terrain"
    who = f", confirmed by {site['confirmed_by']}" if site["confirmed_by"] else ", not confirmed"
    yield (
        f"Site by {site['standard']}: {said}{'' if speed is None else who}; {kind} {ground}; roof "
        f"{words.height(site['roof_height_m'])} high in the mean."
    )


# --- one window -------------------------------------------------------------------


def _card(page: Page, window: WindowAnswer) -> None:
    if window.values:
        say.show(*_card_lines(page, window.values))
    pages.close(page, window)


def _card_lines(page: Page, values: Row) -> Iterator[Any]:
    words = page.fine_words
    yield say.table(
        ("Part", "", "Wind asks", "It bears", "Used"),
        (
            (
                each["name"].removeprefix("the ").removeprefix("a ").removeprefix("an "),
                "sags L/175" if each["kind"] == "stiffness" else "breaks",
                NONE if each["load_pa"] is None else words.pressure(each["load_pa"]),
                words.pressure(each["capacity_pa"]),
                _share(each["utilisation"]),
            )
            for each in _weakest(values["utilisation"])
        ),
    )
    yield ""
    yield say.table(("", "Found", "Asked", "Grade", "Europe"), list(_marks(page, values)))
    yield ""
    yield say.table(
        ("To see to", "Load", "From"),
        (
            (each["holds"], _load(page, each), words.pressure(each["at_pa"]))
            for each in values["fixings"]
        ),
    )


def _weakest(parts: Sequence[Row]) -> Iterator[Row]:
    """Parts of one name once, by the weakest."""
    best: dict[tuple[str, str], Row] = {}
    for part in parts:
        key = (part["name"], part["kind"])
        if key not in best or part["capacity_pa"] < best[key]["capacity_pa"]:
            best[key] = part
    yield from best.values()


def _marks(page: Page, values: Row) -> Iterator[tuple[str, ...]]:
    words = page.fine_words
    wind, water, air, force = (values[name] for name in ("wind", "water", "air", "force"))
    asked = values["pressure"]
    yield (
        "wind",
        words.pressure(wind["capacity_pa"]),
        NONE if asked is None else words.pressure(asked["greatest_pa"]),
        _or_none(wind["grade"]),
        _or_none(wind["en_12210"]),
    )
    yield (
        "rain",
        words.pressure(water["held_pa"]),
        words.pressure(water["asked_pa"]),
        _or_none(water["grade"]),
        _or_none(water["en_12208"]),
    )
    yield (
        "air, of the limit",
        f"{100 * air['per_area_m3_s_m2'] / air['limit_m3_s_m2']:.0f} %",
        "100 %",
        "meets it" if air["meets"] else "beyond it",
        _or_none(air["en_12207"]),
    )
    yield (
        "force to move",
        NONE if force["greatest_n"] is None else words.force(force["greatest_n"]),
        words.force(force["limit_n"]),
        "meets it" if force["meets"] else "beyond it",
        NONE,
    )


def _or_none(value: Any) -> str:
    return NONE if value is None else str(value)


def _load(page: Page, fixing: Row) -> str:
    if fixing["each_n"] is None:
        return NONE
    each = f"{page.fine_words.force(fixing['each_n'])} each"
    if fixing["apart_m"] is None:
        return each
    return f"{each}, {page.fine_words.rough(fixing['apart_m'])} apart"
