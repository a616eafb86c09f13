"""The command ``parts``: what to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import exits, say
from sashwright.cli.options import (
    house_argument,
    json_option,
    knowledge_option,
    subject,
    units_option,
    window_option,
)

if TYPE_CHECKING:
    from rich.table import Table

    from sashwright.chapters.answer import Answer, WindowAnswer
    from sashwright.knowledge.tables import Knowledge
    from sashwright.papers.words import Words


@click.command()
@house_argument
@window_option
@json_option
@units_option
@knowledge_option
@click.pass_context
def parts(
    ctx: click.Context,
    house_file: Path,
    numbers: tuple[str, ...],
    as_json: bool,
    units_asked: str | None,
    shop_files: tuple[Path, ...],
) -> None:
    """Sizes to cut: every wooden part of every sash, and the glass.

    \b
    Example:
      sashwright parts larkspur.toml --window 104
    """
    from sashwright.chapters.parts import parts as ask
    from sashwright.papers.words import Words

    house, knowledge, system, wanted = subject(house_file, shop_files, units_asked, numbers)
    answer = ask(house, knowledge, wanted, system)
    if as_json:
        say.print_json(answer.to_dict())
    else:
        _show(Words(system), knowledge, answer)
    ctx.exit(exits.FOUND if answer.worst == "fail" else exits.OK)


def _show(words: Words, knowledge: Knowledge, answer: Answer) -> None:
    for at, window in enumerate(answer.windows):
        say.show(*[""] * bool(at), f"Window {window.number}, sizes in {words.length_unit}")
        if window.values:
            say.show(f"Wood: {_woods(knowledge, window)}")
            say.show(wood_table(words, window.values["parts"]))
            say.show("")
            say.show(glass_table(words, knowledge, window.values["glass"]))
        told = [finding for finding in window.findings if finding.level != "ok"]
        if told:
            say.show("", *say.finding_lines(told))


_WOOD = ("Sash", "Part", "Pieces", "Long", "Shoulders", "Wide", "Thick", "Joint")
_GLASS = ("Sash", "Panes", "Wide", "High", "Glass", "Shape")


def _woods(knowledge: Knowledge, window: WindowAnswer) -> str:
    """The wood of the window; that of each sash where they differ."""
    woods = {part["sash"]: part["wood"] for part in window.values["parts"]}
    names = {which: str(knowledge.find("wood", key).name) for which, key in woods.items()}
    if len(set(names.values())) == 1:
        return next(iter(names.values()))
    return ", ".join(f"{which} sash {name}" for which, name in names.items())


def wood_table(words: Words, parts: Sequence[Mapping[str, Any]]) -> Table:
    """Wooden parts with their sizes and joints."""
    return say.table(
        _WOOD,
        (
            (
                part["sash"],
                part["name"],
                str(part["count"]),
                *(words.size(part[f"{name}_mm"]) for name in _SIZES),
                part["joint"],
            )
            for part in parts
        ),
    )


_SIZES = ("length", "shoulder", "width", "thickness")


def glass_table(words: Words, knowledge: Knowledge, panes: Sequence[Mapping[str, Any]]) -> Table:
    """Panes of glass with their sizes and shape."""
    return say.table(
        _GLASS,
        (
            (
                pane["sash"],
                str(pane["count"]),
                words.glass(pane["width_mm"]),
                words.glass(pane["height_mm"]),
                knowledge.find("glass", pane["glass"]).name,
                _shape(words, pane),
            )
            for pane in panes
        ),
    )


def _shape(words: Words, pane: Mapping[str, Any]) -> str:
    if not pane["arched"]:
        return "square"
    left, right = (words.glass(mm) for mm in pane["edge_heights_mm"])
    return f"arched, edges {left} and {right}, radius {words.glass(pane['arc_radius_mm'])}"
