"""One house, family or window saved; what somebody else saved meanwhile is merged or reported."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import User

from sashwright.record.documents import canonical, rewritten, system_of
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import (
    FieldConflict,
    Refused,
    Stored,
    refused,
)
from sashwright.record.history import conflict_over
from sashwright.record.merge import differences, merge, with_fields
from sashwright.record.models import Kept, Window
from sashwright.record.rows import document_at, find_house, find_row, shown
from sashwright.record.says import what_changed
from sashwright.record.state import Document, Kind
from sashwright.record.windows import put_window


def save(
    slug: str,
    kind: Kind,
    key: str,
    document: Mapping[str, Any],
    base_version: int,
    who: User,
    says: str | None = None,
) -> Stored:
    """Keep a document that was made from version ``base_version``; answer what is kept now.

    Where somebody saved a later version, the changes of both to different fields are merged. Raises
    ``Conflict`` where both changed the same field differently, ``Refused`` where the document or what
    it would make of the house is wrong, ``NotThere``; and then changes nothing.
    """
    with editing(slug, who) as edit:
        row = edit.row(kind, key)
        # A house that changes its units is written in the new ones.
        system = system_of(document) if kind == "house" else edit.system
        mine = canonical(kind, document, system)
        now = rewritten(kind, row.document, system)
        if base_version == row.version:
            _put(edit, row, mine, says or what_changed(_name(row), now, mine))
            return shown(row, system)
        base = rewritten(kind, document_at(row, base_version), system)
        return _save_together(edit, row, base, mine, says)


def _save_together(
    edit: Edit, row: Kept, base: Document, mine: Document, says: str | None
) -> Stored:
    """Keep what was made from ``base`` beside what is kept now."""
    kind, system = row.kind, system_of(mine) if row.kind == "house" else edit.system
    now = rewritten(kind, row.document, system)
    together = _merged(row, base, mine, now)
    try:
        together = canonical(kind, together, system)
        _put(edit, row, together, says or what_changed(_name(row), now, together))
    except Refused:
        _plan(edit, row, mine)
        _check(edit, row, mine)
        # Right by itself, wrong together with theirs: a person must say which is to count.
        raise conflict_over(row, _all_changed(base, mine, now), now) from None
    return shown(row, system, merged=together != mine)


def save_fields(
    slug: str,
    kind: Kind,
    key: str,
    fields: Mapping[str, Any],
    base_version: int,
    who: User,
    says: str | None = None,
) -> Stored:
    """Keep some fields of what stood in version ``base_version``, named by dotted paths.

    ``None`` takes a value away. A version that never was counts as one of long ago, so that every
    field given is in dispute that is not as it was. Otherwise as ``save``.
    """
    house = find_house(slug)
    row = find_row(house, kind, key)
    base = document_at(row, base_version) or row.document
    document = _with(rewritten(kind, base, system_of(house.document)), fields)
    return save(slug, kind, key, document, base_version, who, says)


def save_later(
    slug: str,
    kind: Kind,
    key: str,
    fields: Mapping[str, Any],
    base_version: int,
    was: Mapping[str, Any],
    who: User,
) -> Stored:
    """As ``save_fields``, for somebody who has changed more since that version, out of reach.

    ``was`` are the fields as that person had changed them before, whether they are kept by now or not: a
    field is in dispute only where it is neither as they saw it nor as they want it.
    """
    with editing(slug, who) as edit:
        row = edit.row(kind, key)
        seen = rewritten(kind, document_at(row, base_version) or row.document, edit.system)
        base = rewritten(kind, _with(seen, was), edit.system)
        mine = canonical(kind, _with(base, fields), edit.system)
        return _save_together(edit, row, base, mine, None)


def _with(document: Document, fields: Mapping[str, Any]) -> Document:
    try:
        return with_fields(document, fields)
    except KeyError as error:
        raise refused(
            error.args[0], "a field inside of a single value", "the whole value"
        ) from None


def _put(edit: Edit, row: Kept, document: Document, says: str) -> None:
    _plan(edit, row, document)
    _check(edit, row, document)
    edit.finish(says, check=False)


def _plan(edit: Edit, row: Kept, document: Document) -> None:
    if isinstance(row, Window):
        put_window(edit, row, document)
    else:
        edit.rewrite(row, document)


def _check(edit: Edit, row: Kept, document: Document) -> None:
    """Refuse what would be wrong, with the row's own fields named from within."""
    name = document["number"] if row.kind == "window" else row.label
    within = "windows" if row.kind == "window" else "families"
    try:
        edit.check()
    except Refused as error:
        raise error.renamed({f"{within}.{name}.": ""}) from None


def _name(row: Kept) -> str:
    return "house" if row.kind == "house" else f"{row.kind} {row.label}"


def _merged(row: Kept, base: Document, mine: Document, now: Document) -> Document:
    merged, conflicts = merge(base, mine, now)
    if conflicts:
        raise conflict_over(row, conflicts, now)
    return merged


def _all_changed(base: Document, mine: Document, now: Document) -> list[FieldConflict]:
    """Every field that either side changed."""
    ours = {change.path: change for change in differences(base, mine)}
    others = {change.path: change for change in differences(base, now)}
    fields = []
    for path in {**ours, **others}:
        before = (ours.get(path) or others[path]).before
        sides = (side[path].after if path in side else before for side in (ours, others))
        fields.append(FieldConflict(path, before, *sides))
    return fields
