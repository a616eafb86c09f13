"""The command line: ``sashwright``.

Nothing heavy is imported before a command needs it, so that help and completion come at once.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TextIO, cast

import click

from sashwright import __version__
from sashwright.cli import (
    binning,
    breathing,
    climates,
    completion,
    cutlist,
    cutting,
    drawings,
    exits,
    files,
    fitting,
    grading,
    hanging,
    heating,
    keeping,
    keeping_safe,
    making,
    mouldings,
    ordering,
    paper,
    peopling,
    photographing,
    pricing,
    proposing,
    record,
    scheduling,
    sealing,
    seasons,
    serving,
    stocks,
    tables,
    taking_out,
    treating,
    worths,
)

EPILOG = """\
\b
Begin with:
  sashwright demo                 look round a house at work in the browser
  sashwright new my-house.toml    start a house file of your own
  sashwright hang my-house.toml   weights and cords for all its windows
  sashwright fit my-house.toml    on which days they stick or rattle
"""


@click.group(epilog=EPILOG, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="sashwright %(version)s")
def cli() -> None:
    """Survey, prove, price, make and look after weight-hung sash windows."""


for command in (
    serving.demo,
    serving.serve,
    files.new,
    files.check,
    hanging.hang,
    fitting.fit,
    sealing.seal,
    grading.grade,
    seasons.season,
    treating.treat,
    pricing.price,
    heating.heat,
    breathing.breathe,
    worths.worth,
    stocks.stock,
    climates.climate,
    making.parts,
    cutting.cut,
    binning.bin_,
    cutlist.make,
    ordering.orders,
    keeping.keep,
    drawings.draw,
    mouldings.moulding,
    proposing.propose,
    paper.papers,
    record.import_,
    record.export,
    record.houses,
    scheduling.schedule,
    taking_out.export_all,
    photographing.photographs,
    peopling.people,
    keeping_safe.backup,
    keeping_safe.restore,
    keeping_safe.move,
    keeping_safe.doctor,
    files.schema,
    tables.knowledge,
    completion.completion,
):
    cli.add_command(command)


def main(words: Sequence[str] | None = None) -> int:
    """Run the command that the words, or those of the terminal, ask for; answer its exit code."""
    _never_fail_on_a_sign()
    try:
        ended = cli.main(words and list(words), prog_name="sashwright", standalone_mode=False)
    except click.Abort:
        click.echo("Stopped.", err=True)
        return exits.INTERRUPTED
    except click.ClickException as error:
        error.show()
        return error.exit_code
    return ended if isinstance(ended, int) else exits.OK


def _never_fail_on_a_sign() -> None:
    """Terminals that cannot show a sign, such as ±, show another one in its place."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            cast("TextIO", stream).reconfigure(errors="replace")  # type: ignore[attr-defined]


if __name__ == "__main__":
    sys.exit(main())
