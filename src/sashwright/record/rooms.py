"""Rooms renamed, with the windows that stand in them and the doors that join them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import User

from sashwright.record.edit import editing
from sashwright.record.errors import NotThere, Stored, refused
from sashwright.record.families import refuse_bad_key, rename_in_windows
from sashwright.record.rows import shown


def rename_room(slug: str, old: str, new: str, who: User) -> Stored:
    """Give a room another name, in its windows and doors too: one change.

    Windows that have the new name already, without a room of the plan, then stand in it. Raises ``NotThere``,
    ``Refused``.
    """
    with editing(slug, who) as edit:
        rooms = edit.house.document.get("rooms", {})
        if old not in rooms:
            raise NotThere(f"There is no room {old} in this house.")
        refuse_bad_key(new)
        if new in rooms and new != old:
            raise refused("rooms", repr(new), "a name no other room has")
        renamed = {new if key == old else key: room for key, room in rooms.items()}
        doors = [_renamed(door, old, new) for door in edit.house.document.get("doors", ())]
        edit.rewrite(edit.house, {**edit.house.document, "rooms": renamed, "doors": doors})
        rename_in_windows(edit, "room", old, new)
        edit.finish(f"room {old} renamed {new}")
        return shown(edit.house, edit.system)


def _renamed(door: Mapping[str, Any], old: str, new: str) -> dict[str, Any]:
    return {**door, "between": [new if each == old else each for each in door["between"]]}
