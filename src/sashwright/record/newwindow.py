"""A family and its first window, added together as one change."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import User

from sashwright.record.documents import canonical
from sashwright.record.edit import editing
from sashwright.record.errors import Refused, Stored
from sashwright.record.families import refuse_bad_key
from sashwright.record.rows import shown


def add_family_with_window(
    slug: str, key: str, family: Mapping[str, Any], window: Mapping[str, Any], who: User
) -> tuple[Stored, Stored]:
    """Add a family and a window of it, both or neither; one ``undo`` takes both away.

    Raises ``NotThere``, and ``Refused`` with the family's fields as they are, its key as ``key``, and the
    window's as ``window.number``.
    """
    with editing(slug, who) as edit:
        refuse_bad_key(key)
        made = edit.add_family(key, canonical("family", family, edit.system))
        try:
            document = canonical("window", {**window, "family": key}, edit.system)
        except Refused as error:
            raise error.renamed({"": "window."}) from None
        number = document["number"]
        hung = edit.add_window(document)
        try:
            edit.finish(f"family {key} and window {number} added")
        except Refused as error:
            raise error.renamed(
                {
                    f"families.{key}.": "",
                    f"families.{key}": "key",
                    f"windows.{number}.": "window.",
                }
            ) from None
        return shown(made, edit.system), shown(hung, edit.system)
