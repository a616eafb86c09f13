"""What can keep a change from being made. Nothing is written when one of these is raised."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sashwright.record.state import NAMES, Document
from sashwright.window.problem import Problem


@dataclass(frozen=True, slots=True)
class Stored:
    """A house, family or window as it is kept: ``kind``, ``key``, and which version it is.

    ``merged`` tells that somebody else's change to other fields was kept beside the one just saved.
    """

    kind: str
    key: str
    document: Document
    version: int
    merged: bool = False


@dataclass(frozen=True, slots=True)
class FieldConflict:
    """A field that two people changed differently; ``None`` where it has no value."""

    path: str
    base: Any
    mine: Any
    theirs: Any


class NotThere(LookupError):  # noqa: N818 - an answer in its own words, as the two below
    """Something was asked for that the record does not hold; the message is the sentence to show."""


class Conflict(Exception):  # noqa: N818
    """The same fields were changed by somebody else in the meantime.

    ``theirs`` is what is kept now, ``who`` changed it and ``when``; ``fields`` are those in dispute.
    """

    def __init__(
        self, theirs: Stored, who: str, when: datetime, fields: Iterable[FieldConflict]
    ) -> None:
        self.theirs, self.who, self.when = theirs, who, when
        self.fields = list(fields)
        named = ", ".join(field.path for field in self.fields[:3])
        more = f" and {len(self.fields) - 3} more" if len(self.fields) > 3 else ""
        super().__init__(
            f"{name_of_kept(theirs.kind, theirs.key)} was changed by {who} in the meantime: "
            f"{named}{more}."
        )


class Refused(ValueError):  # noqa: N818
    """A change that would make the record wrong; ``problems`` lists all that was found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = list(problems)
        first = self.problems[0]
        rest = len(self.problems) - 1
        more = f" (and {rest} more)" if rest else ""
        super().__init__(f"{first.field}: found {first.found}, expected {first.expected}{more}.")

    def renamed(self, prefixes: Mapping[str, str]) -> Refused:
        """The same, with the names of fields beginning otherwise: each old beginning with its new."""
        # A number may hold dots, so the longest beginning that fits is the right one.
        longest_first = sorted(prefixes, key=len, reverse=True)

        def renamed(field: str) -> str:
            old = next((prefix for prefix in longest_first if field.startswith(prefix)), None)
            return field if old is None else prefixes[old] + field.removeprefix(old)

        return Refused(replace(problem, field=renamed(problem.field)) for problem in self.problems)


def refused(field: str, found: str, expected: str) -> Refused:
    """A refusal for one reason."""
    return Refused([Problem(field, found, expected)])


def name_of_kept(kind: str, key: str) -> str:
    """How a sentence about it begins: ``The house``, ``The shop``, ``Family A``, ``Window 204``."""
    if kind in ("house", "shop"):
        return f"The {kind}"
    return f"{NAMES[kind].capitalize()} {key}"
