"""A change taken back, by a new change, so that nothing that ever was is lost."""

from __future__ import annotations

from dataclasses import replace

from django.contrib.auth.models import User
from django.db import transaction

from sashwright.record.edit import Edit
from sashwright.record.errors import Conflict, FieldConflict, NotThere, name_of_kept, refused
from sashwright.record.history import conflict_over, find_row_of, in_units
from sashwright.record.merge import differences, merge
from sashwright.record.models import Change, House, Kept, Revision
from sashwright.record.state import State

_UNDID, _DID_AGAIN = "undid: ", "did again: "


def undo(change_id: int, who: User) -> Change:
    """Put back what a change replaced; answer the new change that does so.

    What others changed since in other fields stays. To undo an undoing does the first change again.
    Raises ``Conflict`` where the same field was changed since, ``Refused`` where it is undone already
    or the house would contradict itself, ``NotThere``; and then changes nothing.
    """
    with transaction.atomic():
        change = _find(change_id)
        edit = Edit(House.objects.select_for_update().get(pk=change.house_id), who)
        # Read again, for somebody else may have undone it while the house was waited for.
        change.refresh_from_db()
        revisions = list(change.revisions.all())
        _refuse_out_of_force(change, edit.house, revisions)
        for revision in reversed(revisions):
            _take_back(edit, revision)
        fresh = edit.finish_something(_says(change))
        _mark(fresh, change)
        return fresh


def _find(change_id: int) -> Change:
    change = Change.objects.filter(pk=change_id).first()
    if change is None:
        raise NotThere(f"There is no change {change_id}.")
    return change


def _refuse_out_of_force(change: Change, house: House, revisions: list[Revision]) -> None:
    if change.undone:
        raise refused("change", "one that is undone already", "one that is in force")
    if house.gone and not any(revision.kind == "house" for revision in revisions):
        raise NotThere(f"The house {house.slug} has been removed; put it back first.")


def _says(change: Change) -> str:
    """The sentence of the first change, however often it was undone and done again."""
    first = change.says.removeprefix(_UNDID).removeprefix(_DID_AGAIN)
    again = change.undoes_id is not None and change.says.startswith(_UNDID)
    return f"{_DID_AGAIN if again else _UNDID}{first}"


def _mark(fresh: Change, change: Change) -> None:
    """Note what is in force now, down the whole chain of undoing and doing again."""
    fresh.undoes = change
    fresh.save(update_fields=["undoes"])
    undone, link = True, change
    while True:
        link.undone = undone
        link.save(update_fields=["undone"])
        if link.undoes is None:
            return
        undone, link = not undone, link.undoes


def _take_back(edit: Edit, revision: Revision) -> None:
    """Plan a row to be as before the revision, with what was changed since."""
    row = edit.known(revision.kind, revision.row) or find_row_of(revision)
    states = (revision.state_before, revision.state_after, row.state)
    before, after, now = (in_units(row.kind, state, edit.system) for state in states)
    if now == after:
        edit.plan(row, before)
    elif after is None:
        # What was removed is back already, by another way.
        return
    elif before is None:
        if now is not None:
            raise _conflict(row, _later(after, now), now)
    else:
        edit.plan(row, _merged(row, before, after, now))


def _merged(row: Kept, before: State, after: State, now: State | None) -> State:
    if now is None:
        name = name_of_kept(row.kind, row.label)
        raise NotThere(f"{name} has been removed since; put it back first.")
    merged, conflicts = merge(after.to_json(), before.to_json(), now.to_json())
    # Nobody minds in which place a window stands as much as to be asked about it.
    conflicts = [conflict for conflict in conflicts if conflict.path != "order"]
    if conflicts:
        raise _conflict(row, conflicts, now)
    return State(**merged)


def _later(after: State, now: State) -> list[FieldConflict]:
    """Fields changed since a row was added, which would be lost if it went."""
    return [
        FieldConflict(change.path, change.before, None, change.after)
        for change in differences(after.document, now.document)
    ]


def _conflict(row: Kept, conflicts: list[FieldConflict], now: State) -> Conflict:
    fields = [replace(field, path=field.path.removeprefix("document.")) for field in conflicts]
    return conflict_over(row, fields, now.document)
