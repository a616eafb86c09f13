"""What commands print: data as JSON, words as tables and findings."""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from sashwright.chapters.answer import Answer, Finding, Level, Step

WIDE = 150
"""Letters to a line in a file or a pipe, where nothing says how wide it is."""

_COUNTED: tuple[tuple[Level, tuple[str, str]], ...] = (
    ("fail", ("failure", "failures")),
    ("caution", ("caution", "cautions")),
    ("note", ("note", "notes")),
    ("ok", ("ok", "ok")),
)
_STYLES = {"fail": "bold red", "caution": "yellow", "note": "", "ok": "green"}


def print_json(data: Any) -> None:
    """Data on stdout, and nothing else."""
    click.echo(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False))


def console(*, stderr: bool = False) -> Console:
    """A console that shows text as it is: no marks read into it, no numbers coloured."""
    from rich.console import Console

    made = Console(stderr=stderr, highlight=False, markup=False, emoji=False)
    if not made.is_terminal and "COLUMNS" not in os.environ:
        made.width = WIDE
    return made


def show(*things: Any) -> None:
    """Texts and tables on stdout, without the blanks that fill up a table's lines."""
    made = console()
    with made.capture() as captured:
        for thing in things:
            made.print(thing)
    click.echo("\n".join(line.rstrip() for line in captured.get().splitlines()))


def table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A plain table that also reads well in a file."""
    from rich import box
    from rich.table import Table
    from rich.text import Text

    made = Table(
        box=box.SIMPLE_HEAD,
        pad_edge=False,
        show_edge=False,
        padding=(0, 1, 0, 0),
        header_style="bold",
    )
    for column in columns:
        made.add_column(Text(column), overflow="fold")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made


def finding_lines(findings: Iterable[Finding]) -> Iterator[Any]:
    """Each finding behind its level word, with the reason below it."""
    from rich.table import Table
    from rich.text import Text

    for finding in findings:
        # A grid, so that long sentences go on under themselves and not under the level word.
        grid = Table.grid(padding=(0, 2, 0, 0))
        because = Text(f"{finding.because} ({finding.source})", style="dim")
        grid.add_row(Text(f"{finding.level:<7}", style=_STYLES[finding.level]), Text(finding.says))
        grid.add_row("", because)
        yield grid


def step_lines(steps: Iterable[Step]) -> Iterator[str]:
    """The working, step by step: what, by which formula, from what, with what result."""
    for step in steps:
        yield f"  {step.step} = {_figure(step.result)} {step.unit}".rstrip()
        yield f"      {step.formula}"
        given = ", ".join(f"{name} = {_figure(value)}" for name, value in step.inputs.items())
        if given:
            yield f"      with {given}"
        yield f"      source: {step.source}"


def _figure(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_figure(inner)}" for key, inner in value.items())
    if isinstance(value, (list, tuple)):
        return " × ".join(map(_figure, value))
    return str(value)


def count_of_levels(answer: Answer) -> str:
    """How many findings there are of each level, the gravest first."""
    findings = [*answer.findings, *(f for window in answer.windows for f in window.findings)]
    counts = Counter(finding.level for finding in findings)
    return ", ".join(
        f"{counts[level]} {words[counts[level] > 1]}" for level, words in _COUNTED if counts[level]
    )
