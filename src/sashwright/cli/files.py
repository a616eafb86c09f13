"""Commands for the house file itself: ``new``, ``check``, ``schema``."""

from __future__ import annotations

from pathlib import Path

import click

from sashwright.cli import exits, say
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import (
    house_argument,
    json_option,
    knowledge_from,
    knowledge_option,
    require_file,
    to_correct,
)


@click.command()
@house_argument
@click.option("--force", is_flag=True, help="Replace a file of this name.")
def new(house_file: Path, force: bool) -> None:
    """Write a house file to begin with: one family, one window, notes beside them.

    \b
    Example:
      sashwright new larkspur.toml
    """
    if house_file.exists() and not force:
        raise usage(f"{house_file} is there already; --force replaces it.")
    from importlib import resources

    from sashwright.record.housefile import HouseFileError, write_file

    text = (resources.files("sashwright.cli") / "starter.toml").read_bytes()
    try:
        write_file(house_file, text)
    except HouseFileError as error:
        raise Failure(str(error)) from None
    click.echo(f"Wrote {house_file}: fill it in, then try  sashwright check {house_file}")


@click.command()
@house_argument
@json_option
@knowledge_option
@click.pass_context
def check(
    ctx: click.Context, house_file: Path, as_json: bool, shop_files: tuple[Path, ...]
) -> None:
    """Read a house file and tell everything that must be corrected.

    Each line names the file, the line, the field, what stands there and what was expected.

    \b
    Example:
      sashwright check larkspur.toml
    """
    from sashwright.record.housefile import HouseFileError, read_house

    require_file(house_file)
    try:
        house = read_house(house_file, knowledge_from(shop_files))
    except HouseFileError as error:
        if as_json:
            say.print_json(_report(house_file, problems=[p.to_dict() for p in error.problems]))
        else:
            for problem in error.problems:
                click.echo(str(problem))
            click.echo(to_correct(len(error.problems)))
        ctx.exit(exits.FOUND)
    windows, families = len(house.windows), len(house.families)
    if as_json:
        say.print_json(_report(house_file, windows=windows, families=families, problems=[]))
    else:
        click.echo(
            f"{windows} window{'s' * (windows != 1)}, "
            f"{families} famil{'y' if families == 1 else 'ies'}: nothing to correct"
        )


def _report(path: Path, **said: object) -> dict[str, object]:
    return {"file": str(path), **said}


@click.command()
@click.option("--shop", "of_shop", is_flag=True, help="Of the shop's file instead.")
def schema(of_shop: bool) -> None:
    """Print the JSON Schema of the house file, for editors and other programs.

    \b
    Examples:
      sashwright schema > house.schema.json
      sashwright schema --shop > shop.schema.json
    """
    from sashwright.window.shop import Shop
    from sashwright.window.spec import House

    say.print_json(Shop.model_json_schema() if of_shop else House.model_json_schema())
