"""The command ``papers``: the packet of a house as a PDF."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli.exits import usage
from sashwright.cli.options import (
    Subject,
    house_argument,
    knowledge_option,
    subject,
    units_option,
    window_option,
)
from sashwright.cli.writing import deliver

if TYPE_CHECKING:
    from datetime import date

    from sashwright.chapters.answer import Answer


@click.command()
@house_argument
@click.option(
    "-o",
    "--output",
    metavar="FILE.pdf",
    type=click.Path(path_type=Path),
    help="Where to put the PDF.",
)
@click.option(
    "--xlsx",
    metavar="FILE.xlsx",
    type=click.Path(path_type=Path),
    help="Where to put the lists as a workbook: schedule, condition, cutting, glass, orders, weights, price.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Otherwise letter for inches and pounds, A4 for mm and kg.",
)
@click.option(
    "--only",
    metavar="PART",
    type=click.Choice(
        [
            "cover",
            "condition",
            "proposal",
            "treatment",
            "weights",
            "sheets",
            "shop",
            "cutlist",
            "plans",
            "orders",
            "travellers",
            "fit",
            "seal",
            "season",
            "heat",
            "grade",
            "card",
            "worth",
            "keep",
            "tags",
            "all",
        ]
    ),
    multiple=True,
    help="Only this part; say it again for more: cover, weights and sheets, which are printed where nothing "
    "is asked for; condition, proposal, treatment, shop (drawings), cutlist, plans (with --shop), orders, "
    "travellers, fit (cards), seal (leakage), season (changeover), heat (warmth), grade (performance), card "
    "(ventilation), worth, keep (maintenance), tags; or all.",
)
@click.option(
    "--photographs",
    metavar="DIR",
    type=click.Path(path_type=Path, file_okay=False, exists=True),
    help="Folder of the photographs that the findings name, for the condition and treatment reports.",
)
@click.option(
    "--shop",
    "stock_file",
    metavar="SHOP.toml",
    type=click.Path(path_type=Path),
    help="The shop's stock, for the cutting plans.",
)
@window_option
@units_option
@knowledge_option
def papers(  # noqa: PLR0913, PLR0917
    house_file: Path,
    output: Path | None,
    xlsx: Path | None,
    paper: str | None,
    only: tuple[str, ...],
    photographs: Path | None,
    stock_file: Path | None,
    numbers: tuple[str, ...],
    units_asked: str | None,
    shop_files: tuple[Path, ...],
) -> None:
    """Print the packet: table of windows, list of weights and cords, a sheet for each window.

    \b
    Examples:
      sashwright papers larkspur.toml -o larkspur.pdf
      sashwright papers larkspur.toml -o bench.pdf --only weights
      sashwright papers larkspur.toml -o autumn.pdf --only season --only tags
      sashwright papers larkspur.toml --only condition --photographs pictures
      sashwright papers larkspur.toml --xlsx larkspur.xlsx
    """
    from datetime import datetime

    if output is None and xlsx is None:
        raise usage("Say where to put the papers: -o FILE.pdf, --xlsx FILE.xlsx, or both.")
    about = subject(house_file, shop_files, units_asked, numbers)
    today = datetime.now().astimezone().date()
    if output is not None:
        with progress("Printing") as step:
            plans = _plans(about, stock_file) if stock_file is not None else None
            deliver(_packet(about, paper, only, photographs, today, step, plans), output)
    if xlsx is not None:
        deliver(_lists(about, today), xlsx)


def _packet(
    about: Subject,
    paper: str | None,
    only: tuple[str, ...],
    photographs: Path | None,
    today: date,
    step: Callable[[int, int], None] | None,
    plans: Answer | None,
) -> bytes:
    from sashwright.papers.packet import EVERY, SECTIONS, packet
    from sashwright.papers.photos import named_in
    from sashwright.record.outdoors import outdoors_or_none

    wanted = EVERY if "all" in only else (only or SECTIONS)
    metric = about.system == "metric"
    return packet(
        about.house,
        about.knowledge,
        paper="a4" if paper == "a4" or (paper is None and metric) else "letter",
        system=about.system,
        include=[part for part in EVERY if part in wanted],
        numbers=about.numbers,
        today=today,
        progress=step,
        outdoors=outdoors_or_none(about.house),
        photographs=named_in(about.house, photographs) if photographs else (),
        plans=plans,
    )


def _plans(about: Subject, stock_file: Path) -> Answer:
    import time

    from sashwright.chapters.make.budget import Budget
    from sashwright.chapters.make.cutlist import cut_list
    from sashwright.chapters.make.plans import cutting_plans
    from sashwright.cli.stockroom import SECONDS, shop_from

    house, knowledge, system, numbers = about
    listed = cut_list(house, knowledge, numbers, system=system)
    shop, budget = shop_from(stock_file, knowledge), Budget(SECONDS, time.monotonic)
    return cutting_plans(listed, shop, knowledge, budget, house=house.name, system=system)


def _lists(about: Subject, today: date) -> bytes:
    from sashwright.papers.job import take
    from sashwright.papers.lists import lists
    from sashwright.papers.packet import revision_of

    job = take(about.house, about.knowledge, about.system, about.numbers)
    return lists(job, today, revision_of(about.house))


@contextmanager
def progress(label: str) -> Iterator[Callable[[int, int], None] | None]:
    """A bar on stderr, where a person is looking; it goes away when the work is done."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    from sashwright.cli.say import console

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    with Progress(*columns, console=console(stderr=True), transient=True) as bar:
        task = bar.add_task(label, total=None)
        yield lambda done, steps: bar.update(task, completed=done, total=steps)
