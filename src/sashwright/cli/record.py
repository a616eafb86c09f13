"""Commands between house files and the record: ``import``, ``export``, ``houses``."""

from __future__ import annotations

import difflib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from sashwright.cli import say
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import (
    home_option,
    house_argument,
    house_from,
    json_option,
)
from sashwright.cli.writing import deliver


def open_record(home: Path | None) -> None:
    """Make the record ready, in the folder asked for."""
    choose_home(home)
    from django.core.exceptions import ImproperlyConfigured

    from sashwright.record.start import setup

    try:
        setup()
    except ImproperlyConfigured as error:
        raise Failure(str(error)) from None


def choose_home(home: Path | None) -> None:
    """Have the settings, once they are read, keep to the folder asked for."""
    if home is not None:
        os.environ["SASHWRIGHT_HOME"] = str(home)


@contextmanager
def told() -> Iterator[None]:
    """What the record refuses, in words on stderr."""
    from sashwright.knowledge.tables import KnowledgeError
    from sashwright.record.store import NotThere, Refused

    try:
        yield
    except Refused as error:
        raise Failure(
            [f"{p.field}: found {p.found}, expected {p.expected}" for p in error.problems]
        ) from None
    except (NotThere, KnowledgeError) as error:
        raise Failure(str(error)) from None


@click.command("import")
@house_argument
@click.option(
    "--replace",
    metavar="SLUG",
    help="Put it in the place of this house; its history stays and can be undone.",
)
@home_option
def import_(house_file: Path, replace: str | None, home: Path | None) -> None:
    """Bring a house file into the record.

    A file with anything wrong in it changes nothing.

    \b
    Example:
      sashwright import larkspur.toml
    """
    open_record(home)
    from sashwright.record import store
    from sashwright.record.housefile import house_document

    with told():
        house = house_from(house_file, store.knowledge())
        known = None if replace is None else find_house(replace)
        slug = store.import_house(house_document(house), store.local_owner(), known)
    click.echo(f"{house.name} is in the record as {slug}.")


@click.command()
@click.argument("house", metavar="SLUG|NAME")
@click.option(
    "-o",
    "--output",
    metavar="HOUSE.toml",
    type=click.Path(path_type=Path),
    help="Where to put the file; otherwise it is printed.",
)
@click.option("--force", is_flag=True, help="Replace a file of this name.")
@home_option
def export(house: str, output: Path | None, force: bool, home: Path | None) -> None:
    """Write a house of the record as a house file.

    \b
    Example:
      sashwright export the-larkspur-house -o larkspur.toml
    """
    if output is not None and output.exists() and not force:
        raise usage(f"{output} is there already; --force replaces it.")
    open_record(home)
    from sashwright.record import store
    from sashwright.record.housefile import house_text

    with told():
        text = house_text(store.export_document(find_house(house)))
    deliver(text.encode("utf-8"), output)


@click.command()
@json_option
@home_option
def houses(as_json: bool, home: Path | None) -> None:
    """List the houses of the record, the one changed last first.

    \b
    Example:
      sashwright houses
    """
    open_record(home)
    from sashwright.record import store

    rows = store.list_houses()
    if as_json:
        say.print_json(
            [
                {
                    "slug": row.slug,
                    "name": row.name,
                    "place": row.place,
                    "windows": row.windows,
                    "families": row.families,
                    "changed_at": row.changed_at.isoformat(),
                    "changed_by": row.changed_by,
                }
                for row in rows
            ]
        )
    elif not rows:
        click.echo("The record holds no house yet: sashwright import HOUSE.toml brings one in.")
    else:
        say.show(
            say.table(
                ("Slug", "Name", "Place", "Windows", "Families", "Changed", "By"),
                (
                    (
                        row.slug,
                        row.name,
                        row.place,
                        str(row.windows),
                        str(row.families),
                        f"{row.changed_at.astimezone():%Y-%m-%d %H:%M}",
                        row.changed_by,
                    )
                    for row in rows
                ),
            )
        )


def find_house(wanted: str) -> str:
    """The slug of a house given by its slug or its name; ends the command where there is none."""
    from sashwright.record import store

    rows = store.list_houses()
    slugs = [row.slug for row in rows]
    if wanted in slugs:
        return wanted
    named = [row.slug for row in rows if row.name.casefold() == wanted.casefold()]
    if len(named) == 1:
        return named[0]
    if named:
        raise usage(f"Several houses are called {wanted}: {', '.join(named)}. Give one of these.")
    near = difflib.get_close_matches(wanted.casefold(), slugs, n=3, cutoff=0.4)
    hint = f"did you mean {' or '.join(near)}?" if near else "sashwright houses lists them."
    raise usage(f"The record holds no house {wanted}; {hint}")
