"""How the page of a schedule shows what its columns hold, and reads what is chosen there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict

from sashwright.record.merge import FieldChange
from sashwright.record.schedule import (
    SIZE,
    UNITS,
    Book,
    Column,
    Plan,
    Preview,
    RowDoes,
    Sheet,
    fields,
    guessed,
    heads_of,
    label_of,
    letters,
    shown,
)
from sashwright.web.saving import told
from sashwright.web.views.common import HouseHead, family_choices

GIVEN = ("family", "wall", "storey")
"""What new windows are where the file does not say."""
EXAMPLES = 3
MOST_ROWS = 200
"""Rows shown of one kind; of the rest it is said how many there are."""
_LONGEST = 40


@dataclass(frozen=True, slots=True)
class Shown:
    """A column of the file on the page."""

    index: int
    letter: str
    head: str
    examples: Sequence[str]
    path: str
    unit: str
    own: str
    """The label of a field that is not in the list, where it holds one."""
    in_units: bool
    """Whether its numbers are lengths or masses."""


def plan_of(posted: QueryDict, book: Book, head: HouseHead) -> Plan:
    """How the file is to be read by what was chosen; guessed anew for another sheet or row of heads.

    Raises ``ScheduleError`` for a sheet that the file has not.
    """
    sheet = book.sheet(posted.get("sheet", ""))
    given = {name: posted.get(name, "").strip() for name in GIVEN}
    row = _whole(posted.get("head", ""))
    same = posted.get("was") == f"{sheet.name}/{row}"
    if not same or row is None:
        plan = guessed(sheet, given, row)
        return Plan(plan.columns, plan.head, sheet.name, given, "clear" in posted)
    columns = tuple(
        Column(index, posted.get(f"path-{index}", ""), posted.get(f"unit-{index}", ""))
        for index in range(_width(sheet))
    )
    return Plan(columns, row, sheet.name, given, "clear" in posted)


def first_plan(book: Book, head: HouseHead) -> Plan:
    """How a file is probably to be read, before anything was chosen."""
    families = family_choices(head.slug)
    given = {
        "family": families[0][0] if families else "",
        "wall": head.walls[0] if head.walls else "",
        "storey": "1",
    }
    return guessed(book.sheet(), given)


def _whole(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else None


def _width(sheet: Sheet) -> int:
    return max((len(row) for row in sheet.rows), default=0)


def columns_shown(sheet: Sheet, plan: Plan) -> list[Shown]:
    """Each column of the file with a look at what it holds."""
    heads = heads_of(sheet, plan.head)
    listed = {path for _, group in choices() for path, _ in group}
    found = []
    for column in plan.columns:
        index, path = column.index, column.path
        cells = (row[index] for row in sheet.rows[plan.head :] if index < len(row))
        examples = [text for text in map(shown, cells) if text.strip()][:EXAMPLES]
        found.append(
            Shown(
                index,
                letters(index),
                heads[index] if index < len(heads) else "",
                [_short(text) for text in examples],
                path,
                column.unit,
                label_of(path) if path and path not in listed else "",
                path == SIZE or (path in fields() and fields()[path].takes_units),
            )
        )
    return found


def choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """The fields to choose from, by group; those in which a window differs from its family stand apart."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for field in fields().values():
        if field.kind != "nothing" and field.group != "Changes":
            groups.setdefault(field.group, []).append((field.path, field.label))
    return list(groups.items())


def units() -> Sequence[str]:
    return UNITS[1:]


# --- what it would do ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Effect:
    """A row that would do something, as the page shows it."""

    row: int
    number: str
    added: bool
    changes: Sequence[tuple[str, str, str]]
    """Label, before, after."""


def effects(found: Preview) -> list[Effect]:
    """The rows that would do something, the first of them."""
    doing = [row for row in found.rows if row.does in ("add", "change")]
    return [_effect(row) for row in doing[:MOST_ROWS]]


def _effect(row: RowDoes) -> Effect:
    told_of = [
        (label_of(each.path), _value(each, before=True), _value(each, before=False))
        for each in row.changes
        if row.does != "add" or each.after not in (None, "")
    ]
    return Effect(row.row, row.number, row.does == "add", told_of)


def _value(change: FieldChange, *, before: bool) -> str:
    value: Any = change.before if before else change.after
    return _short(told(value))


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…"
