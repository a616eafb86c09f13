"""What the command ``propose`` prints: a new window piece by piece, or traditions side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright import units
from sashwright.cli import pages, say
from sashwright.cli.pages import Page

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer
    from sashwright.chapters.make.tradition import Proposal
    from sashwright.units import System

MOSTLY = (
    "thickness", "stile", "top-rail", "meeting-rail", "bottom-rail", "muntin", "horn", "pocket",
)  # fmt: skip
"""Sizes that a proposal is mostly asked to have otherwise; any other of the table may be given too."""
SIDE_BY_SIDE = ("Tradition", "Lites", "Each", "High : wide", "Usual")


def show(page: Page, answer: Answer, target: Path | None) -> None:
    (window,) = answer.windows
    values = window.values
    lites = values["lites"]
    click.echo(f"{values['tradition_name']}: {lites['pattern']}")
    say.show("", say.table(("From the opening inward", "", ""), _inward(page, values)))
    say.show("", say.table(("Of the sash", "Size", "Usual", "Found"), _sizes(page, values)))
    say.show("", *_made_of(page, values))
    pages.close(page, window)
    if target is not None:
        click.echo(f"\nWrote {target}: try  sashwright check {target}")


def _inward(page: Page, values: Any) -> Iterator[Sequence[str]]:
    for title, key in (("Across", "across"), ("Up", "up"), ("Sash, across", "sash_across"),
                       ("Sash, up", "sash_up")):  # fmt: skip
        for at, piece in enumerate(values[key]):
            yield title if at == 0 else "", piece["part"], page.fine(piece["mm"])


def _sizes(page: Page, values: Any) -> Iterator[Sequence[str]]:
    for name in MOSTLY:
        size = values["sizes"][name.replace("-", "_")]
        yield (
            name.replace("-", " "),
            page.fine(size["mm"]),
            page.fine(size["usual_mm"]),
            f"{page.fine(size['low_mm'])} to {page.fine(size['high_mm'])}",
        )


def _made_of(page: Page, values: Any) -> Iterator[str]:
    glass = " and ".join(page.name("glass", pane) for pane in values["panes"])
    yield (
        f"{page.name('wood', values['wood'])}; {page.name('moulding', values['moulding']).lower()}; "
        f"{values['meeting']} meeting rails; {glass}."
    )


def side_by_side(
    found: Sequence[tuple[str, Proposal | None]], system: System
) -> Iterator[Sequence[str]]:
    """A row for each tradition: its lites, and how near they come to their usual proportion."""
    for key, each in found:
        if each is None:
            yield key, "no room", "", "", ""
            continue
        lites = each.answer.values["lites"]
        width, height = (
            units.format_length(lites["upper"][side] / 1000, system)
            for side in ("width_mm", "height_mm")
        )
        usual = lites["usual"]
        yield (
            key,
            lites["pattern"],
            f"{width} × {height}",
            f"{lites['ratio']:.2f}",
            f"{usual['usual']:.2f}" if usual else pages.NONE,
        )
