"""Step by step back and forth through one person's changes to one family or window."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.models import AnonymousUser, User

from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.history import ChangeRow
from sashwright.record.people import name_of
from sashwright.record.state import Kind


@dataclass(frozen=True, slots=True)
class Steps:
    """The changes that undo and redo would take back; none where there is nothing to do."""

    undo: ChangeRow | None
    redo: ChangeRow | None


def steps_of(slug: str, kind: Kind, key: str, who: User | AnonymousUser) -> Steps:
    if isinstance(who, AnonymousUser):
        # A client with a link has changed nothing.
        return Steps(None, None)
    mine = [
        change
        for change in store.changes(slug, kind, key)
        if change.who == name_of(who) and _only_changes(change, kind)
    ]
    return Steps(_to_undo(mine), _to_redo(mine))


def _only_changes(change: ChangeRow, kind: Kind) -> bool:
    """Whether it changed this one thing; adding or removing it is undone elsewhere."""
    return len(change.revisions) == 1 and change.revisions[0].did == "changed"


def _to_undo(mine: list[ChangeRow]) -> ChangeRow | None:
    ordinary = (change for change in mine if change.undoes == "nothing")
    return next((change for change in ordinary if not change.undone), None)


def _to_redo(mine: list[ChangeRow]) -> ChangeRow | None:
    """The last undoing that still holds, unless something new was done since."""
    for change in mine:
        if change.undone or change.undoes == "an undoing":
            continue
        return change if change.undoes == "a change" else None
    return None


def step(slug: str, kind: Kind, key: str, who: User, way: str) -> str:
    """Take one step; answer what was done, in one sentence."""
    steps = steps_of(slug, kind, key, who)
    change = steps.redo if way == "redo" else steps.undo
    if change is None:
        return f"There is nothing to {'redo' if way == 'redo' else 'undo'} here."
    return take_back(change.id, who)


def take_back(change: int, who: User) -> str:
    """Undo a change, or say why it cannot be undone."""
    try:
        done = store.undo(change, who)
    except Conflict as error:
        return f"Not undone: {error}"
    except (Refused, NotThere) as error:
        return f"Not undone: {error}"
    says = done.says
    return f"{says[:1].upper()}{says[1:]}."
