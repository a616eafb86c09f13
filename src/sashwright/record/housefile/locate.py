"""Gives the problems of a house document their places in the file, and the file's own words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from sashwright.record.housefile.errors import FileProblem
from sashwright.record.housefile.lines import Node, Path
from sashwright.record.housefile.words import known_fields, said_and_expected, show_value
from sashwright.window.problem import Problem
from sashwright.window.spec import House

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST_FIELD = 120
_NOTHING = object()
_IS_KEY = ".[key]"
"""Ends the name of a field whose key is wrong, not its value."""


class FileMap:
    """A file with what it says and where it says it."""

    def __init__(
        self, file: str, document: dict[str, Any], tree: Node, model: type[BaseModel] = House
    ) -> None:
        self.file = file
        self.model = model
        self.document = document
        self.tree = tree

    def place(self, problems: list[Problem]) -> list[FileProblem]:
        """The problems in the order of the file; one that shows in many windows stands once."""
        joined: dict[tuple[int | None, str, str, str], dict[str, None]] = {}
        for problem in problems:
            windows = joined.setdefault(self._placed(problem), {})
            windows.setdefault(self._window_of(problem.field))
        # What a family says wrong by itself is not a matter of some of its windows.
        placed = (
            FileProblem(self.file, *where, () if "" in windows else tuple(windows))
            for where, windows in joined.items()
        )
        return sorted(placed, key=lambda problem: problem.line or 0)

    def _placed(self, problem: Problem) -> tuple[int | None, str, str, str]:
        """Line, field, what was found and what was expected."""
        dotted = problem.field.removesuffix(_IS_KEY)
        path, rest = self._find("" if dotted == "house" else dotted)
        node = self.tree.at(path) if path else None
        found, expected = said_and_expected(problem.found, problem.expected)
        if problem.field != dotted and path:
            found = show_value(path[-1], found)
        elif not rest:
            found = show_value(value_at(self.document, path), found)
        if expected == "only the fields of the schema":
            expected = known_fields(path, self.model)
        return node.line if node else None, show_path(path, rest), found, expected

    def _find(self, dotted: str) -> tuple[Path, str]:
        """The path in the file that a name of the specification means, and what was not found."""
        path = self.tree.resolve(dotted)
        rest = dotted[_length(path) :]
        if rest and path:
            for other in self._elsewhere(path, rest):
                found = self.tree.resolve(other)
                if _length(found) > len(other):
                    return found, ""
        return path, rest

    def _elsewhere(self, path: Path, rest: str) -> Iterator[str]:
        """Where else a value may stand that a window or a sash takes from somewhere."""
        top, *inner = path
        if top == "families" and len(inner) == 1:
            yield from _shared(f"families.{inner[0]}", rest)
        elif top == "windows" and inner:
            yield from _shared(f"windows.{inner[0]}.changes", rest)
            family = value_at(self.document, ("windows", inner[0], "family"))
            if isinstance(family, str):
                yield from _shared(f"families.{family}", rest)

    def _window_of(self, dotted: str) -> str:
        """Number of the window that a problem names; empty where it has none."""
        top, _, rest = dotted.partition(".")
        index = rest.partition(".")[0]
        if top != "windows" or not (index.isascii() and index.isdigit()):
            return ""
        number = value_at(self.document, ("windows", int(index), "number"))
        is_number = isinstance(number, (str, int)) and not isinstance(number, bool)
        return str(number) if is_number and len(str(number)) <= 16 else ""


def _shared(above: str, rest: str) -> Iterator[str]:
    """A field below ``above``, and for one sash also the field that both sash share."""
    yield f"{above}.{rest}"
    which, _, field = rest.partition(".")
    if which in ("upper", "lower") and field:
        yield f"{above}.sash.{field}"


def _length(path: Path) -> int:
    """Length of the dotted name of a path, with the dot after it."""
    return sum(len(str(step)) + 1 for step in path)


def value_at(document: Any, path: Path) -> Any:
    """The value at the end of a path, or ``_NOTHING``."""
    value = document
    for step in path:
        try:
            value = value[step]
        except (KeyError, IndexError, TypeError):
            return _NOTHING
    return value


def show_path(path: Path, rest: str = "") -> str:
    """A path as TOML would write it, lists counted from 0 as in ``windows[3].width``."""
    shown = "".join(f"[{step}]" if isinstance(step, int) else f".{_key(step)}" for step in path)
    shown = f"{shown}.{_printable(rest)}" if rest else shown
    shown = shown.removeprefix(".")
    return shown if len(shown) <= _LONGEST_FIELD else shown[: _LONGEST_FIELD - 1] + "…"


def _key(step: str) -> str:
    return step if _BARE.fullmatch(step) else f'"{_printable(step)}"'


def _printable(text: str) -> str:
    return text if text.isprintable() else repr(text)[1:-1]
