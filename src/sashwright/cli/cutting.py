"""The command ``cut``: the list of a house cut from the shop's own stock."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import Page
from sashwright.cli.question import Question, asks
from sashwright.cli.stockroom import SECONDS, seconds_option, shop_from, shop_option
from sashwright.cli.writing import deliver

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer


@click.command()
@asks
@shop_option
@click.option(
    "--scope",
    type=click.Choice(["sash", "storm", "screen", "frame"]),
    multiple=True,
    help="Make these at every window, whatever it needs; otherwise what was decided on.",
)
@seconds_option(SECONDS)
@click.option(
    "--svg",
    "folder",
    metavar="DIR",
    type=click.Path(path_type=Path, file_okay=False),
    help="Draw every board and sheet into this folder.",
)
def cut(
    question: Question,
    stock_file: Path,
    scope: tuple[str, ...],
    seconds: float,
    folder: Path | None,
) -> None:
    """Cut the list of a house from the shop's stock: every board, every sheet, what to buy.

    Exit code 1 tells that some piece cannot be cut.

    \b
    Examples:
      sashwright cut larkspur.toml --shop shop.toml
      sashwright cut larkspur.toml --shop shop.toml --scope storm --svg plans
    """
    import time

    from sashwright.chapters.make.budget import Budget
    from sashwright.chapters.make.cutlist import cut_list
    from sashwright.chapters.make.plans import cutting_plans

    house, knowledge, system, wanted = question.subject
    shop = shop_from(stock_file, knowledge)
    listed = cut_list(house, knowledge, wanted, scope=scope or None, system=system)  # type: ignore[arg-type]
    budget = Budget(seconds, time.monotonic)
    answer = cutting_plans(listed, shop, knowledge, budget, house=house.name, system=system)
    if folder is not None:
        _draw(answer, folder, system)
    question.finish(answer, _show)


def _show(page: Page, answer: Answer) -> None:
    values = answer.values
    if values["lumber"]:
        say.show(say.table(_WOODS, (_wood(page, row) for row in values["lumber"])), "")
    if values["glass"]:
        say.show(say.table(_GLASSES, (_glass(page, row) for row in values["glass"])), "")
    for row in values["boards"]:
        say.show(*_board(page, row))
    for row in values["sheets"]:
        say.show(*_sheet(page, row))
    if not values["boards"] and not values["sheets"] and not answer.findings:
        say.show("Nothing is to be made: decide on the windows first, or say what with --scope.")
    else:
        say.show(*say.finding_lines(answer.findings))
    if page.working:
        pages.working_of(answer)


_WOODS = ("Wood", "Pieces", "Board feet", "Boards", "Board feet", "Yield", "Off by at most")
_GLASSES = ("Glass", "Lites", "Sheets", "Yield", "Off by at most")


def _wood(page: Page, row: Mapping[str, Any]) -> Sequence[str]:
    return (
        f"{page.name('wood', row['species'])} {row['quarters']}/4",
        str(row["pieces"]),
        f"{row['parts_feet']:.1f}",
        _of_bought(row["boards"], row["bought"]),
        f"{row['board_feet']:.1f}",
        f"{row['yield']:.0%}",
        _gap(row),
    )


def _glass(page: Page, row: Mapping[str, Any]) -> Sequence[str]:
    return (
        page.name("glass", row["glass"]),
        str(row["pieces"]),
        _of_bought(row["sheets"], row["bought"]),
        f"{row['yield']:.0%}",
        _gap(row),
    )


def _of_bought(number: int, bought: int) -> str:
    return f"{number}, {bought} to buy" if bought else str(number)


def _gap(row: Mapping[str, Any]) -> str:
    if row["gap"] is None:
        return "unknown"
    return "nothing" if row["proven"] else f"{row['gap']:.1%}"


def _board(page: Page, row: Mapping[str, Any]) -> Iterator[str]:
    size = f"{_long(page, row['width_m'])} by {_long(page, row['length_m'])}"
    clear = ", clear" if row["clear"] else ""
    yield (
        f"{row['piece']}: {page.name('wood', row['species'])} {row['quarters']}/4, {size}{clear}"
        f"{_where(row)}"
    )
    for strip in row["strips"]:
        cuts = " | ".join(
            f"{cut['label']} {_long(page, cut['to_m'] - cut['from_m'])}" for cut in strip["cuts"]
        )
        start = f" from {_long(page, strip['from_m'])}" if row["defects_m"] else ""
        yield f"    {_long(page, strip['far_m'] - strip['near_m'])} wide{start}: {cuts}"
    for piece in row["offcuts"]:
        width, length = piece["far_m"] - piece["near_m"], piece["to_m"] - piece["from_m"]
        yield f"    keep {_long(page, width)} by {_long(page, length)}"
    yield ""


def _sheet(page: Page, row: Mapping[str, Any]) -> Iterator[str]:
    size = f"{_long(page, row['width_m'])} by {_long(page, row['height_m'])}"
    yield (
        f"{row['piece']}: {page.name('glass', row['glass'])}, {size}, {len(row['breaks'])} breaks"
        f"{_where(row)}"
    )
    for lite in row["lites"]:
        turned = ", turned" if lite["turned"] else ""
        sides = f"{_long(page, lite['width_m'])} by {_long(page, lite['height_m'])}"
        yield f"    {lite['label']} {sides}{turned}"
    yield ""


def _where(row: Mapping[str, Any]) -> str:
    if row["bought"]:
        return ", to be bought"
    return f", {row['place']}" if row["place"] else ""


def _long(page: Page, metres: float) -> str:
    return page.length(metres * 1000)


def _draw(answer: Answer, folder: Path, system: Any) -> None:
    from sashwright.drawing.cutplan import board_drawing
    from sashwright.drawing.glasscut import sheet_drawing
    from sashwright.drawing.svg import to_svg

    folder.mkdir(parents=True, exist_ok=True)
    for kind, draw in (("boards", board_drawing), ("sheets", sheet_drawing)):
        for row in answer.values[kind]:
            name = re.sub(r"[^A-Za-z0-9]+", "-", row["piece"])
            text = to_svg(draw(row, system), standalone=True)
            deliver(text.encode("utf-8"), folder / f"{kind[:-1]}-{name}.svg")
