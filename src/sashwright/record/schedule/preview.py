"""What a schedule would do to a house, row by row: add, change, nothing, or the reasons why it cannot."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from sashwright.record.documents import canonical, rewritten
from sashwright.record.edit import Edit
from sashwright.record.errors import Refused
from sashwright.record.housefile.words import said_and_expected
from sashwright.record.merge import FieldChange, differences, with_fields
from sashwright.record.schedule.fields import field_within, label_of
from sashwright.record.schedule.heads import Column, heads_of
from sashwright.record.schedule.mapping import Plan, check_plan
from sashwright.record.schedule.rows import Place, RowProblem, SheetRow, read_rows
from sashwright.record.schedule.table import Sheet, letters
from sashwright.record.state import Document
from sashwright.window.problem import Problem

Does = Literal["add", "change", "nothing", "refused"]


@dataclass(slots=True)
class RowDoes:
    """What one row would do."""

    row: int
    number: str
    does: Does
    changes: Sequence[FieldChange] = ()
    problems: list[RowProblem] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Preview:
    """What a schedule would do; all of it or nothing."""

    rows: Sequence[RowDoes]
    ignored: Sequence[str]
    """Columns that are left out, as ``D (Price)``."""
    elsewhere: Sequence[str]
    """What would be wrong outside of the rows."""

    @property
    def problems(self) -> list[RowProblem]:
        return [problem for row in self.rows for problem in row.problems]

    @property
    def may(self) -> bool:
        """Whether it can be brought in."""
        return not self.problems and not self.elsewhere

    def count(self, does: Does) -> int:
        return Counter(row.does for row in self.rows)[does]

    @property
    def mark(self) -> str:
        """The same for the same effects, so that nothing else is brought in than was seen."""
        told = repr([(row.number, row.does, row.changes) for row in self.rows])
        return hashlib.sha256(told.encode("utf-8", "replace")).hexdigest()[:32]


def plan_all(edit: Edit, sheet: Sheet, plan: Plan) -> Preview:
    """Have an edit make all of it, as far as it can be made. Raises ``ScheduleError`` for the plan itself."""
    check_plan(plan)
    rows = list(read_rows(sheet, plan, _place(edit)))
    _number_them(rows, edit)
    done = [_Row(edit, plan, row).do() for row in rows]
    elsewhere = list(_check(edit, rows, done))
    return Preview(done, list(_ignored(sheet, plan)), elsewhere)


def _place(edit: Edit) -> Place:
    walls = edit.house.document.get("walls", {})
    rooms = [*edit.house.document.get("rooms", {})]
    rooms += [row.document.get("room", "") for row in edit.windows.values()]
    return Place(
        {name: float(wall.get("faces", 0)) for name, wall in walls.items()},
        {key: row.document.get("name", "") for key, row in edit.families.items()},
        tuple(dict.fromkeys(filter(None, rooms))),
    )


def _ignored(sheet: Sheet, plan: Plan) -> Iterator[str]:
    heads = heads_of(sheet, plan.head)
    used = {column.index for column in plan.columns if column.path}
    width = max((len(row) for row in sheet.rows), default=0)
    for index in range(width):
        if index not in used:
            head = heads[index] if index < len(heads) else ""
            yield f"{letters(index)} ({head})" if head else letters(index)


def _number_them(rows: Sequence[SheetRow], edit: Edit) -> None:
    """Give windows of the house the number as it stands there, and refuse numbers that come twice."""
    known: dict[str, list[str]] = {}
    for number in edit.windows:
        known.setdefault(number.casefold(), []).append(number)
    first: dict[str, int] = {}
    for row in rows:
        if "number" not in row.fields:
            if not any(problem.field == label_of("number") for problem in row.problems):
                row.problems.append(row.problem("number", "nothing", "the number of a window"))
            continue
        alike = known.get(row.number.casefold(), [])
        if row.number not in edit.windows and len(alike) == 1:
            row.fields["number"] = alike[0]
        if row.number in first:
            row.problems.append(
                row.problem(
                    "number",
                    f"{row.number!r} again, which row {first[row.number]} has",
                    "each window once",
                )
            )
        else:
            first[row.number] = row.row


# --- one row ----------------------------------------------------------------------


class _Row:
    """What a row makes of its window."""

    def __init__(self, edit: Edit, plan: Plan, row: SheetRow) -> None:
        self._edit, self._plan, self._row = edit, plan, row
        self._window = edit.windows.get(row.number)

    def do(self) -> RowDoes:
        row = self._row
        if row.problems:
            return RowDoes(row.row, row.number, "refused", (), [*row.problems, *self._more()])
        try:
            return self._changed() if self._window is not None else self._added()
        except Refused as error:
            problems = [problem_of(row, each) for each in error.problems]
        except KeyError as error:
            path = str(error.args[0])
            problems = [row.problem(path, "a field inside of a single value", "the whole value")]
        except (OverflowError, RecursionError):
            problems = [row.problem("", "a size beyond all measure", "sizes of windows")]
        return RowDoes(row.row, row.number, "refused", (), problems)

    def _more(self) -> Iterator[RowProblem]:
        """What else is wrong in a row that is refused already, in other cells."""
        known = {problem.cell for problem in self._row.problems}
        try:
            document = (
                with_fields({}, self._said())
                if self._window is None
                else with_fields(self._window.document, self._row.fields)
            )
            canonical("window", document, self._edit.system)
        except Refused as error:
            problems = [problem_of(self._row, each) for each in error.problems]
            yield from (each for each in problems if each.cell and each.cell not in known)
        except (KeyError, OverflowError, RecursionError):
            return

    def _said(self) -> Document:
        """What a new window would be."""
        given = {path: value for path, value in (self._plan.given or {}).items() if value}
        return {**given, **self._row.fields}

    def _added(self) -> RowDoes:
        row = self._row
        said = self._said()
        document = canonical("window", with_fields({}, said), self._edit.system)
        self._edit.add_window(document)
        shown = {path: _at(document, path) for path in said if path != "number"}
        changes = [FieldChange(path, None, value) for path, value in shown.items()]
        return RowDoes(row.row, row.number, "add", changes)

    def _changed(self) -> RowDoes:
        row, window = self._row, self._window
        assert window is not None, "asked only where there is one"
        before = rewritten("window", window.document, self._edit.system)
        after = with_fields(before, row.fields)
        if self._plan.clear:
            for path in row.blank:
                after = _without(after, path.split("."))
        document = canonical("window", after, self._edit.system)
        self._edit.rewrite(window, document)
        changes = differences(before, document)
        return RowDoes(row.row, row.number, "change" if changes else "nothing", changes)


def _at(document: Any, path: str) -> Any:
    for name in path.split("."):
        document = document.get(name) if isinstance(document, Mapping) else None
    return document


def _without(document: Document, path: Sequence[str]) -> Document:
    """A document without a field, nor what then holds nothing any more."""
    name, *inner = path
    held = document.get(name)
    rest = {key: value for key, value in document.items() if key != name}
    if inner and isinstance(held, Mapping) and held:
        left = _without(dict(held), inner)
        says = any(value not in ("", None) for value in left.values())
        return {**document, name: left} if says else rest
    return document if inner or name not in document else rest


def problem_of(row: SheetRow, problem: Problem) -> RowProblem:
    """A problem of a window's document, told of the cell it came from."""
    path = field_within(problem.field, row.columns) or problem.field
    found, expected = said_and_expected(problem.found, problem.expected)
    if expected == "only the fields of the schema":
        expected = "only the fields of a window"
    told = row.problem(path, found, expected)
    if path != problem.field and problem.field.startswith(f"{path}."):
        rest = problem.field.removeprefix(f"{path}.").replace(".", " ").replace("_", " ")
        told = RowProblem(told.row, told.cell, f"{told.field}, {rest}", found, expected)
    return told


