"""Families added, renamed, removed; and walls renamed, which windows name in the same way."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import User
from pydantic import TypeAdapter, ValidationError

from sashwright.record.documents import canonical
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import NotThere, Refused, Stored, refused
from sashwright.record.models import Change, Family
from sashwright.record.rows import find_house, shown
from sashwright.record.says import named
from sashwright.record.state import State
from sashwright.window import spec
from sashwright.window.check import problems_of

_KEY: TypeAdapter[str] = TypeAdapter(spec.Key)


def family_keys(slug: str) -> dict[str, str]:
    """Keys of all families in the order of the house, each with its name or nothing.

    Raises ``NotThere``.
    """
    found = Family.objects.filter(house=find_house(slug), gone=False)
    return {key: document.get("name", "") for key, document in found.values_list("key", "document")}


def add_family(slug: str, key: str, document: Mapping[str, Any], who: User) -> Stored:
    """Add a family. Raises ``NotThere``, and ``Refused`` for a key that is taken or a bad field."""
    with editing(slug, who) as edit:
        refuse_bad_key(key)
        row = edit.add_family(key, canonical("family", document, edit.system))
        _finish(edit, key, f"family {key} added")
        return shown(row, edit.system)


def rename_family(slug: str, old: str, new: str, who: User) -> Stored:
    """Give a family another key, and its windows with it. Raises ``NotThere``, ``Refused``."""
    with editing(slug, who) as edit:
        refuse_bad_key(new)
        row = edit.family(old)
        edit.plan(row, State(row.document, new, row.order))
        rename_in_windows(edit, "family", old, new)
        _finish(edit, new, f"family {old} renamed {new}")
        return shown(row, edit.system)


def remove_family(slug: str, key: str, who: User) -> Change:
    """Take a family away; ``undo`` of the change puts it back.

    Raises ``NotThere``, and ``Refused`` while windows use it.
    """
    with editing(slug, who) as edit:
        row = edit.family(key)
        users = [n for n, window in edit.windows.items() if window.document["family"] == key]
        if users:
            raise refused(f"families.{key}", f"used by {named('window', users)}", "no window of it")
        edit.plan(row, None)
        return edit.finish_something(f"family {key} removed")


def rename_wall(slug: str, old: str, new: str, who: User) -> Stored:
    """Give a wall another name, in its windows too. Raises ``NotThere``, ``Refused``."""
    with editing(slug, who) as edit:
        walls = edit.house.document["walls"]
        if old not in walls:
            raise NotThere(f"There is no wall {old} in this house.")
        refuse_bad_key(new)
        if new in walls and new != old:
            raise refused("walls", repr(new), "a name no other wall has")
        renamed = {new if key == old else key: wall for key, wall in walls.items()}
        edit.rewrite(edit.house, {**edit.house.document, "walls": renamed})
        rename_in_windows(edit, "wall", old, new)
        edit.finish(f"wall {old} renamed {new}")
        return shown(edit.house, edit.system)


def rename_in_windows(edit: Edit, field: str, old: str, new: str) -> None:
    """Carry a new name into the windows that have the old one in ``field``."""
    for row in edit.windows.values():
        if row.document[field] == old:
            edit.rewrite(row, {**row.document, field: new})


def _finish(edit: Edit, key: str, says: str) -> None:
    try:
        edit.finish(says)
    except Refused as error:
        raise error.renamed({f"families.{key}.": "", f"families.{key}": "key"}) from None


def refuse_bad_key(key: str) -> None:
    """Raises ``Refused`` for what can be no key."""
    try:
        _KEY.validate_python(key)
    except ValidationError as error:
        raise Refused(problems_of(error)).renamed({"house": "key"}) from None
