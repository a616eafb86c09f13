"""Visits to look after a house's windows: who came, what was done, what was found."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import User

from sashwright.chapters.keep.clocks import Visited
from sashwright.record.attached.visit import Done, VisitForm
from sashwright.record.edit import editing
from sashwright.record.errors import NotThere, refused
from sashwright.record.models import Change, Visit
from sashwright.record.rows import find_house, stored
from sashwright.record.saving import save_fields
from sashwright.record.says import count, named
from sashwright.record.state import Document


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A visit in a list; its ``key`` is its number in the house."""

    key: str
    form: VisitForm
    version: int

    @property
    def done(self) -> Sequence[Done]:
        return self.form.done


def visits(slug: str, number: str | None = None) -> list[VisitRow]:
    """All visits to a house, or those that did something at one window; the last day first.

    Raises ``NotThere``.
    """
    rows = Visit.objects.filter(house=find_house(slug), gone=False).order_by("pk")
    found = [VisitRow(row.key, VisitForm.model_validate(row.document), row.version) for row in rows]
    if number is not None:
        found = [each for each in found if any(done.window in (None, number) for done in each.done)]
    return sorted(found, key=lambda each: (each.form.on or "", int(each.key)), reverse=True)


def visited(slug: str) -> list[Visited]:
    """Everything done on visits, as the chapter takes it. Raises ``NotThere``."""
    return [
        Visited(row.form.on, done.what, done.window)
        for row in visits(slug)
        if row.form.on
        for done in row.done
    ]


def add_visit(
    slug: str,
    on: str,
    done: Sequence[Mapping[str, Any]],
    who: User,
    *,
    by: str = "",
    note: str = "",
) -> VisitRow:
    """Note a visit on a day: each thing done as ``what``, with its ``window`` and a ``note``.

    ``what`` is a row of the upkeep table, whose clock it sets, or one's own words. Raises ``NotThere``,
    and ``Refused`` for a visit that did nothing and says nothing, or a window that is not there.
    """
    if not done and not note.strip():
        raise refused("visit", "nothing done and nothing noted", "what was done, or a note")
    document: Document = {
        "on": on, "by": by.strip(), "done": [dict(each) for each in done], "note": note.strip(),
    }  # fmt: skip
    numbers = sorted({str(each["window"]) for each in done if each.get("window") is not None})
    with editing(slug, who) as edit:
        for number in numbers:
            if number not in edit.windows:
                raise NotThere(f"There is no window {number} in this house.")
        row = Visit(key=edit.next_key(Visit))
        edit.attach(row, document)
        at = f" at {named('window', numbers)}" if numbers else ""
        edit.finish(f"visit {on}: {count(len(done), 'thing')} done{at}", check=False)
        return next(each for each in visits(slug) if each.key == row.key)


def change_visit(
    slug: str, key: str, fields: Mapping[str, Any], base_version: int, who: User
) -> VisitRow:
    """Change what is said of a visit. Raises as ``save_fields`` does."""
    save_fields(slug, "visit", key, dict(fields), base_version, who, f"visit {key} changed")
    return next(each for each in visits(slug) if each.key == key)


def remove_visit(slug: str, key: str, who: User) -> Change:
    """Take a visit away; ``undo`` puts it back. Raises ``NotThere``."""
    stored(slug, "visit", key)
    with editing(slug, who) as edit:
        row = edit.attached("visit", key)
        edit.plan(row, None)
        return edit.finish_something(f"visit {key} removed")
