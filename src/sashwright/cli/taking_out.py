"""The command ``export-all``: everything in the record as files of open formats."""

from __future__ import annotations

from pathlib import Path

import click

from sashwright.cli.exits import Failure
from sashwright.cli.options import home_option
from sashwright.cli.record import open_record


@click.command("export-all")
@click.argument("target", metavar="DIR|FILE.zip", type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Replace a ZIP file of this name.")
@home_option
def export_all(target: Path, force: bool, home: Path | None) -> None:
    """Write everything out: house files, schedules, readings, history, photographs.

    Only open formats, with a README.txt that says what is what.

    \b
    Examples:
      sashwright export-all everything.zip
      sashwright export-all /media/stick/windows
    """
    open_record(home)
    from sashwright.record.everything import ExportError, export_all
    from sashwright.record.says import count

    try:
        made = export_all(target, replace=force)
    except ExportError as error:
        raise Failure(str(error)) from None
    for sentence in made.missing:
        click.echo(sentence, err=True)
    click.echo(
        f"{target}: {count(made.houses, 'house')}, {count(made.windows, 'window')}, "
        f"{count(made.photographs, 'photograph')}, {count(len(made.files), 'file')}."
    )
