"""The command ``papers``: the packet of a house as a PDF."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from sashwright.cli.options import (
    house_argument,
    knowledge_option,
    subject,
    units_option,
    window_option,
)
from sashwright.cli.writing import deliver


@click.command()
@house_argument
@click.option(
    "-o",
    "--output",
    metavar="FILE.pdf",
    type=click.Path(path_type=Path),
    required=True,
    help="Where to put the PDF.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Otherwise letter for inches and pounds, A4 for mm and kg.",
)
@click.option(
    "--only",
    type=click.Choice(
        [
            "cover",
            "weights",
            "sheets",
            "fit",
            "seal",
            "season",
            "heat",
            "grade",
            "card",
            "worth",
            "tags",
        ]
    ),
    multiple=True,
    help="Only this part; say it again for more. Fit cards, leakage, changeover, warmth (heat), performance "
    "sheets (grade), the ventilation card, the report keep or replace (worth) and tags ask for it.",
)
@window_option
@units_option
@knowledge_option
def papers(
    house_file: Path,
    output: Path,
    paper: str | None,
    only: tuple[str, ...],
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
    """
    from datetime import datetime

    from sashwright.papers.packet import EVERY, SECTIONS, packet
    from sashwright.record.outdoors import outdoors_or_none

    house, knowledge, system, chosen = subject(house_file, shop_files, units_asked, numbers)
    with progress("Printing") as step:
        pdf = packet(
            house,
            knowledge,
            paper="a4" if paper == "a4" or (paper is None and system == "metric") else "letter",
            system=system,
            include=[part for part in EVERY if part in (only or SECTIONS)],
            numbers=chosen,
            today=datetime.now().astimezone().date(),
            progress=step,
            outdoors=outdoors_or_none(house),
        )
    deliver(pdf, output)


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
