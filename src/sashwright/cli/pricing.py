"""The command ``price``: what to charge, line by line, with options and what-if."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.chapters.words import counted
from sashwright.cli import pages, say
from sashwright.cli.exits import usage
from sashwright.cli.options import gathered, house_from
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer
    from sashwright.chapters.price.hours import Done
    from sashwright.knowledge.tables import Knowledge
    from sashwright.window.pricing import Pricing

Row = Mapping[str, Any]


@dataclass(frozen=True)
class WhatIf:
    """What may be asked of a price besides the house's own."""

    alternative: str | None
    ticked: tuple[str, ...]
    rates: tuple[str, ...]
    overhead: float | None
    margin: float | None
    times: float
    others: tuple[Path, ...]


what_if_options = gathered(
    "asked",
    WhatIf,
    click.option("--alternative", metavar="KEY", help="What if every window went this way."),
    click.option("--option", "ticked", metavar="KEY", multiple=True, help="Take this option."),
    click.option(
        "--rate",
        "rates",
        metavar="SKILL=MONEY",
        multiple=True,
        help="What if an hour cost this.",
    ),
    click.option("--overhead", type=click.FloatRange(0, 90), help="What if, in percent."),
    click.option(
        "--margin", type=click.FloatRange(0, 90), help="What if, in percent of the price."
    ),
    click.option(
        "--times",
        type=click.FloatRange(0.1, 10),
        default=1.0,
        help="What if all hours came to so many times the estimate.",
    ),
    click.option(
        "--jobs",
        "others",
        metavar="HOUSE.toml",
        type=click.Path(path_type=Path),
        multiple=True,
        help="Learn hours from this finished house as well.",
    ),
)
"""What a price may be asked with; the command gets it as ``asked``."""


@click.command()
@asks
@what_if_options
def price(
    question: Question,
    asked: WhatIf,
) -> None:
    """What to charge for the windows: lines that add up to the cent, with a range.

    Rates, materials and hours are starting allowances until the shop has put in its own.

    \b
    Examples:
      sashwright price larkspur.toml
      sashwright price larkspur.toml --window 104 --alternative shop
      sashwright price larkspur.toml --rate joiner=70 --margin 12
    """
    from sashwright.chapters.price import price as ask
    from sashwright.knowledge.tables import KnowledgeError

    house, knowledge, _, wanted = question.subject
    pricing = _changed(house.pricing, asked, knowledge)
    known = [option.key for option in pricing.options]
    for key in asked.ticked:
        if key not in known:
            raise usage(f"There is no option {key}; {_these(known)}")
    try:
        answer = ask(
            house,
            knowledge,
            wanted,
            jobs=list(_jobs(asked.others, knowledge)),
            alternative=asked.alternative,
            ticked=asked.ticked or None,
            pricing=pricing,
            times=asked.times,
        )
    except KnowledgeError as error:
        raise usage(str(error)) from None
    question.finish(answer, _show, question.some)


def _these(known: Sequence[str]) -> str:
    return f"the house has {', '.join(known)}." if known else "the house has none."


def _jobs(others: Sequence[Path], knowledge: Knowledge) -> Iterator[Done]:
    from sashwright.chapters.price import finished

    for path in others:
        jobs, _ = finished(house_from(path, knowledge), knowledge)
        yield from jobs


def _changed(pricing: Pricing, asked: WhatIf, knowledge: Knowledge) -> Pricing:
    """The prices with what is asked on the command line in their place."""
    given = dict(pricing.rates)
    for text in asked.rates:
        skill, _, money = text.partition("=")
        try:
            rate = Decimal(money)
        except InvalidOperation:
            rate = Decimal(-1)
        known = skill in knowledge.rate and knowledge.rate[skill].kind == "an hour"
        if not (known and rate.is_finite() and 0 <= rate < 100_000):
            skills = ", ".join(k for k, row in knowledge.rate.items() if row.kind == "an hour")
            raise usage(
                f"Found --rate {text}, expected a skill and money such as joiner=70; {skills}."
            )
        given[skill] = rate
    update: dict[str, Any] = {"rates": given}
    update |= {} if asked.overhead is None else {"overhead": asked.overhead}
    update |= {} if asked.margin is None else {"margin": asked.margin}
    return pricing.model_copy(update=update)


def _show(page: Page, answer: Answer, some: bool) -> None:
    currency = answer.values["currency"]
    if some:
        pages.cards(page, answer.windows, lambda page, window: _card(page, window, currency))
        return
    say.show(say.table(_COLUMNS, _rows(answer.windows)))
    say.show("", *_house(answer.values), "", *say.finding_lines(answer.findings))
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


def money(text: str) -> str:
    """``1,234.50`` of the text in an answer."""
    return f"{Decimal(text):,.2f}"


def _range(row: Row) -> str:
    return f"{money(row['low'])} to {money(row['high'])}"


# --- the whole house --------------------------------------------------------------

_COLUMNS = ("Window", "Way", "Hours", "Price", "It may be")


def _rows(windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        values = window.values
        if values and values["alternative"] is not None:
            way = next(w for w in values["alternatives"] if w["key"] == values["alternative"])
            yield (
                window.number,
                way["name"],
                f"{values['hours']:.1f}",
                money(values["price"]["likely"]),
                _range(values["price"]),
            )


def _house(values: Row) -> Iterator[Any]:
    yield say.table(
        (f"In {values['currency']}", "Likely", "It may be"),
        (
            *((kind, money(row["likely"]), _range(row)) for kind, row in values["kinds"].items()),
            ("all together", money(values["price"]["likely"]), _range(values["price"])),
        ),
    )
    chance = values["by_chance"]
    yield f"If each line goes its own way: {_range(chance)}."
    if values["options"]:
        yield ""
        yield say.table(
            ("Option", "", "Changes the price by"),
            (
                (each["name"], "taken" if each["ticked"] else each["key"], money(each["likely"]))
                for each in values["options"]
            ),
        )
    if values["learned"]:
        yield ""
        yield say.table(
            ("Hours learned", "Finished", "Times the table", "The next one"),
            (
                (
                    each["task"],
                    str(each["jobs"]),
                    f"{each['factor']:.2f}",
                    f"{each['factor_low']:.2f} to {each['factor_high']:.2f}",
                )
                for each in values["learned"]
            ),
        )


# --- one window -------------------------------------------------------------------


def _card(page: Page, window: WindowAnswer, currency: str) -> None:
    if window.values:
        say.show(*_card_lines(window.values, currency))
    pages.close(page, window)


def _card_lines(values: Row, currency: str) -> Iterator[Any]:
    if values["lines"]:
        rows = [_line(line) for line in values["lines"]]
        total = ("price", "", "", "", money(values["price"]["likely"]), _range(values["price"]))
        yield say.table(("", "Amount", "Hours", "Each", f"{currency}", "It may be"), [*rows, total])
        yield ""
    yield say.table(
        ("Alternative", currency, "It may be"),
        (
            (
                ("* " if way["key"] == values["alternative"] else "  ") + way["name"],
                money(way["likely"]),
                _range(way),
            )
            for way in values["alternatives"]
        ),
    )


def _line(line: Row) -> tuple[str, ...]:
    of = f", {line['of']}" if line["of"] else ""
    sure = line["low"] == line["high"]
    return (
        line["name"] + of,
        NONE if line["quantity"] is None else counted(line["quantity"], line["unit"]),
        NONE if line["hours"] is None else f"{line['hours']:.2f}",
        NONE if line["each"] is None else money(line["each"]),
        money(line["likely"]),
        NONE if sure else _range(line),
    )
