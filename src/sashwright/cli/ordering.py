"""The command ``orders``: what to order for a house, by kind of supplier."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer

_COLUMNS = ("Thing", "Need", "In stock", "To order", "Windows")


@click.command()
@asks
@click.option(
    "--shop",
    "shop_file",
    metavar="SHOP.toml",
    type=click.Path(path_type=Path),
    help="What lies in the shop's stock.",
)
def orders(
    question: Question,
    shop_file: Path | None,
) -> None:
    """What to order: all that the work needs, less what lies in stock, by kind of supplier.

    Orders that were sent and received are kept in the record; the command knows the house file only.

    \b
    Examples:
      sashwright orders larkspur.toml
      sashwright orders larkspur.toml --shop shop.toml --json
    """
    from sashwright.chapters.make.orders import orders as ask
    from sashwright.chapters.make.stocked import stock_of

    house, knowledge, system, wanted = question.subject
    stock: dict[str, float] = {}
    if shop_file is not None:
        from sashwright.cli.stockroom import shop_from

        stock = stock_of(shop_from(shop_file, knowledge), knowledge)
    answer = ask(house, knowledge, wanted, system, stock=stock)
    question.finish(answer, _show)


def _show(page: Page, answer: Answer) -> None:
    for kind in answer.values["kinds"].values():
        say.show(f"{kind['name']}", say.table(_COLUMNS, _rows(page, kind["lines"])), "")
    say.show(*say.finding_lines(answer.findings))
    if page.working:
        pages.working_of(answer)


def _rows(page: Page, lines: Sequence[dict[str, object]]) -> Iterator[Sequence[str]]:
    from sashwright.papers.orderwords import amount, windows

    for line in lines:
        unit = str(line["unit"])
        amounts = [float(str(line[name])) for name in ("need", "in_stock", "to_order")]
        told = [amount(page.words, each, unit) if each else NONE for each in amounts]
        numbers = line["windows"]
        assert isinstance(numbers, list), "lines name their windows"
        yield str(line["says"]), *told, windows(numbers)
