"""How a command ends: the exit codes, and the two ways to end in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import IO, Any

import click

OK = 0
FOUND = 1
"""Something is wrong with the house, or a finding fails."""
USAGE = 2
"""The command was not understood; the same number that click uses."""
INTERRUPTED = 130


class Failure(click.ClickException):
    """Ends the command with sentences on stderr, one to a line."""

    exit_code = FOUND

    def __init__(self, sentences: Sequence[str] | str) -> None:
        lines = [sentences] if isinstance(sentences, str) else list(sentences)
        super().__init__("\n".join(lines))

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(self.message, file=file, err=file is None)


class Unclear(Failure):
    """Ends the command where a word on the command line may mean several things."""

    exit_code = USAGE


def usage(sentence: str) -> click.UsageError:
    """Ends the command for a word on the command line that leads nowhere."""
    return click.UsageError(sentence)
