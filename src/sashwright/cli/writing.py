"""Where a command puts what it made: a file, or the terminal's output."""

from __future__ import annotations

from pathlib import Path

import click

from sashwright.cli.exits import Failure


def deliver(data: bytes, output: Path | None) -> None:
    """Write to a file in one step, and say so; without one, to stdout."""
    if output is None:
        click.echo(data, nl=False)
        return
    from sashwright.record.housefile import HouseFileError, write_file

    try:
        write_file(output, data)
    except HouseFileError as error:
        raise Failure(str(error)) from None
    click.echo(f"Wrote {output}", err=True)
