"""What was changed, by whom and when, and compared field by field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Literal

from django.db.models import Prefetch, Q, QuerySet

from sashwright.record.documents import rewritten, system_of
from sashwright.record.errors import Conflict, FieldConflict, NotThere, Stored
from sashwright.record.merge import FieldChange, differences
from sashwright.record.models import ATTACHED, TABLES, Change, Family, House, Kept, Revision, Window
from sashwright.record.people import name_of
from sashwright.record.state import Document, Kind, State
from sashwright.units import System

Did = Literal["added", "changed", "removed"]
Undoes = Literal["nothing", "a change", "an undoing"]
"""What a change takes back; to take back an undoing is to do the first change again."""
_DID: dict[tuple[bool, bool], Did] = {
    (False, False): "changed",
    (True, False): "added",
    (False, True): "removed",
}


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """What a change did to one kept row; ``id`` is for ``compare``."""

    id: int
    kind: str
    key: str
    version: int
    did: Did


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change in a list."""

    id: int
    when: datetime
    who: str
    says: str
    undone: bool
    undoes: Undoes
    revisions: tuple[RevisionRow, ...]


# --- looked at --------------------------------------------------------------------


def changes(
    slug: str, kind: Kind | None = None, key: str | None = None, limit: int = 100
) -> list[ChangeRow]:
    """The latest changes of a house, or of one thing in it, the newest first.

    A family or window is meant by what it is called, or was called when none is called so now; its
    changes under other names belong to it. Works for a removed house too. Raises ``NotThere``.
    """
    house = House.objects.filter(slug=slug).first()
    if house is None:
        raise NotThere(f"There is no house {slug}.")
    found = Change.objects.filter(house=house)
    if kind is not None:
        found = _about(found, house, kind, key)
    return _change_rows(found[:limit])


def change_count(slug: str) -> int:
    """How often a house was changed: the number of its edition."""
    return Change.objects.filter(house__slug=slug).count()


def change(slug: str, change_id: int) -> ChangeRow:
    """One change of a house, removed or not. Raises ``NotThere``."""
    found = _change_rows(Change.objects.filter(house__slug=slug, pk=change_id))
    if not found:
        raise NotThere(f"There is no change {change_id} in this house.")
    return found[0]


def _change_rows(found: QuerySet[Change]) -> list[ChangeRow]:
    # Without the documents themselves, of which an import has hundreds.
    revisions = Revision.objects.defer("before", "after").annotate(
        adds=Q(before__isnull=True), removes=Q(after__isnull=True)
    )
    rows = list(found.select_related("who").prefetch_related(Prefetch("revisions", revisions)))
    undoings = _undoings(rows)
    return [_change_row(change, undoings) for change in rows]


def _undoings(rows: Sequence[Change]) -> dict[int, int]:
    """All changes of the house that take another back, and which; nothing where none of these does."""
    house = next((row.house_id for row in rows if row.undoes_id is not None), None)
    if house is None:
        return {}
    found = Change.objects.filter(house=house, undoes__isnull=False).order_by()
    return {pk: undone for pk, undone in found.values_list("pk", "undoes") if undone is not None}


def _undoes(change_id: int, undoings: Mapping[int, int]) -> Undoes:
    if change_id not in undoings:
        return "nothing"
    steps = 0
    while change_id in undoings:
        change_id, steps = undoings[change_id], steps + 1
    return "a change" if steps % 2 else "an undoing"


def _about(found: QuerySet[Change], house: House, kind: Kind, key: str | None) -> QuerySet[Change]:
    revisions = Revision.objects.filter(kind=kind, change__house=house)
    if key is not None and kind != "house":
        revisions = revisions.filter(row=_identity(house, kind, key))
    return found.filter(pk__in=revisions.values("change"))


def _identity(house: House, kind: Kind, key: str) -> int:
    """The row of this name, or else the last one that had it."""
    rows: QuerySet[Any]
    if kind == "window":
        rows = Window.objects.filter(house=house, number=key, gone=False)
    else:
        table = Family if kind == "family" else ATTACHED[kind]
        rows = table._default_manager.filter(house=house, key=key, gone=False)
    once = Revision.objects.filter(change__house=house, kind=kind, key=key).order_by("-pk")
    found = rows.values_list("pk", flat=True).first() or once.values_list("row", flat=True).first()
    if found is None:
        raise NotThere(f"There is and was no {kind} {key} in this house.")
    return found


def _change_row(change: Change, undoings: Mapping[int, int]) -> ChangeRow:
    return ChangeRow(
        change.pk,
        change.at,
        name_of(change.who),
        change.says,
        change.undone,
        _undoes(change.pk, undoings),
        tuple(_revision_row(revision) for revision in change.revisions.all()),
    )


def _revision_row(revision: Any) -> RevisionRow:
    did = _DID[bool(revision.adds), bool(revision.removes)]
    return RevisionRow(revision.pk, revision.kind, revision.key, revision.version, did)


def compare(revision_id: int) -> list[FieldChange]:
    """What a revision changed, field by field, in the units of the house. Raises ``NotThere``."""
    revision = Revision.objects.select_related("change__house").filter(pk=revision_id).first()
    if revision is None:
        raise NotThere(f"There is no revision {revision_id}.")
    kind, system = TABLES[revision.kind].kind, system_of(revision.change.house.document)
    before = in_units(kind, revision.state_before, system) or State({})
    after = in_units(kind, revision.state_after, system) or State({})
    keys = [FieldChange("key", before.key or None, after.key or None)]
    renamed = keys if before.key != after.key else []
    changed = [*renamed, *differences(before.document, after.document)]
    return [_by_number(each) for each in changed] if kind == "photo" else changed


def _by_number(change: FieldChange) -> FieldChange:
    """The window that a photograph shows by its number, which is what people know."""
    if change.path != "window":
        return change
    numbers = dict(Window.objects.filter(pk__in=_known(change)).values_list("pk", "number"))
    return replace(change, before=numbers.get(change.before), after=numbers.get(change.after))


def _known(change: FieldChange) -> list[int]:
    return [each for each in (change.before, change.after) if each is not None]


def in_units(kind: Kind, state: State | None, system: System) -> State | None:
    """A state with its document in other units, to be compared with another."""
    return state and replace(state, document=rewritten(kind, state.document, system))


def conflict_over(row: Kept, fields: list[FieldConflict], document: Document) -> Conflict:
    """The conflict with whoever changed a row last; ``document`` is what it says now."""
    revisions = Revision.objects.select_related("change__who")
    last = revisions.get(kind=row.kind, row=row.pk, version=row.version).change
    theirs = Stored(row.kind, row.label, document, row.version)
    return Conflict(theirs, name_of(last.who), last.at, fields)


def find_row_of(revision: Revision) -> Kept:
    """The row that a revision is about, there or gone."""
    return TABLES[revision.kind]._default_manager.get(pk=revision.row)
