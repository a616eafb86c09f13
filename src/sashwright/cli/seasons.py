"""The command ``season``: storm sash and screens, when they change and in what order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.making import glass_table, wood_table
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks
from sashwright.cli.weather import Asked, weather_options

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer

Row = Mapping[str, Any]

REACH = {"ground": "the ground", "steps": "a stepladder", "ladder": "a ladder"}


@click.command()
@asks
@weather_options
def season(
    question: Question,
    asked: Asked,
) -> None:
    """Storm sash and screens: sizes, marks, weights, when and in what order to change.

    Exit code 1 tells that something fails, such as a storm sash too heavy to hang.

    \b
    Examples:
      sashwright season larkspur.toml
      sashwright season larkspur.toml --window 104
    """
    from sashwright.chapters.season import season as ask

    house, knowledge, system, wanted = question.subject
    weather = asked.weather_or_none(house)
    year, place = (None, None) if weather is None else (weather.year, weather.place)
    answer = ask(house, knowledge, wanted, system, place=place, year=year)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
        return
    say.show(say.table(_COLUMNS, _rows(page, answer.windows)), "", *_change(page, answer.values))
    say.show(*_store(page, answer.values), "", *say.finding_lines(answer.findings))
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "Mark", "Storm hangs", "Storm sash", "Screen")


def _rows(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        values = window.values
        if not values:
            continue
        hangs = values["storm_hangs"]
        yield (
            window.number,
            values["mark"] or NONE,
            NONE if hangs == "none" else hangs,
            values["storm_kind"]
            if hangs != "none" and values["storm"] is None
            else _piece(page, None if hangs == "none" else values["storm"]),
            _piece(page, values["screen"]),
        )


def _piece(page: Page, piece: Row | None) -> str:
    return NONE if piece is None else f"{_size(page, piece)}\n{page.words.mass(piece['mass_kg'])}"


def _size(page: Page, piece: Row) -> str:
    return f"{page.words.size(piece['width_mm'])} x {page.words.size(piece['height_mm'])}"


def _change(page: Page, values: Row) -> Iterator[Any]:
    weeks = values["changeover"]
    yield f"Sizes in {page.words.length_unit}, wide by high. A dash: there is none."
    yield ""
    if weeks is None:
        yield "No climate is known, so no weeks of the change can be named."
    else:
        yield f"Storms go on {_weeks(weeks, 'storms')}, screens {_weeks(weeks, 'screens')}."
    if not values["swaps"]:
        yield "Nothing is changed with the seasons at this house."
        return
    yield "The round, in walking order; both: storm sash and screen change places."
    yield say.table(_ROUND, (_stop(page, row) for row in values["swaps"]))
    yield (
        f"{len(values['swaps'])} windows, {_hours(values['swap_person_minutes'])} of one person's "
        f"time, {_hours(60 * values['swap_hours_of_crew'])} for a crew of "
        f"{page.house.changeover.crew}."
    )


_ROUND = ("Mark", "Window", "Room", "Wall", "Change", "From", "Heaviest", "People", "Min")


def _stop(page: Page, row: Row) -> tuple[str, ...]:
    what = "both" if row["storm"] and row["screen"] else "storm" if row["storm"] else "screen"
    return (
        row["mark"] or NONE,
        row["number"],
        row["room"],
        f"{row['wall']} {row['storey']}",
        what,
        row["reach"],
        page.words.mass(row["heaviest_kg"]),
        str(row["people"]),
        f"{row['minutes']:g}",
    )


def _weeks(weeks: Row, which: str) -> str:
    first, last = weeks[f"{which}_on_from"], weeks[f"{which}_on_by"]
    if first is None or last is None:
        known = first or last
        return f"about {known['date']}" if known else "at any time"
    return f"in weeks {first['week']} to {last['week']}, {first['date']} to {last['date']}"


def _hours(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def _store(page: Page, values: Row) -> Iterator[Any]:
    alike = values["interchangeable"]
    rack = values["rack"]
    if rack["storms"] or rack["screens"]:
        words = page.words
        yield ""
        yield (
            f"Rack: {words.cord(rack['length_mm'])} long, {words.cord(rack['height_mm'])} high, "
            f"{words.cord(rack['depth_mm'])} deep, for {rack['storms']} storms in summer and "
            f"{rack['screens']} screens in winter."
        )
    for what in ("storms", "screens"):
        if alike[what]:
            groups = "; ".join(", ".join(group) for group in alike[what])
            yield f"{what.capitalize()} that fit each other's windows: {groups}."


# --- one window -------------------------------------------------------------------


def _card(page: Page, window: WindowAnswer) -> None:
    values = window.values
    if values:
        say.show(*_card_lines(page, values))
    pages.close(page, window)


def _card_lines(page: Page, values: Row) -> Iterator[Any]:
    given = "" if values["mark_given"] else ", proposed"
    yield f"Mark {values['mark'] or NONE}{given}. Storm sash: {values['storm_hangs']}."
    pieces = [(name, values[name]) for name in ("storm", "screen") if values[name] is not None]
    for name, piece in pieces:
        yield ""
        title = "storm sash" if name == "storm" else f"{values['screen_kind']} screen"
        yield say.table((title, ""), list(pages.filled(_sizes(page, piece))))
    for name, piece in pieces:
        yield ""
        what = "storm sash" if name == "storm" else "screen"
        yield f"Parts of the {what}, sizes in {page.words.length_unit}"
        yield wood_table(page.words, piece["parts"])
        if piece["glass"]:
            yield ""
            yield glass_table(page.words, page.knowledge, piece["glass"])


def _sizes(page: Page, piece: Row) -> Iterator[tuple[str, str | None]]:
    words = page.words
    yield "wide by high", _size(page, piece)
    yield "thick", words.size(piece["thickness_mm"])
    if piece["arc_radius_mm"] is not None:
        yield "height at the side", words.size(piece["side_height_mm"])
        yield "radius of the head", words.size(piece["arc_radius_mm"])
    middle = piece["middle_rail_at_mm"]
    yield "top of the middle rail", None if middle is None else words.size(middle)
    yield "laps the blind stop by", words.size(piece["lap_mm"])
    yield "weighs", (f"{words.mass(piece['mass_kg'])} ± {words.mass(piece['mass_uncertainty_kg'])}")
    people = "one person" if piece["people"] == 1 else f"{piece['people']} people"
    yield "is hung by", f"{people}, from {REACH[piece['reach']]}, in {piece['minutes']:g} min"
    if "hooks" in piece:
        yield (
            "air to the glass",
            (
                f"upper sash {page.length(piece['air_space_upper_mm'])}, "
                f"lower {page.length(piece['air_space_lower_mm'])}"
            ),
        )
        yield "hangs on", f"{page.name('hardware', piece['hangers'])}, {piece['hooks']} hooks"
        yield "weep holes", str(piece["weep_holes"])
