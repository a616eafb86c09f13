"""The command ``heat``: how well the windows insulate, and what each measure would bring."""

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


@click.command()
@asks
@weather_options
def heat(
    question: Question,
    asked: Asked,
) -> None:
    """Heat through the windows: as they are, with storms, with new glass; the air beside it.

    In inches and pounds U is the U-factor of NFRC 100, in metric that of ISO 10077-1; --json has both.

    \b
    Examples:
      sashwright heat larkspur.toml
      sashwright heat larkspur.toml --window 104 --working
    """
    from sashwright.chapters.heat import heat as ask

    house, knowledge, system, wanted = question.subject
    weather = asked.weather_or_none(house)
    year, place = (None, None) if weather is None else (weather.year, weather.place)
    answer = ask(house, knowledge, wanted, system, year=year, place=place)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
        return
    say.show(say.table(_COLUMNS, _rows(page, answer.windows)))
    say.show("", *_house(page, answer.values), "", *say.finding_lines(answer.findings))
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


def _card(page: Page, window: WindowAnswer) -> None:
    if window.values:
        say.show(*_card_lines(page, window.values))
    pages.close(page, window)


def _convention(page: Page) -> str:
    from sashwright.chapters.heat.say import CONVENTIONS

    return CONVENTIONS[page.words.system]


def _u(page: Page, row: Row | None) -> str:
    from sashwright.chapters.heat.say import u_number

    if row is None:
        return NONE
    return u_number(row[f"u_{_convention(page)}_w_m2k"], page.words.system)


def _loss(page: Page, watts: float) -> str:
    from sashwright.chapters.heat.say import loss_words

    return loss_words(watts, page.words.system)


def _degrees(page: Page, celsius: float) -> str:
    from sashwright.chapters.heat.say import degrees

    return degrees(celsius, page.words.system)


def _share(part: float) -> str:
    return f"{100 * part:.0f} %"


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "U", "Alone", "Low-e storm", "Heat", "With the air", "Glass at")


def _rows(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        if window.values:
            yield window.number, *_cells(page, window.values)


def _cells(page: Page, values: Row) -> tuple[str, ...]:
    by_key = {row["key"]: row for row in values["alternatives"]}
    found = by_key[values["as_found"]]
    coldest = found["weathers"][0]
    low_e = by_key.get("storm-low-e") or by_key.get("storm")
    return (
        _u(page, found),
        _u(page, by_key["prime"]),
        _u(page, low_e),
        _loss(page, found[f"loss_{_convention(page)}_w_k"]),
        _loss(page, found["leak_w_k"]),
        _degrees(page, coldest["glass_c"]),
    )


def _house(page: Page, values: Row) -> Iterator[Any]:
    """What each measure does for all the windows together."""
    if not values["totals"]:
        return
    convention = _convention(page)
    yield "All windows together"
    names = _names()
    yield say.table(
        ("", "U", "By conduction", "With the air", "Saves of alone"),
        (
            (
                names[row["key"]],
                _u(page, row),
                _loss(page, row[f"loss_{convention}_w_k"]),
                _loss(page, row["leak_w_k"]),
                f"{_share(row[f'saves_{convention}_share']):>4} "
                f"{pages.bar(row[f'saves_{convention}_share'], 12)}".rstrip(),
            )
            for row in values["totals"]
        ),
    )
    yield f"With the air: at {values['pressure_pa']:.2g} Pa, {values['pressure_says']}."


def _names() -> Mapping[str, str]:
    return {
        "as found": "as they hang in winter",
        "prime": "alone",
        "storm": "with storms",
        "storm-clear": "with clear storms",
        "storm-low-e": "with low-e storms",
        "inside": "with inside storms",
        "inside-low-e": "with inside storms, low-e",
        "unit": "with insulated glass in the old sash",
        "new": "new windows",
    }


# --- one window -------------------------------------------------------------------


def _card_lines(page: Page, values: Row) -> Iterator[Any]:
    convention = _convention(page)
    yield say.table(
        ("", "U", "Glass", "Heat", "With the air", "Saves", "Sun", "Light", "Glass at"),
        (_alternative(page, row, convention) for row in values["alternatives"]),
    )
    seen = values["weathers"][0]
    yield (
        f"Glass at: its room face, at its centre, with {_degrees(page, seen['outdoor_c'])} outdoors and "
        f"{_degrees(page, seen['room_c'])} in the room. Sun and Light: shares of both that the "
        "whole window lets in."
    )
    yield ""
    yield say.table(
        ("Drawn over it at night", "U", "Saves"),
        (
            (row["name"], _u(page, row), _share(row[f"saves_{convention}_share"]))
            for row in values["coverings"]
        ),
    )
    curve = values["curve"]
    if curve is not None:
        yield ""
        yield say.table(
            ("Space before it", "Wide", "U of the glass"),
            (_mark(page, mark, convention) for mark in curve["marks"]),
        )


def _alternative(page: Page, row: Row, convention: str) -> tuple[str, ...]:
    from sashwright.chapters.heat.say import u_number

    system = page.words.system
    return (
        row["name"] + (" *" if row["there"] and row["key"] != "prime" else ""),
        _u(page, row),
        u_number(row[f"centre_lower_{convention}_w_m2k"], system),
        _loss(page, row[f"loss_{convention}_w_k"]),
        _loss(page, row["leak_w_k"]),
        NONE if row["key"] == "prime" else _share(row[f"saves_{convention}_share"]),
        f"{row['shgc']:.2f}",
        f"{row['visible']:.2f}",
        _degrees(page, row["weathers"][0]["glass_c"]),
    )


def _mark(page: Page, mark: Row, convention: str) -> tuple[str, ...]:
    from sashwright.chapters.heat.say import u_number

    return (
        mark["name"],
        page.length(mark["width_mm"]),
        u_number(mark[f"u_{convention}_w_m2k"], page.words.system),
    )
