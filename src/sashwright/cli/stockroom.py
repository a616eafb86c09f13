"""Options of the commands that take from the shop's stock, and the shop they lead to."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli.exits import Failure
from sashwright.cli.options import Command, require_file, to_correct

if TYPE_CHECKING:
    from sashwright.knowledge.tables import Knowledge
    from sashwright.window.shop import Shop

SECONDS = 5.0
"""How long a search may take where nothing else is said."""

shop_option = click.option(
    "--shop",
    "stock_file",
    metavar="SHOP.toml",
    type=click.Path(path_type=Path),
    required=True,
    help="The shop's stock, prices and rules.",
)


def seconds_option(seconds: float) -> Callable[[Command], Command]:
    """How long the search may take."""
    return click.option(
        "--seconds",
        type=click.FloatRange(0, 3600),
        default=seconds,
        show_default=True,
        help="How long to search; the best plan so far is shown with what it may be off.",
    )


def shop_from(path: Path, knowledge: Knowledge) -> Shop:
    """The shop of a file; ends the command with everything that is wrong with it."""
    from sashwright.record.housefile import HouseFileError
    from sashwright.record.shopfile import read_shop

    require_file(path)
    try:
        return read_shop(path, knowledge)
    except HouseFileError as error:
        raise Failure([*map(str, error.problems), to_correct(len(error.problems))]) from None
