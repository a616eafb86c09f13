"""The command ``make``: the cutting list of a house, for the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.exits import usage
from sashwright.cli.options import gathered
from sashwright.cli.pages import Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer
    from sashwright.papers.cutwords import Row, Stack, Sum


ASKED = ("sash", "storm", "screen", "frame")
_WOOD = ("Mark", "Part", "Pcs", "To saw", "Finished", "Joints and notes")
_GLASS = ("Mark", "Panes", "To cut", "Glass", "Lites", "Shape")


@dataclass(frozen=True, slots=True)
class Choice:
    """What the command line says of what to list."""

    scope: tuple[Any, ...]
    wood: str | None
    kind: Any


_choice_options = gathered(
    "choice",
    Choice,
    click.option(
        "--frame-kind",
        "kind",
        type=click.Choice(("box", "skeleton")),
        help="How frames are built; otherwise as the wall asks.",
    ),
    click.option("--wood", metavar="KEY", help="Species of new sash, in place of the old ones'."),
    click.option(
        "--all",
        "scope",
        type=click.Choice(ASKED),
        multiple=True,
        help="List this for every window, whatever was decided; may be given several times.",
    ),
)
"""What may be said of the list; the command gets it as ``choice``."""


@click.command()
@asks
@_choice_options
def make(
    question: Question,
    choice: Choice,
) -> None:
    """Everything to cut: wood by stack of boards, glass, and what it all comes to.

    Without --all it lists what was decided at each window, or is usual there: new sash, storms and screens
    that are to be made, splices and new members, panes.

    \b
    Examples:
      sashwright make larkspur.toml
      sashwright make larkspur.toml --window 104 --all sash --all storm
    """
    from sashwright.chapters.make.chapter import make as ask
    from sashwright.knowledge.tables import KnowledgeError

    house, knowledge, system, wanted = question.subject
    try:
        answer = ask(
            house,
            knowledge,
            wanted,
            system,
            scope=choice.scope or None,
            wood=choice.wood,
            frame=choice.kind,
        )
    except KnowledgeError as error:
        raise usage(str(error)) from None
    question.finish(answer, _show)


def _show(page: Page, answer: Answer) -> None:
    from sashwright.papers import cutwords

    rows, panes = list(cutwords.parts_of(answer)), list(cutwords.panes_of(answer))
    if rows or panes:
        say.show(*_heading(page, answer))
    for stack in cutwords.stacks(rows):
        say.show("", _title(page, stack), say.table(_WOOD, _wood(page, stack.rows)))
    if panes:
        say.show("", "Glass", say.table(_GLASS, _glass(page, panes)))
    if rows or panes:
        say.show("", "In all", say.table(("What", "How much", ""), _sums(page, answer)))
    say.show(*[""] * bool(rows or panes), *say.finding_lines(_told(answer)))
    pages.gravest_together(answer)
    pages.all_working(page, answer.windows)


def _told(answer: Answer) -> list[Any]:
    from sashwright.papers.job import gravest_first

    return gravest_first(answer.findings)


def _heading(page: Page, answer: Answer) -> Iterator[str]:
    from sashwright.papers import cutwords
    from sashwright.papers.words import count

    made = cutwords.units_made(answer.values)
    yield f"{made}, at {count(answer.values['windows'], 'window')}; sizes in {page.words.length_unit}"
    allowance = answer.values["allowance_mm"]
    yield (
        f"Rough sizes are {page.words.size(allowance['length'])} longer, "
        f"{page.words.size(allowance['width'])} wider; stiles have "
        f"{page.words.size(allowance['horn'])} at each end."
    )


def _title(page: Page, stack: Stack) -> str:
    from sashwright.papers import cutwords

    return f"{stack.title}: {cutwords.lumber(page.words, stack.board_feet, stack.rough_m3)}"


def _wood(page: Page, rows: Sequence[Row]) -> Iterator[Sequence[str]]:
    from sashwright.papers import cutwords

    for row in rows:
        yield (
            row["mark"],
            row["name"],
            str(row["count"]),
            cutwords.rough(page.words, row),
            cutwords.finished(page.words, row),
            cutwords.remarks(page.words, row),
        )


def _glass(page: Page, rows: Sequence[Row]) -> Iterator[Sequence[str]]:
    from sashwright.papers import cutwords

    for row in rows:
        yield (
            row["mark"],
            str(row["count"]),
            cutwords.cut_size(page.words, row),
            cutwords.glass_kind(row),
            ", ".join(row["lites"]),
            cutwords.shape(page.words, row) or "square",
        )


def _sums(page: Page, answer: Answer) -> Iterator[Sequence[str]]:
    from sashwright.papers import cutwords

    values = answer.values
    groups: Iterable[list[Sum]] = (
        cutwords.wood_sums(page.words, values),
        cutwords.moulding_sums(page.words, values),
        cutwords.glass_sums(page.words, values),
        cutwords.other_sums(page.words, values),
    )
    whole = cutwords.lumber(page.words, values["board_feet"], values["rough_m3"])
    if values["lumber"]:
        yield "All lumber, rough", whole, f"{values['pieces']} parts"
    for group in groups:
        for line in group:
            yield line.what, line.amount, line.note
