"""The command ``stock``: what is worth doing in every house of a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli import exits
from sashwright.cli.exits import Failure
from sashwright.cli.options import knowledge_option, require_file

if TYPE_CHECKING:
    from sashwright.record.stock import Progress


@click.command()
@click.argument("table", metavar="FILE", type=click.Path(path_type=Path), required=False)
@click.option(
    "--out", metavar="OUT.parquet", type=click.Path(path_type=Path), help="Where results go."
)
@click.option(
    "--workers", type=click.IntRange(1, 512), help="Processes; as many as cores if not said."
)
@click.option(
    "--scheduler", metavar="ADDRESS", help="Of a Dask cluster, instead of processes here."
)
@click.option(
    "--part", "rows_a_part", type=click.IntRange(1, 100_000), help="Rows to a file; 50 if not said."
)
@click.option("--fresh", is_flag=True, help="Do not go on from what an earlier run left.")
@click.option("--columns", is_flag=True, help="List the columns that a table may have, and end.")
@knowledge_option
@click.pass_context
def stock(
    ctx: click.Context,
    table: Path | None,
    out: Path | None,
    workers: int | None,
    scheduler: str | None,
    rows_a_part: int | None,
    fresh: bool,
    columns: bool,
    shop_files: tuple[Path, ...],
) -> None:
    """What is worth doing in every house of a table, a row each, CSV or Parquet.

    Results go to a folder of Parquet files that reads as one table. A run that was stopped goes on where
    it was. Rows that no house can be made of are listed in a file beside it, with the reason.

    \b
    Examples:
      sashwright stock --columns
      sashwright stock town.csv --out town.parquet
      sashwright stock town.csv --out town.parquet --scheduler tcp://10.0.0.5:8786
    """
    if columns:
        _columns()
        ctx.exit(exits.OK)
    if table is None or out is None:
        raise exits.usage("FILE and --out are wanted; --columns lists what a table may have.")
    require_file(table, (".csv", ".parquet"))
    _run(table, out, workers, scheduler, rows_a_part, fresh, shop_files)


def _columns() -> None:
    from sashwright.chapters.worth.columns import COLUMNS
    from sashwright.cli import say

    def empty(column: object) -> str:
        default = getattr(column, "default", None)
        return (
            "needed"
            if getattr(column, "needed", False)
            else ""
            if default is None
            else str(default)
        )

    say.show(
        say.table(
            ("Column", "If empty", "What it says"),
            (
                (
                    column.name,
                    empty(column),
                    f"{column.what}: {', '.join(column.words)}" if column.words else column.what,
                )
                for column in COLUMNS
            ),
        )
    )


def _run(
    table: Path,
    out: Path,
    workers: int | None,
    scheduler: str | None,
    rows_a_part: int | None,
    fresh: bool,
    shop_files: tuple[Path, ...],
) -> None:
    import os

    from sashwright.cli.options import knowledge_from

    try:
        import pyarrow  # noqa: F401
    except ImportError:
        raise Failure(
            "Found no pyarrow, expected it for tables of houses: install sashwright[stock]."
        ) from None
    from sashwright.record.stock import StockError, run_stock
    from sashwright.record.stock.run import ROWS_A_PART

    knowledge_from(shop_files)
    try:
        ended = run_stock(
            table,
            out,
            workers=workers or os.cpu_count() or 1,
            scheduler=scheduler,
            shop_files=shop_files,
            rows_a_part=rows_a_part or ROWS_A_PART,
            fresh=fresh,
            tell=_tell,
        )
    except StockError as error:
        raise Failure(f"{error}.".replace("..", ".")) from None
    answered = ended.houses - ended.skipped
    click.echo(f"{answered:,} house{'' if answered == 1 else 's'} answered: {out}")
    if ended.skipped:
        rows = "row" if ended.skipped == 1 else "rows"
        click.echo(
            f"{ended.skipped:,} {rows} skipped, with reasons: {out.with_name(out.stem + '-skipped.csv')}"
        )


def _tell(progress: Progress) -> None:
    click.echo(
        f"{progress.houses:,} houses, {progress.skipped:,} skipped, {progress.a_second:.1f} a second",
        err=True,
    )
