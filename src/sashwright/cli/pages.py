"""What the printed answers of chapters share: where a window is, what is grave, the working, days."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, NoReturn

import click

from sashwright import units
from sashwright.cli import exits, say

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, Finding, WindowAnswer
    from sashwright.chapters.words import Words as Fine
    from sashwright.knowledge.tables import Knowledge
    from sashwright.papers.words import Words
    from sashwright.window.spec import House

NONE = "–"
SIDES = ("upper", "lower")


def finish(ctx: click.Context, answer: Answer, as_json: bool, show: Callable[[], None]) -> NoReturn:
    """Print an answer, as JSON or for a reader, and end with the code that tells how grave it is."""
    if as_json:
        say.print_json(answer.to_dict())
    else:
        show()
    ctx.exit(exits.FOUND if answer.worst == "fail" else exits.OK)


class Page:
    """What every part of a printed answer needs."""

    def __init__(
        self, house: House, knowledge: Knowledge, system: units.System, working: bool
    ) -> None:
        from sashwright.chapters.words import Words as Fine
        from sashwright.papers.words import Words

        self.house = house
        self.knowledge = knowledge
        self.words: Words = Words(system)
        self.fine_words: Fine = Fine(system)
        self.working = working

    def name(self, table: str, key: str) -> str:
        return str(self.knowledge.find(table, key).name)

    def length(self, mm: float) -> str:
        return units.format_length(mm / 1000, self.words.system)

    def force(self, newtons: float) -> str:
        return units.format_force(newtons, self.words.system)

    def fine(self, mm: float) -> str:
        """A small length: to 1/64 in or 0.1 mm."""
        return self.fine_words.fine(mm / 1000)

    def gap(self, mm: float) -> str:
        """A clearance; wood that wants more room than there is has none."""
        return self.fine(max(mm, 0.0))

    def rounded_up(self, mm: float) -> str:
        """A small length that must be reached: to the next 1/64 in or 0.1 mm."""
        step = 25.4 / 64 if self.words.system == "us" else 0.1
        return self.fine(math.ceil(mm / step - 1e-6) * step)

    def flow(self, cubic_metres_a_second: float) -> str:
        return self.fine_words.flow(cubic_metres_a_second)

    def where(self, number: str) -> str:
        """``, dining room, east wall, storey 1`` behind a window's number."""
        window = next(window for window in self.house.windows if window.number == number)
        place = [window.room, f"{window.wall} wall", f"storey {window.storey}"]
        return f", {', '.join(part for part in place if part)}"


# --- days -------------------------------------------------------------------------


def date_of(day: int) -> str:
    """``8 Sep`` for day 251, counted from 1."""
    from sashwright.chapters.fit.calendar import date_words

    number, month = date_words(day - 1).split()
    return f"{number} {month[:3]}"


def days_of(usual: int, at_worst: int) -> str:
    """On how many days something happens, and on how many at the worst side of the band."""
    if not at_worst:
        return NONE
    return f"{usual} days" if usual == at_worst else f"{usual} to {at_worst} days"


# --- findings ---------------------------------------------------------------------


def gravest(page: Page, answer: Answer) -> None:
    """Of a whole house only what fails and what wants care; a window's card has the rest."""
    from sashwright.papers.job import gravest_first

    for window in answer.windows:
        grave = [f for f in window.findings if f.level in ("fail", "caution")]
        if grave:
            say.show(f"\nWindow {window.number}{page.where(window.number)}")
            say.show(*say.finding_lines(gravest_first(grave)))
    in_all(answer)


def in_all(answer: Answer) -> None:
    """How many findings there are, and where to read the rest."""
    say.show(f"\nIn all: {say.count_of_levels(answer)}. Notes stand with each window: --window N.")


def gravest_together(answer: Answer) -> None:
    """As ``gravest``, but what is said of many windows alike is said once, with their numbers."""
    from sashwright.papers.job import gravest_first

    told: dict[tuple[str, str], list[tuple[str, Finding]]] = {}
    for window in answer.windows:
        for finding in gravest_first(window.findings):
            if finding.level in ("fail", "caution"):
                told.setdefault((finding.level, finding.says), []).append((window.number, finding))
    shared = [_shared(pairs) for pairs in told.values()]
    if shared:
        say.show("", *say.finding_lines(gravest_first(shared)))
    in_all(answer)


def _shared(pairs: list[tuple[str, Finding]]) -> Finding:
    """One finding for all the windows that it is true of."""
    from dataclasses import replace

    numbers = [number for number, _ in pairs]
    reasons = {finding.because for _, finding in pairs}
    first = pairs[0][1]
    because = first.because if len(reasons) == 1 else f"at {numbers[0]}: {first.because}"
    return replace(first, says=f"{', '.join(numbers)}: {first.says}", because=because)


# --- cards ------------------------------------------------------------------------


def heading(page: Page, number: str, at: int) -> None:
    """The line above a window's card."""
    say.show(*[""] * bool(at), f"Window {number}{page.where(number)}")


def cards(
    page: Page, windows: Iterable[WindowAnswer], card: Callable[[Page, WindowAnswer], None]
) -> None:
    """One card below the other, each under its window."""
    for at, window in enumerate(windows):
        heading(page, window.number, at)
        card(page, window)


def close(page: Page, answer: WindowAnswer) -> None:
    """What ends every card: all findings, the gravest first, and the working if asked for."""
    from sashwright.papers.job import gravest_first

    say.show("", *say.finding_lines(gravest_first(answer.findings)))
    if page.working:
        working_of(answer)


def working_of(answer: Answer | WindowAnswer) -> None:
    """The working of a house or a window, under its heading."""
    click.echo("\nWorking")
    unfold(answer)


def unfold(answer: Answer | WindowAnswer) -> None:
    # Not through a table: long lines are for the terminal to wrap, and for programs to search.
    click.echo("\n".join(say.step_lines(answer.working)))


def all_working(page: Page, windows: Iterable[WindowAnswer]) -> None:
    """The working of each window, below a table of the house."""
    if page.working:
        for window in windows:
            click.echo(f"\nWindow {window.number}, working")
            unfold(window)


def filled(rows: Iterable[tuple[str, str | None]]) -> Iterator[tuple[str, str]]:
    """Rows that have something to say."""
    for label, text in rows:
        if text:
            yield label, text


def bar(share: float, longest: int = 20) -> str:
    """A bar for a share of the whole: a block for each twentieth, half a block for less."""
    halves = round(2 * longest * min(max(share, 0.0), 1.0))
    return "█" * (halves // 2) + "▌" * (halves % 2)
