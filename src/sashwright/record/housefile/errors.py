"""What can be wrong with a house file, in words for the person who wrote it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

_MOST_NUMBERS = 4
_MOST_SAID = 100


@dataclass(frozen=True, slots=True)
class FileProblem:
    """One thing to put right: where it stands, what was found there, what was expected."""

    file: str
    line: int | None
    field: str
    found: str
    expected: str
    windows: tuple[str, ...] = ()
    """Numbers of the windows that it shows in, where they are known."""

    def __str__(self) -> str:
        return f"{self.place}: found {self.found}, expected {self.expected}"

    @property
    def place(self) -> str:
        """File, line, field and windows, as far as they are known."""
        line = f"line {self.line}" if self.line else ""
        field = f"{self.field} ({_window_words(self.windows)})" if self.windows else self.field
        return ", ".join(part for part in (self.file, line, field) if part)

    def to_dict(self) -> dict[str, Any]:
        return {
            "file": self.file,
            "line": self.line,
            "field": self.field,
            "found": self.found,
            "expected": self.expected,
            "windows": list(self.windows),
        }


def _window_words(numbers: tuple[str, ...]) -> str:
    shown = ", ".join(numbers[:_MOST_NUMBERS])
    more = len(numbers) - _MOST_NUMBERS
    word = "window" if len(numbers) == 1 else "windows"
    return f"{word} {shown} and {more} more" if more > 0 else f"{word} {shown}"


class HouseFileError(ValueError):
    """A house file that cannot be read or written; ``problems`` lists all that was found."""

    def __init__(self, problems: list[FileProblem]) -> None:
        self.problems = problems
        more = len(problems) - _MOST_SAID
        said = [str(problem) for problem in problems[:_MOST_SAID]]
        super().__init__("\n".join([*said, f"and {more} more"] if more > 0 else said))


def file_error(
    file: str, found: str, expected: str, line: int | None = None, field: str = ""
) -> HouseFileError:
    """An error of one problem, which concerns the file as a whole or one line of it."""
    return HouseFileError([FileProblem(file, line, field, found, expected)])
