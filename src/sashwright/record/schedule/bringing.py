"""A schedule looked at beside a house, and brought in: all of it or nothing, as one change."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.models import User

from sashwright.record.edit import Edit, editing
from sashwright.record.errors import Refused
from sashwright.record.models import Change
from sashwright.record.rows import find_house
from sashwright.record.says import count
from sashwright.record.schedule.mapping import Plan
from sashwright.record.schedule.preview import Preview, plan_all
from sashwright.record.schedule.table import Book
from sashwright.window.problem import Problem

_LONGEST_NAME = 60


class NotAsSeen(Exception):  # noqa: N818 - an answer in its own words
    """The house was changed since the preview, and the schedule would now do something else."""

    def __init__(self, preview: Preview) -> None:
        self.preview = preview
        super().__init__("The house was changed meanwhile: look at what the schedule would do now.")


@dataclass(frozen=True, slots=True)
class Brought:
    """What came of it: the change to be undone, none where nothing was new."""

    change: Change | None
    preview: Preview

    @property
    def says(self) -> str:
        return said_of(self.preview)


def preview(slug: str, book: Book, plan: Plan, who: User) -> Preview:
    """What a schedule would do to a house. Writes nothing. Raises ``NotThere``, ``ScheduleError``."""
    # Never finished, so that nothing of it is kept; and without a lock, so that nobody waits for it.
    return plan_all(Edit(find_house(slug), who), book.sheet(plan.sheet), plan)


def bring_in(slug: str, book: Book, plan: Plan, who: User, seen: str | None = None) -> Brought:
    """Have a house take over a schedule, as one change that can be undone.

    ``seen`` is the mark of the preview that was looked at. Raises ``NotThere``, ``ScheduleError`` for a plan
    that makes no schedule, ``NotAsSeen``, and ``Refused`` with all that is wrong, fields named by row and
    cell; and then changes nothing.
    """
    with editing(slug, who) as edit:
        found = plan_all(edit, book.sheet(plan.sheet), plan)
        if seen is not None and seen != found.mark:
            raise NotAsSeen(found)
        if not found.may:
            raise Refused(_problems(found))
        # The rows were looked over together just now.
        change = edit.finish(f"{_named(book.name)} read: {said_of(found)}", check=False)
        return Brought(change, found)


def said_of(found: Preview) -> str:
    """``12 windows added, 3 changed`` of what is or would be done."""
    added, changed = found.count("add"), found.count("change")
    told = [f"{count(added, 'window')} added"] if added else []
    if changed:
        told.append(f"{changed} changed" if added else f"{count(changed, 'window')} changed")
    return ", ".join(told) or "nothing new"


def _named(name: str) -> str:
    short = name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1] + "…"
    return f"schedule {short}"


def _problems(found: Preview) -> list[Problem]:
    problems = []
    for each in found.problems:
        at = f"row {each.row}" + (f", {each.cell}" if each.cell else "")
        named = f" ({each.field})" if each.field else ""
        problems.append(Problem(f"{at}{named}", each.found, each.expected))
    for said in found.elsewhere:
        field, _, rest = said.partition(": found ")
        what, _, expected = rest.partition(", expected ")
        problems.append(Problem(field, what, expected))
    return problems
