"""The command ``fit``: every clearance through the year, in tables."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, SIDES, Page, date_of, days_of
from sashwright.cli.question import Question, asks
from sashwright.cli.weather import Asked, weather_options

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer


class Day(click.ParamType[int]):
    """Reads ``2026-09-08``, or a day of the year counted from 1, or ``today``."""

    name = "day"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        import datetime

        from sashwright.chapters.fit.calendar import day_of_date

        text = str(value).strip()
        if re.fullmatch("[0-9]{1,3}", text) and 1 <= int(text) <= 366:
            return int(text)
        try:
            if text != "today" and re.fullmatch(r"\d{4}-\d{2}-\d{2}", text) is None:
                raise ValueError
            now = datetime.datetime.now().astimezone().date()
            day = now if text == "today" else datetime.date.fromisoformat(text)
        except ValueError:
            expected = "expected a date such as 2026-09-08, a day from 1 to 366, or today"
            self.fail(f"found {text!r}, {expected}", param, ctx)
        return day_of_date(day.isoformat()) + 1


@click.command()
@asks
@weather_options
@click.option(
    "--today",
    type=Day(),
    metavar="DATE",
    help="Day the sash is fitted: 2026-09-08, a day of the year, or today.",
)
def fit(
    question: Question,
    asked: Asked,
    today: int | None,
) -> None:
    """Clearances through the year: what sticks or rattles when, and what to plane.

    Wood is followed day by day through a year of the house's weather. Exit code 1
    tells that a sash sticks as it is.

    \b
    Examples:
      sashwright fit larkspur.toml
      sashwright fit larkspur.toml --window 104 --today 2026-03-15
      sashwright fit larkspur.toml --climate "Boston, MA"
    """
    from sashwright.chapters.fit import fit as ask

    house, knowledge, system, wanted = question.subject
    daily = asked.weather(house).daily(house)
    answer = ask(house, knowledge, daily, wanted, system, today)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
    else:
        say.show(say.table(_COLUMNS, _rows(page, answer.windows)))
        pages.gravest_together(answer)
        pages.all_working(page, answer.windows)
    say.show("", f"Weather: {answer.values['climate']}.")


# --- the whole house --------------------------------------------------------------

# Two lines to a sash: the tight day of the year over the loose one.
_COLUMNS = ("Window", "Each side", "Play in its track", "Sticks", "Rattles", "Plane off")


def _rows(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        places: Mapping[str, Any] = window.values.get("clearances", {})
        for which in SIDES:
            own = [places[name] for name in places if name.partition(".")[0] == which]
            if own:
                # What both sash have in common stands with the lower one.
                common = [each for name, each in places.items() if "." not in name]
                all_ = [*own, *(common if which == "lower" else ())]
                yield f"{window.number}\n{which}", *_cells(page, which, places, all_)


def _cells(
    page: Page, which: str, places: Mapping[str, Any], all_: Sequence[Mapping[str, Any]]
) -> tuple[str, ...]:
    return (
        _through(page, places[f"{which}.sides"]),
        _through(page, places[f"{which}.faces"]),
        _most(all_, "binding"),
        _most(all_, "rattling"),
        _relief(page, max(each["relief_mm"] for each in all_)),
    )


def _through(page: Page, each: Mapping[str, Any]) -> str:
    return (
        f"{page.gap(each['least_mm'])}, {date_of(each['least_day'])}\n"
        f"{page.gap(each['greatest_mm'])}, {date_of(each['greatest_day'])}"
    )


def _most(places: Sequence[Mapping[str, Any]], what: str) -> str:
    worst = max(places, key=lambda each: (each[f"{what}_days_at_worst"], each[f"{what}_days"]))
    return days_of(worst[f"{what}_days"], worst[f"{what}_days_at_worst"])


def _relief(page: Page, mm: float) -> str:
    return page.rounded_up(mm) if mm else NONE


# --- one window -------------------------------------------------------------------

_CARD = ("Clearance", "Least", "Greatest", "Sticks", "Rattles", "Leave", "Plane off")


def _card(page: Page, window: WindowAnswer) -> None:
    values = window.values
    if values:
        rows = (_place(page, each) for each in values["clearances"].values())
        say.show(say.table(_CARD, rows), "", *_below(page, values))
    pages.close(page, window)


def _place(page: Page, each: Mapping[str, Any]) -> tuple[str, ...]:
    return (
        each["name"],
        f"{page.gap(each['least_mm'])}\n{date_of(each['least_day'])}",
        f"{page.gap(each['greatest_mm'])}\n{date_of(each['greatest_day'])}",
        days_of(each["binding_days"], each["binding_days_at_worst"]),
        NONE
        if each["rattles_above_mm"] is None
        else days_of(each["rattling_days"], each["rattling_days_at_worst"]),
        page.rounded_up(each["leave_today_mm"]),
        _relief(page, each["relief_mm"]),
    )


def _below(page: Page, values: Mapping[str, Any]) -> Iterator[Any]:
    moisture, day = values["moisture"], values["today"]
    when = "at its mean of the year" if day is None else f"as on {date_of(day)}"
    yield (
        f"Leave: in the shop, with the wood {when}, so that the dampest day has room. "
        "Days: as usual to at worst."
    )
    yield ""
    yield say.table(
        ("Moisture", "Driest", "Dampest", "Mean" if day is None else "That day", "Known by"),
        (_moisture(name, each, day) for name, each in moisture.items()),
    )
    yield ""
    if values["stop"] is not None:
        yield f"Inside stop: {_stop(page, values['stop'])}"
    yield _other_wood(values["alternative"])


def _moisture(name: str, each: Mapping[str, Any], day: int | None) -> tuple[str, ...]:
    now = each["mean_pct"] if day is None else each.get("today_pct")
    source = each.get("source", "estimated")
    return (
        name if name == "frame" else f"{name} sash",
        f"{each['least_pct']:.1f} %, {date_of(each['least_day'])}",
        f"{each['greatest_pct']:.1f} %, {date_of(each['greatest_day'])}",
        NONE if now is None else f"{now:.1f} %",
        "the meter" if source == "meter" else "climate and coating",
    )


def _stop(page: Page, stop: Mapping[str, Any]) -> str:
    tight = f"about {date_of(stop['wet_day'])} {_shift(page, stop['wet_shift_mm'])}"
    loose = f"about {date_of(stop['dry_day'])} {_shift(page, stop['dry_shift_mm'])}"
    single = stop["single_shift_mm"]
    once = "" if single is None else f"; or for all the year {_shift(page, single)}"
    slot = (
        "it is nailed"
        if stop["slot_mm"] == 0
        else f"its slot is {page.fine(stop['slot_mm'])}, "
        + ("long enough" if stop["slot_long_enough"] else "too short")
    )
    return f"{tight}, {loose}{once}; {slot}."


def _shift(page: Page, mm: float) -> str:
    if page.fine(abs(mm)) == page.fine(0.0):
        return "where it is"
    return f"{page.fine(abs(mm))} {'away from' if mm > 0 else 'toward'} the sash"


def _other_wood(alternative: Mapping[str, Any]) -> str:
    """How much the sides of a sash of another wood would move beside those of the present one."""
    present, other = (
        alternative[which]["clearances"]["lower.sides"] for which in ("present", "other")
    )
    name = alternative["other"]["name"].lower()
    less = 100 * (1 - other["movement_mm"] / present["movement_mm"])
    moves = f"{abs(less):.0f} % {'less' if less >= 0 else 'more'}"
    return f"In {name} the sides of the lower sash would move {moves} through the year."
