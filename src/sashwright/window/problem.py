"""What can be wrong with a specification, said so that it can be put right."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """A contradiction in a specification: where, what was found, what was expected."""

    field: str
    found: str
    expected: str


class LayoutError(ValueError):
    """The sizes of a window contradict each other; ``problems`` lists all that was found."""

    def __init__(self, number: str, problems: list[Problem]) -> None:
        self.problems = problems
        first = problems[0]
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        super().__init__(
            f"window {number}: {first.field}: found {first.found}, expected {first.expected}{more}"
        )
