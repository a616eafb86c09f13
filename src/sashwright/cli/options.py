"""Arguments and options that commands share, and what they lead to."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Callable, Sequence
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar, cast

import click

from sashwright.cli.exits import Failure, usage

if TYPE_CHECKING:
    from sashwright.knowledge.tables import Knowledge
    from sashwright.units import System
    from sashwright.window.spec import House

Command = TypeVar("Command", bound=Callable[..., Any])

_FILE = click.Path(path_type=Path)

house_argument = click.argument("house_file", metavar="HOUSE.toml", type=_FILE)
"""The house file that a command is about."""

json_option = click.option("--json", "as_json", is_flag=True, help="Print data instead of words.")

units_option = click.option(
    "--units",
    "units_asked",
    type=click.Choice(["us", "metric"]),
    help="Show inches and pounds, or mm and kg; otherwise as the house is recorded.",
)

working_option = click.option(
    "--working", is_flag=True, help="Show how each figure was worked out."
)

window_option = click.option(
    "--window",
    "numbers",
    metavar="N",
    multiple=True,
    help="Only this window; may be given several times.",
)

home_option = click.option(
    "--home",
    metavar="DIR",
    type=_FILE,
    envvar="SASHWRIGHT_HOME",
    help="Folder of the record, if it is not the usual one.",
)

knowledge_option = click.option(
    "--knowledge",
    "shop_files",
    metavar="FILE",
    type=_FILE,
    multiple=True,
    envvar="SASHWRIGHT_KNOWLEDGE",
    help="The shop's own figures (TOML) over the tables; may be given several times.",
)


def gathered(name: str, kind: type, *options: Callable[[Any], Any]) -> Callable[[Command], Command]:
    """Options that a command is given in one: as ``name``, the dataclass whose fields they fill."""

    def give(command: Command) -> Command:
        @functools.wraps(command)
        def told(*args: Any, **given: Any) -> Any:
            mine = {field.name: given.pop(field.name) for field in fields(kind)}
            return command(*args, **{name: kind(**mine)}, **given)

        for option in options:
            told = option(told)
        return cast("Command", told)

    return give


def chapter_options(command: Command) -> Command:
    """A house and what may be said with it, for commands that ask a chapter."""
    for option in (
        knowledge_option,
        working_option,
        units_option,
        json_option,
        window_option,
        house_argument,
    ):
        command = option(command)
    return command


def knowledge_from(shop_files: Sequence[Path]) -> Knowledge:
    """The trade's tables with the shop's own over them."""
    from sashwright.knowledge.load import load
    from sashwright.knowledge.tables import KnowledgeError

    try:
        return load(*shop_files)
    except KnowledgeError as error:
        raise Failure(str(error)) from None


def house_from(path: Path, knowledge: Knowledge) -> House:
    """The house of a file; ends the command with everything that is wrong with it."""
    from sashwright.record.housefile import HouseFileError, read_house

    require_file(path)
    try:
        return read_house(path, knowledge)
    except HouseFileError as error:
        raise Failure([*map(str, error.problems), to_correct(len(error.problems))]) from None


def to_correct(count: int) -> str:
    """How much there is to do, in a sentence."""
    return f"{count} {'thing' if count == 1 else 'things'} to correct."


def require_file(path: Path, endings: Sequence[str] = (".toml",)) -> None:
    """End the command where there is no such file, with the nearest one that there is."""
    if path.exists():
        return
    try:
        names = [other.name for other in path.parent.iterdir() if other.suffix.lower() in endings]
    except OSError:
        names = []
    near = difflib.get_close_matches(path.name, names, n=1)
    hint = f"; did you mean {near[0]}?" if near else "."
    raise usage(f"There is no file {path}{hint}")


class Subject(NamedTuple):
    """What a command is about: a house, the tables, the units to show, and which windows."""

    house: House
    knowledge: Knowledge
    system: System
    numbers: Sequence[str] | None
    """None for all windows."""


def subject(
    house_file: Path, shop_files: Sequence[Path], units: str | None, numbers: Sequence[str]
) -> Subject:
    """Read it all; ends the command with what is wrong."""
    knowledge = knowledge_from(shop_files)
    house = house_from(house_file, knowledge)
    return Subject(house, knowledge, system_of(house, units), numbers_of(house, numbers))


def numbers_of(house: House, numbers: Sequence[str]) -> Sequence[str] | None:
    """The windows asked for, none meaning all; ends the command for one the house has not."""
    known = [window.number for window in house.windows]
    for number in numbers:
        if number not in known:
            near = difflib.get_close_matches(number, known, n=3) or known[:6]
            raise usage(
                f"{house.name} has no window {number}"
                + (f"; it has {', '.join(near)}." if near else " nor any other.")
            )
    return numbers or None


def system_of(house: House, units: str | None) -> System:
    """The units to show: those asked for, else the house's own."""
    return "us" if units == "us" else "metric" if units == "metric" else house.units
