"""A chapter asked from the terminal: what every such command is told, and the way each ends."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from sashwright.cli import pages
from sashwright.cli.options import Subject, chapter_options, subject

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer

Asking = Callable[..., None]


@dataclass(frozen=True)
class Question:
    """What a chapter is asked about, and how its answer is wanted."""

    ctx: click.Context
    subject: Subject
    as_json: bool
    working: bool

    @property
    def some(self) -> bool:
        """Whether windows were asked for by number."""
        return self.subject.numbers is not None

    def finish(self, answer: Answer, show: Callable[..., None], *more: object) -> NoReturn:
        """Print the answer and end; ``show`` takes the page, the answer and what comes ``more``."""
        about = self.subject

        def printed() -> None:
            page = pages.Page(about.house, about.knowledge, about.system, self.working)
            show(page, answer, *more)

        pages.finish(self.ctx, answer, self.as_json, printed)


def asks(command: Asking) -> Asking:
    """Give a command the options that all chapters take; it gets the question in place of them."""

    @functools.wraps(command)
    @click.pass_context
    def asked(
        ctx: click.Context,
        /,
        house_file: Path,
        numbers: Sequence[str],
        as_json: bool,
        units_asked: str | None,
        working: bool,
        shop_files: Sequence[Path],
        **more: Any,
    ) -> None:
        about = subject(house_file, shop_files, units_asked, numbers)
        command(Question(ctx, about, as_json, working), **more)

    return chapter_options(asked)
