"""The commands ``people``: accounts of the shop, from the computer that keeps the record."""

from __future__ import annotations

import os
from pathlib import Path

import click

from sashwright.cli import say
from sashwright.cli.options import home_option
from sashwright.cli.record import open_record, told

PASSWORD = "SASHWRIGHT_PASSWORD"
"""From the environment, so that it stands in no list of commands."""

_ROLES = click.Choice(["viewer", "bench", "surveyor", "owner"])


@click.group()
def people() -> None:
    """Who works in this shop: list them, add one, set a password, pair a device.

    \b
    Example:
      sashwright people add Ned --role surveyor
    """


@people.command("list")
@home_option
def list_(home: Path | None) -> None:
    """Everybody who has or had an account."""
    open_record(home)
    from sashwright.record.people import people as everybody

    rows = (
        (row.name, row.role, "yes" if row.signs_in else "no", "" if row.active else "closed")
        for row in everybody()
    )
    say.show(say.table(("Name", "Role", "Password", "Account"), rows))


@people.command()
@click.argument("name")
@click.option("--role", type=_ROLES, default="bench", show_default=True)
@click.option("--no-password", is_flag=True, help="Only a paired device gets in.")
@home_option
def add(name: str, role: str, no_password: bool, home: Path | None) -> None:
    """Open an account.

    \b
    Example:
      sashwright people add Ned --role surveyor
    """
    open_record(home)
    from sashwright.record.people import add_person

    with told():
        add_person(name, role, None if no_password else _password())
    click.echo(f"{name} can work here now, as {role}.")


@people.command()
@click.argument("name")
@home_option
def password(name: str, home: Path | None) -> None:
    """Set somebody's password; all their sessions end."""
    open_record(home)
    from sashwright.record.people import change_person, find_person

    with told():
        change_person(find_person(name), password=_password())
    click.echo(f"The new password of {name} counts from now on.")


@people.command()
@click.argument("name")
@home_option
def pair(name: str, home: Path | None) -> None:
    """A code by which one device gets in as this person, within ten minutes."""
    open_record(home)
    from sashwright.record.keys import make_pairing
    from sashwright.record.people import find_person

    with told():
        code = make_pairing(find_person(name))
    click.echo(f"{code[:4]} {code[4:]}")


def _password() -> str:
    given = os.environ.get(PASSWORD, "")
    return given or str(click.prompt("Password", hide_input=True, confirmation_prompt=True))
