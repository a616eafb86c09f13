"""The command ``propose``: a new window from an opening, as a tradition would have it."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from sashwright.cli import pages, say
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import (
    json_option,
    knowledge_from,
    knowledge_option,
    units_option,
    working_option,
)
from sashwright.cli.pages import Page
from sashwright.cli.proposed import MOSTLY, SIDE_BY_SIDE, show, side_by_side

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer
    from sashwright.chapters.make.tradition import Given, Opening, Proposal
    from sashwright.knowledge.tables import Knowledge
    from sashwright.units import System

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Wish:
    """What the command line says of the window."""

    tradition: str | None
    wood: str | None
    upper: str | None
    lower: str | None
    sizes: tuple[str, ...]
    number: str
    family: str
    name: str


@dataclass(frozen=True, slots=True)
class Hole:
    """What it says of the opening."""

    opening: str
    kind: Any
    rise: str | None
    box: Any
    wall: str | None


def _opening_options(command: Command) -> Command:
    @functools.wraps(command)
    def told(
        *args: Any,
        opening: str,
        kind: Any,
        rise: str | None,
        box: Any,
        wall: str | None,
        **others: Any,
    ) -> Any:
        return command(*args, hole=Hole(opening, kind, rise, box, wall), **others)

    for option in (
        click.option("--wall", metavar="LENGTH", help="Thickness of a wood wall."),
        click.option(
            "--box",
            type=click.Choice(("behind", "within")),
            help="How a box stands in masonry: behind the reveal, or within the opening.",
        ),
        click.option("--rise", metavar="LENGTH", help="Of an arched opening."),
        click.option(
            "--kind",
            type=click.Choice(("rough", "masonry", "sash")),
            default="rough",
            show_default=True,
            help="Between studs, between masonry, or the sash opening itself.",
        ),
        click.option(
            "--opening", metavar='"W x H"', required=True, help="Of the opening: 36 x 66."
        ),
    ):
        told = option(told)
    return cast("Command", told)


def _wish_options(command: Command) -> Command:
    @functools.wraps(command)
    def told(
        *args: Any,
        tradition: str | None,
        wood: str | None,
        upper: str | None,
        lower: str | None,
        sizes: tuple[str, ...],
        number: str,
        family: str,
        name: str,
        **others: Any,
    ) -> Any:
        wish = Wish(tradition, wood, upper, lower, sizes, number, family, name)
        return command(*args, wish=wish, **others)

    for option in (
        click.option("--name", default="New window", show_default=True, help="Of the house."),
        click.option("--family", default="A", show_default=True, help="Key of its family."),
        click.option("--number", default="1", show_default=True, help="Of the window."),
        click.option(
            "--size", "sizes", metavar="NAME=LENGTH", multiple=True,
            help=f"Have a size otherwise: {', '.join(MOSTLY)} …; may be given several times.",
        ),
        click.option("--lower", metavar="WxH", help="Lites of the lower sash, such as 3x2."),
        click.option("--upper", metavar="WxH", help="Lites of the upper sash."),
        click.option("--wood", metavar="KEY", help="Of the sash; else the tradition's usual."),
        click.option(
            "--tradition", metavar="KEY", help="Without it, all are set side by side."
        ),
    ):  # fmt: skip
        told = option(told)
    return cast("Command", told)


@click.command()
@_wish_options
@_opening_options
@click.option("--heat", is_flag=True, help="Work out its heat as well; some seconds.")
@click.option(
    "-o", "--output", "target", metavar="FILE", type=click.Path(path_type=Path),
    help="Write a house file with this family and window.",
)  # fmt: skip
@json_option
@units_option
@working_option
@knowledge_option
@click.pass_context
def propose(
    ctx: click.Context,
    *,
    wish: Wish,
    hole: Hole,
    heat: bool,
    target: Path | None,
    as_json: bool,
    units_asked: System | None,
    working: bool,
    shop_files: tuple[Path, ...],
) -> None:
    """A new window for an opening, as a tradition would have it: sizes, weights, findings.

    What was usual is advice, drawn from the tables tradition, tradition_size and tradition_lites.

    \b
    Examples:
      sashwright propose --opening "36 x 66"
      sashwright propose --tradition federal --opening "36 x 66" -o new.toml
      sashwright propose --tradition gb-victorian --opening "1070 x 1900" \\
          --kind masonry --units metric
    """
    knowledge = knowledge_from(shop_files)
    system: System = units_asked or "us"
    opening = _opening(hole, system)
    if wish.tradition is None:
        if target is not None:
            raise usage("A house file needs one window: say which with --tradition.")
        _side_by_side(opening, wish, knowledge, system, as_json)
        return
    proposal = _proposed(opening, wish.tradition, wish, knowledge, system)
    answer, page = _checked(proposal, wish, knowledge, system, heat, working)
    if target is not None:
        _write(proposal, wish.name, system, target)
    pages.finish(ctx, answer, as_json, lambda: show(page, answer, target))


def _opening(hole: Hole, system: System) -> Opening:
    from sashwright.chapters.make.tradition import Opening

    parts = re.split(r"\s*[x×]\s*|\s+by\s+", hole.opening.strip())
    if len(parts) != 2:
        raise usage(
            f"Found the opening {hole.opening!r}, expected width and height such as '36 x 66'."
        )
    width, height = (_length("--opening", part, system) for part in parts)
    rise = 0.0 if hole.rise is None else _length("--rise", hole.rise, system)
    wall = None if hole.wall is None else _length("--wall", hole.wall, system)
    try:
        return Opening(hole.kind, width, height, rise, wall, hole.box)
    except ValueError as error:
        raise usage(str(error)) from None


def _length(option: str, text: str, system: System) -> float:
    from sashwright.units import UnitsError, parse_length

    try:
        return parse_length(text, system)
    except UnitsError as error:
        raise usage(f"{option}: {error}") from None


def _given(wish: Wish, system: System) -> Given:
    from typing import get_args

    from pydantic import ValidationError

    from sashwright.chapters.make.tradition import Given
    from sashwright.knowledge.tradition_tables import SizeName
    from sashwright.window.spec import Lites

    known = get_args(SizeName)
    sizes: dict[SizeName, float] = {}
    for text in wish.sizes:
        name, equals, length = text.partition("=")
        if not equals or name not in known:
            raise usage(
                f"--size: found {text!r}, expected one of {', '.join(known)}, as muntin=3/4."
            )
        sizes[cast("SizeName", name)] = _length("--size", length, system)
    try:
        upper, lower = (
            None if grid is None else Lites.model_validate(grid)
            for grid in (wish.upper, wish.lower)
        )
    except ValidationError:
        raise usage("--upper, --lower: expected lites wide by high, such as 3x2.") from None
    return Given(sizes, upper, lower)


def _proposed(
    opening: Opening, tradition: str, wish: Wish, knowledge: Knowledge, system: System
) -> Proposal:
    from sashwright.chapters.make.tradition import Place
    from sashwright.chapters.make.tradition import propose as ask
    from sashwright.knowledge.tables import KnowledgeError

    try:
        return ask(
            opening,
            tradition,
            knowledge,
            wood=wish.wood,
            given=_given(wish, system),
            place=Place(number=wish.number, family=wish.family),
            system=system,
        )
    except KnowledgeError as error:
        raise usage(str(error)) from None
    except ValueError as error:
        raise Failure(str(error)) from None


def _checked(
    proposal: Proposal, wish: Wish, knowledge: Knowledge, system: System, heat: bool, working: bool
) -> tuple[Answer, Page]:
    from sashwright.chapters.make.tradition import check_new, house_of

    house = house_of(proposal, wish.name, system)
    answer = check_new(proposal, knowledge, house, heat=heat, system=system)
    return answer, Page(house, knowledge, system, working)


def _write(proposal: Proposal, name: str, system: System, target: Path) -> None:
    from sashwright.chapters.make.tradition import house_document
    from sashwright.record.housefile import HouseFileError, house_text, write_file

    if target.exists():
        raise usage(f"{target} is there already; take another name.")
    try:
        write_file(target, house_text(house_document(proposal, name, system)).encode())
    except HouseFileError as error:
        raise Failure(str(error)) from None


def _side_by_side(
    opening: Opening, wish: Wish, knowledge: Knowledge, system: System, as_json: bool
) -> None:
    from sashwright.chapters.make.tradition import propose as ask

    if wish.wood is not None:
        _known_wood(wish.wood, knowledge)
    found: list[tuple[str, Proposal | None]] = []
    for key in knowledge.tradition:
        try:
            found.append((key, ask(opening, key, knowledge, wood=wish.wood, system=system)))
        except ValueError:
            found.append((key, None))
    if as_json:
        say.print_json({"traditions": {key: each and each.answer.to_dict() for key, each in found}})
        return
    say.show(say.table(SIDE_BY_SIDE, side_by_side(found, system)))


def _known_wood(wood: str, knowledge: Knowledge) -> None:
    from sashwright.knowledge.tables import KnowledgeError

    try:
        knowledge.find("wood", wood)
    except KnowledgeError as error:
        raise usage(str(error)) from None