# --- all together -----------------------------------------------------------------


def _check(edit: Edit, rows: Sequence[SheetRow], done: Sequence[RowDoes]) -> Iterator[str]:
    """Tell each row what would be wrong with its window in the house; answer what is wrong elsewhere."""
    try:
        edit.check()
    except Refused as error:
        problems = error.problems
    else:
        return
    by_number = {row.number: (row, does) for row, does in zip(rows, done, strict=True)}
    # A number may hold dots, so the longest that fits is the right one.
    numbers = sorted(by_number, key=len, reverse=True)
    for problem in problems:
        within = problem.field.removeprefix("windows.")
        number = next((n for n in numbers if n and within.startswith(f"{n}.")), None)
        if within == problem.field or number is None:
            yield f"{problem.field}: found {problem.found}, expected {problem.expected}"
            continue
        row, does = by_number[number]
        inner = Problem(within.removeprefix(f"{number}."), problem.found, problem.expected)
        does.problems.append(problem_of(row, inner))
        does.does = "refused"


_MOST_TOLD = 12


def columns_of(columns: Sequence[Column]) -> str:
    """Which column holds what, as one line."""
    told = [
        f"{letters(each.index)} = {each.path}{f' {each.unit}' * bool(each.unit)}"
        for each in columns
        if each.path
    ]
    more = f" and {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
    return ", ".join(told[:_MOST_TOLD]) + more
